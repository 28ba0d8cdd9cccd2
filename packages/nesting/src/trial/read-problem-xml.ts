import { type Point, polygonRing, type Ring, ringBounds } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { type SaxesAttributePlain, SaxesParser, type SaxesTagPlain } from 'saxes';
import { problemLine } from '../diagnostics.js';
import {
  boardProblem,
  type LayoutProblem,
  type ProblemItem,
  problemFaults,
  stripProblem,
} from './problem.js';

interface Piece {
  readonly id: string;
  readonly line: number;
  quantity: number;
  readonly degrees: number[];
  polygon: string | undefined;
}

interface Segment {
  readonly n: number;
  readonly from: Point;
  readonly to: Point;
}

interface Polygon {
  readonly line: number;
  readonly segments: Segment[];
}

type Attributes = Readonly<Record<string, string | SaxesAttributePlain>>;

/** Collects what the form has: boards, the lot of pieces, and polygons of numbered segments. */
class Collector {
  name = '';
  readonly boards: Piece[] = [];
  readonly lot: Piece[] = [];
  readonly polygons = new Map<string, Polygon>();
  readonly problems: Diagnostic[] = [];
  private readonly open: string[] = [];
  private piece: Piece | undefined;
  private polygon: Polygon | undefined;
  constructor(
    private readonly file: string,
    private readonly lineNow: () => number,
  ) {}

  refuse(what: string, line = this.lineNow()): void {
    this.problems.push(problemLine(this.file, line, what));
  }

  private number(a: Attributes, name: string, tag: string): number {
    const v = Number(a[name]);
    if (typeof a[name] === 'string' && (a[name] as string).trim() !== '' && Number.isFinite(v)) return v;
    this.refuse(`<${tag}> has no number ${name}`);
    return 0;
  }

  private text(a: Attributes, name: string, tag: string): string {
    const v = a[name];
    if (typeof v === 'string' && v !== '') return v;
    this.refuse(`<${tag}> has no ${name}`);
    return '';
  }

  opened(tag: SaxesTagPlain): void {
    const { name, attributes: a } = tag;
    this.open.push(name);
    if (name === 'piece') {
      this.piece = {
        id: this.text(a, 'id', name),
        line: this.lineNow(),
        quantity: 1,
        degrees: [],
        polygon: undefined,
      };
      if (a.quantity !== undefined) this.piece.quantity = this.number(a, 'quantity', name);
      if (!(Number.isInteger(this.piece.quantity) && this.piece.quantity >= 0))
        this.refuse(`<piece> ${this.piece.id} has the quantity ${this.piece.quantity}`);
      (this.open.includes('boards') ? this.boards : this.lot).push(this.piece);
    } else if (name === 'enumeration' && this.piece) this.piece.degrees.push(this.number(a, 'angle', name));
    else if (name === 'component' && this.piece) this.component(a);
    else if (name === 'polygon' && this.open.includes('polygons')) {
      this.polygon = { line: this.lineNow(), segments: [] };
      const id = this.text(a, 'id', name);
      if (this.polygons.has(id)) this.refuse(`a second <polygon> ${id}`);
      this.polygons.set(id, this.polygon);
    } else if (name === 'segment' && this.polygon) {
      const at = (x: string, y: string): Point => ({
        x: this.number(a, x, name),
        y: this.number(a, y, name),
      });
      const n = a.n === undefined ? this.polygon.segments.length + 1 : this.number(a, 'n', name);
      this.polygon.segments.push({ n, from: at('x0', 'y0'), to: at('x1', 'y1') });
    }
  }

  private component(a: Attributes): void {
    const piece = this.piece!;
    if (piece.polygon !== undefined || (a.type !== undefined && a.type !== '0'))
      this.refuse(`<piece> ${piece.id} has more than one plain outline, which is not read here`);
    else piece.polygon = this.text(a, 'idPolygon', 'component');
  }

  said(text: string): void {
    if (this.open.at(-1) === 'name' && this.open.length === 2) this.name += text.trim();
  }

  closed(): void {
    const name = this.open.pop();
    if (name === 'piece') this.piece = undefined;
    if (name === 'polygon') this.polygon = undefined;
  }

  /** The outline of a piece: its segments in order, each starting where the one before ended. */
  outline(piece: Piece): Ring | undefined {
    const polygon = this.polygons.get(piece.polygon ?? '');
    if (!polygon) {
      this.refuse(
        `<piece> ${piece.id} has no <polygon>${piece.polygon ? ` ${piece.polygon}` : ''}`,
        piece.line,
      );
      return undefined;
    }
    const all = [...polygon.segments].sort((p, q) => p.n - q.n);
    const broken = all.find((s, i) => {
      const next = all[(i + 1) % all.length]!;
      return s.to.x !== next.from.x || s.to.y !== next.from.y;
    });
    if (all.length < 3 || broken) {
      this.refuse(
        all.length < 3
          ? `polygon ${piece.polygon} has ${all.length} segments`
          : `polygon ${piece.polygon} is not closed after its segment ${broken!.n}`,
        polygon.line,
      );
      return undefined;
    }
    const corners = all
      .map((s) => s.from)
      .filter((p, i, a) => {
        const q = a[(i + 1) % a.length]!;
        return p.x !== q.x || p.y !== q.y;
      });
    return corners.length < 3 ? undefined : polygonRing(corners);
  }
}

/**
 * A layout problem out of the XML form in which the EURO special interest group on cutting and packing publishes its
 * irregular sets (`<nesting>` with `<problem>`: `<boards>`, `<lot>` of `<piece>`; `<polygons>` of `<segment>`; the
 * form is followed from memory). One board of quantity 1 is a strip as wide as the board is high. No-fit polygons
 * and solutions in the file are passed over. Every fault is named with its line; one fault refuses the file.
 */
export function readProblemXml(text: string, file: string): Outcome<LayoutProblem[]> {
  const parser = new SaxesParser();
  const c = new Collector(file, () => parser.line);
  let broken = false;
  parser.on('error', (e) => {
    if (!broken) c.refuse(`the XML is broken: ${e.message.replace(/^\d+:\d+:\s*/, '')}`);
    broken = true;
  });
  parser.on('opentag', (t) => c.opened(t));
  parser.on('text', (t) => c.said(t));
  parser.on('closetag', () => c.closed());
  parser.write(text).close();
  if (c.problems.length === 0 && c.lot.length === 0) c.refuse('no <piece> in a <lot>', 1);
  if (c.problems.length === 0 && c.boards.length === 0) c.refuse('no <piece> in <boards>', 1);
  if (c.problems.length > 0) return fail(...c.problems);
  const items = c.lot
    .filter((p) => p.quantity > 0)
    .flatMap((p): ProblemItem[] => {
      const outline = c.outline(p);
      const turns = (p.degrees.length === 0 ? [0] : p.degrees).map((d) => (d * Math.PI) / 180);
      return outline
        ? [{ id: /^\d+$/.test(p.id) ? `item${p.id}` : p.id, demand: p.quantity, outline, turns }]
        : [];
    });
  const boards = c.boards.flatMap((p) => {
    const outline = c.outline(p);
    if (!outline) return [];
    const b = ringBounds(outline);
    if (outline.vertices.length !== 4) c.refuse(`board ${p.id} is no rectangle`, p.line);
    return [{ width: b.maxX - b.minX, height: b.maxY - b.minY, stock: p.quantity }];
  });
  if (c.problems.length === 0)
    c.problems.push(...problemFaults(items).map((d) => ({ ...d, locus: { ...d.locus, file } })));
  if (c.problems.length > 0) return fail(...c.problems);
  const name = c.name === '' ? file.replace(/^.*\//, '').replace(/\.xml$/i, '') : c.name;
  const facts = { name, source: file };
  const strip = boards.length === 1 && boards[0]!.stock <= 1;
  return ok([strip ? stripProblem(facts, boards[0]!.height, items) : boardProblem(facts, boards, items)]);
}
