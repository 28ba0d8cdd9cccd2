import { clockwise, polygonRing, type Ring } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { problemField } from '../diagnostics.js';
import {
  boardProblem,
  type KnownBest,
  type LayoutProblem,
  type ProblemBoard,
  type ProblemItem,
  problemFaults,
  stripProblem,
} from './problem.js';

/** Turns that stand for 'any turn' where a strategy takes a list. */
export const SAMPLED_TURNS = 72;

type Json = Readonly<Record<string, unknown>>;

const isObject = (v: unknown): v is Json => typeof v === 'object' && v !== null && !Array.isArray(v);
const isNumber = (v: unknown): v is number => typeof v === 'number' && Number.isFinite(v);

/** Reads one value of the file and says where it is when it is not what it should be. */
class Reader {
  readonly problems: Diagnostic[] = [];
  constructor(readonly file: string) {}
  refuse(path: string, wanted: string): void {
    this.problems.push(problemField(this.file, path, wanted));
  }
  positive(v: unknown, path: string): number {
    if (isNumber(v) && v > 0) return v;
    this.refuse(path, 'a number above 0');
    return 1;
  }
}

/** A quarter turn as exactly that: the cosine of a rounded right angle is not 0. */
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function turnsOf(r: Reader, v: unknown, path: string): { turns: number[]; sampled: boolean } {
  if (v === 'continuous')
    return {
      turns: Array.from({ length: SAMPLED_TURNS }, (_, i) => radians((360 / SAMPLED_TURNS) * i)),
      sampled: true,
    };
  if (Array.isArray(v) && v.length > 0 && v.every(isNumber)) return { turns: v.map(radians), sampled: false };
  r.refuse(path, "a list of turns in degrees, or 'continuous'");
  return { turns: [0], sampled: false };
}

function outlineOf(r: Reader, v: unknown, path: string): Ring {
  const corners = Array.isArray(v) ? v : [];
  const good = corners.every((c) => Array.isArray(c) && c.length === 2 && c.every(isNumber));
  if (good && corners.length >= 3)
    return polygonRing((corners as [number, number][]).map(([x, y]) => ({ x, y })));
  r.refuse(path, 'a list of at least three corners [x, y]');
  return polygonRing([
    { x: 0, y: 0 },
    { x: 1, y: 0 },
    { x: 0, y: 1 },
  ]);
}

function itemOf(r: Reader, v: unknown, path: string, index: number): { item: ProblemItem; sampled: boolean } {
  const j = isObject(v) ? v : {};
  const { turns, sampled } = turnsOf(r, j.rotations, `${path}.rotations`);
  const demand = j.demand ?? 1;
  if (!(Number.isInteger(demand) && (demand as number) >= 1))
    r.refuse(`${path}.demand`, 'a whole number from 1');
  const id = typeof j.id === 'string' && j.id !== '' ? j.id : `${index}`;
  return {
    item: {
      // Ids that look like whole numbers change their order as keys of an object.
      id: /^\d+$/.test(id) ? `item${id}` : id,
      demand: Number.isInteger(demand) ? Math.max(1, demand as number) : 1,
      outline: outlineOf(r, j.polygon, `${path}.polygon`),
      ...(Array.isArray(j.holes) && j.holes.length > 0
        ? { holes: j.holes.map((h, k) => clockwise(outlineOf(r, h, `${path}.holes[${k}]`))) }
        : {}),
      turns,
    },
    sampled,
  };
}

function boardOf(r: Reader, v: unknown, path: string): ProblemBoard {
  const j = isObject(v) ? v : {};
  const size = {
    width: r.positive(j.width, `${path}.width`),
    height: r.positive(j.height, `${path}.height`),
  };
  if (j.stock === undefined || j.stock === null) return size;
  if (Number.isInteger(j.stock) && (j.stock as number) >= 1) return { ...size, stock: j.stock as number };
  r.refuse(`${path}.stock`, 'a whole number from 1, or null');
  return size;
}

function knownOf(v: unknown, strip: boolean): KnownBest | undefined {
  if (!isObject(v)) return undefined;
  const source = typeof v.by === 'string' ? v.by : 'the file';
  if (strip) return isNumber(v.density) ? { density: v.density, proved: true, source } : undefined;
  return isNumber(v.bins) ? { boards: v.bins, proved: true, source } : undefined;
}

function problemOf(r: Reader, v: unknown, path: string, fallback: string): LayoutProblem | undefined {
  if (!isObject(v)) {
    r.refuse(path, 'an object with name, items, and stripHeight or bins');
    return undefined;
  }
  const at = (field: string): string => (path === '' ? field : `${path}.${field}`);
  const name = typeof v.name === 'string' && v.name !== '' ? v.name : fallback;
  if (!Array.isArray(v.items)) r.refuse(at('items'), 'a list of items');
  const read = (Array.isArray(v.items) ? v.items : []).map((i, k) => itemOf(r, i, at(`items[${k}]`), k));
  const items = read.map((x) => x.item);
  const bins = Array.isArray(v.bins) ? v.bins.map((b, k) => boardOf(r, b, at(`bins[${k}]`))) : [];
  // A strip of one kind of board without a stock is a strip; several kinds, or a stock, mean boards.
  const strip =
    v.stripHeight !== undefined && (bins.length === 0 || (bins.length === 1 && bins[0]!.stock === undefined));
  const width = strip ? r.positive(v.stripHeight, at('stripHeight')) : 0;
  if (!strip && bins.length === 0) r.refuse(at('stripHeight'), 'a strip width, or bins');
  if (r.problems.length > 0) return undefined;
  r.problems.push(
    ...problemFaults(items).map((d) => ({ ...d, locus: { ...d.locus, file: r.file, path: at('items') } })),
  );
  if (r.problems.length > 0) return undefined;
  const known = knownOf(v.knownOptimum, strip);
  const facts = {
    name,
    source: typeof v.source === 'string' ? v.source : r.file,
    notes: read.some((x) => x.sampled) ? [`any turn is allowed; ${SAMPLED_TURNS} turns are offered`] : [],
    ...(known ? { known } : {}),
  };
  return strip ? stripProblem(facts, width, items) : boardProblem(facts, bins, items);
}

/**
 * Layout problems out of a JSON text: one object `{name, source, stripHeight | bins: [{width, height, stock}],
 * items: [{id, demand, rotations: [degrees] | "continuous", polygon: [[x, y] …], holes?: [[[x, y] …] …]}], knownOptimum?}`, or a list of
 * them. Outlines are polygons in the problem's unit. Every fault is named with its place; one fault refuses the file.
 */
export function readProblems(text: string, file: string): Outcome<LayoutProblem[]> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (e) {
    return fail(problemField(file, '', `JSON (${(e as Error).message})`));
  }
  const stem = file.replace(/^.*\//, '').replace(/(?:\.pack)?\.json$/, '');
  const reader = new Reader(file);
  const list = Array.isArray(json) ? json : [json];
  const problems = list.map((v, i) =>
    problemOf(reader, v, Array.isArray(json) ? `[${i}]` : '', list.length > 1 ? `${stem}-${i + 1}` : stem),
  );
  if (list.length === 0) reader.refuse('', 'at least one problem');
  return reader.problems.length > 0 ? fail(...reader.problems) : ok(problems as LayoutProblem[]);
}
