import type { Diagnostic } from '@haunch/model';
import {
  badSvgNumber,
  badTransform,
  badViewBox,
  type SvgTallyReason,
  svgLimit,
  svgTally,
  useMissing,
  useRecursion,
} from '../diagnostics.js';
import { type Affine, compose, growth, isFiniteMap, mapPoint, mapVector, translation } from './affine.js';
import { type CurveRun, mapRun } from './curve-run.js';
import type { DrawnShape, DrawnWords } from './drawn-matter.js';
import { chosen, contains, hrefOf, idOfFragment, lettering } from './element-content.js';
import { elementsOf, innerText, type SvgElement } from './element-tree.js';
import { LARGEST, numberAt, skipComma } from './numbers.js';
import { INITIAL_PAINT, type OwnPaint, type Paint, paintOf } from './paint.js';
import { lengthOf, type Measure, refOf, runsOfShape, SHAPES } from './shape-runs.js';
import { readStyleSheets, StyleFinder } from './style-rules.js';
import { readTransformList } from './transform-list.js';
import { readViewBox, viewBoxMap } from './view-box.js';

/** Elements that are visited, copies by `use` counted each time, and curves that they may have. */
const MOST_VISITS = 400_000;
const MOST_CURVES = 2_000_000;
/** Parts of selectors that are held against elements before the style sheet counts as an attack. */
const MOST_TRIES = 10_000_000;
/** Elements and copies inside each other. */
const DEEPEST_USE = 300;
const ENOUGH_ERRORS = 20;

/** What holds where an element stands. */
interface Place {
  readonly map: Affine;
  readonly paint: Paint;
  readonly layer: string;
  /** Whether the layer's name is a label, which a group's mere id inside does not displace. */
  readonly labelled: boolean;
  readonly width: number;
  readonly height: number;
  /** The elements that copies are being made of, outermost first. */
  readonly copying: readonly SvgElement[];
  readonly depth: number;
}

/** All that a file draws, and what was said on the way. */
export interface SvgContents {
  readonly shapes: readonly DrawnShape[];
  readonly words: readonly DrawnWords[];
  readonly diagnostics: readonly Diagnostic[];
}

/** Elements that hold others and are drawn with them. */
const GROUPS: ReadonlySet<string> = new Set(['g', 'a']);
/** Elements whose contents are painted only by reference and are nothing to cut. */
const BY_REFERENCE: ReadonlySet<string> = new Set(['clipPath', 'mask', 'pattern', 'marker']);
/** Elements that draw nothing themselves: descriptions, definitions, paint servers, movement. */
const SILENT: ReadonlySet<string> = new Set([
  'title',
  'desc',
  'metadata',
  'defs',
  'symbol',
  'style',
  'script',
  'linearGradient',
  'radialGradient',
  'stop',
  'filter',
  'animate',
  'animateMotion',
  'animateTransform',
  'set',
  'mpath',
  'view',
  'cursor',
  'font',
  'font-face',
  'color-profile',
  'discard',
  ...BY_REFERENCE,
]);

/** Thrown to leave the walk when a limit is reached; caught at its door. */
class LimitReached extends Error {}

/** Walks the tree of an SVG file and gathers what it draws, `view.map` applied to all. Never throws. */
export function walkElements(
  root: SvgElement,
  file: string,
  view: { readonly map: Affine; readonly width: number; readonly height: number },
): SvgContents {
  const walk = new Walk(root, file);
  try {
    walk.contents(root, {
      map: view.map,
      paint: INITIAL_PAINT,
      layer: '0',
      labelled: false,
      width: view.width,
      height: view.height,
      copying: [],
      depth: 0,
    });
  } catch (e) {
    if (!(e instanceof LimitReached)) throw e;
  }
  return { shapes: walk.shapes, words: walk.words, diagnostics: walk.diagnostics() };
}

interface Count {
  count: number;
  readonly first: SvgElement;
}

class Walk {
  readonly shapes: DrawnShape[] = [];
  readonly words: DrawnWords[] = [];
  readonly #said: Diagnostic[] = [];
  readonly #tally = new Map<string, { reason: SvgTallyReason; type: string; count: Count }>();
  readonly #byId = new Map<string, SvgElement>();
  readonly #styles: StyleFinder;
  readonly #runs = new Map<SvgElement, readonly CurveRun[] | null>();
  readonly #file: string;
  #errors = 0;
  #visits = 0;
  #curves = 0;

  constructor(root: SvgElement, file: string) {
    this.#file = file;
    const sheets: string[] = [];
    const stack = [root];
    for (let e = stack.pop(); e !== undefined; e = stack.pop()) {
      const id = e.attributes.get('id');
      if (id !== undefined && !this.#byId.has(id)) this.#byId.set(id, e);
      const media = e.attributes.get('media')?.trim() ?? 'all';
      if (e.name === 'style' && /^(?:|all|screen)$/i.test(media)) sheets.push(innerText(e));
      const inside = elementsOf(e);
      if (BY_REFERENCE.has(e.name) && inside.length > 0) this.#count('by reference', e.name, e);
      for (let i = inside.length - 1; i >= 0; i--) stack.push(inside[i]!);
    }
    const sheet = readStyleSheets(sheets);
    this.#styles = new StyleFinder(sheet, MOST_TRIES);
    if (sheet.unread > 0) {
      this.#count('style', 'style rule', root);
      this.#tally.get('style|style rule')!.count.count = sheet.unread;
    }
  }

  diagnostics(): readonly Diagnostic[] {
    const counted = [...this.#tally.values()].map(({ reason, type, count }) =>
      svgTally(this.#file, reason, type, { count: count.count, first: refOf(count.first) }),
    );
    return [...this.#said, ...counted];
  }

  #count(reason: SvgTallyReason, type: string, e: SvgElement): void {
    const key = `${reason}|${type}`;
    const known = this.#tally.get(key);
    if (known === undefined) this.#tally.set(key, { reason, type, count: { count: 1, first: e } });
    else known.count.count++;
  }

  readonly #report = (d: Diagnostic): void => {
    if (d.level === 'error') {
      this.#errors++;
      if (this.#errors > ENOUGH_ERRORS) throw new LimitReached();
    }
    this.#said.push(d);
  };

  #limit(e: SvgElement, what: string): never {
    this.#said.push(svgLimit(this.#file, refOf(e), what));
    throw new LimitReached();
  }

  #measure(p: Place): Measure {
    return {
      file: this.#file,
      width: p.width,
      height: p.height,
      font: p.paint.fontSize,
      report: this.#report,
    };
  }

  contents(e: SvgElement, place: Place): void {
    // The root's own transform is SVG 2; its map from view box to page is the caller's.
    const own = this.#enter(e, place);
    if (own !== null) for (const child of elementsOf(e)) this.#visit(child, own);
  }

  /** The place inside an element: its paint and transform applied. Null where it is not drawn, which is counted. */
  #enter(e: SvgElement, place: Place): Place | null {
    if (++this.#visits > MOST_VISITS)
      this.#limit(e, `more than ${MOST_VISITS} elements are drawn, copies counted`);
    if (place.depth > DEEPEST_USE)
      this.#limit(e, `elements and copies lie more than ${DEEPEST_USE} deep in each other`);
    const found: OwnPaint = paintOf(e, this.#styles.declarationsOf(e), place.paint);
    if (this.#styles.exhausted) this.#limit(e, 'its style rules pick from far too many elements');
    if (found.hidden) {
      this.#count('hidden', 'element', e);
      return null;
    }
    if (found.clipped) this.#count('clipped', e.name, e);
    let { map } = place;
    const text = e.attributes.get('transform');
    if (text !== undefined) {
      const own = readTransformList(text);
      if (own === null) {
        this.#report(badTransform(this.#file, refOf(e), e.name, text));
        return null;
      }
      map = compose(map, own);
      if (!isFiniteMap(map)) {
        this.#report(badTransform(this.#file, refOf(e), e.name, text));
        return null;
      }
    }
    return { ...place, map, paint: found.paint, depth: place.depth + 1 };
  }

  #visit(e: SvgElement, place: Place): void {
    if (SILENT.has(e.name)) return;
    const drawn =
      SHAPES.has(e.name) || GROUPS.has(e.name) || ['svg', 'use', 'switch', 'text'].includes(e.name);
    if (!drawn) {
      this.#count('not read', e.name, e);
      return;
    }
    const inside = this.#enter(e, place);
    if (inside === null) return;
    if (SHAPES.has(e.name)) this.#shape(e, inside);
    else if (e.name === 'text') this.#text(e, inside);
    else if (e.name === 'use') this.#use(e, inside);
    else if (e.name === 'svg') this.#viewport(e, this.#named(e, inside), e);
    else {
      const within = this.#named(e, inside);
      const children = elementsOf(e);
      for (const child of e.name === 'switch' ? chosen(children) : children) this.#visit(child, within);
    }
  }

  /** The layer that a group begins: by its label, else by its id where nothing round it has a label. */
  #named(e: SvgElement, place: Place): Place {
    const tidy = (v: string | undefined): string => (v ?? '').replace(/\s+/g, ' ').trim();
    for (const [name, value] of e.attributes)
      if ((name === 'aria-label' || /^[^:]+:label$/.test(name)) && tidy(value) !== '')
        return { ...place, layer: tidy(value), labelled: true };
    const id = tidy(e.attributes.get('id'));
    return id === '' || place.labelled ? place : { ...place, layer: id };
  }

  #shape(e: SvgElement, place: Place): void {
    // Path data does not depend on where a copy stands, so that it is read once; lengths in per cent do.
    const constant = e.name === 'path' || e.name.startsWith('poly');
    let runs = constant ? this.#runs.get(e) : undefined;
    if (runs === undefined) {
      runs = runsOfShape(e, this.#measure(place));
      if (constant) this.#runs.set(e, runs);
    }
    if (runs === null) return;
    const { paint } = place;
    if (!paint.visible) {
      this.#count('hidden', 'element', e);
      return;
    }
    const filled = paint.fill !== null && e.name !== 'line';
    if (paint.stroke === null && !filled) {
      this.#count('unpainted', e.name, e);
      return;
    }
    this.#curves += runs.reduce((n, r) => n + r.curves.length, 0);
    if (this.#curves > MOST_CURVES) this.#limit(e, `it has more than ${MOST_CURVES} lines and curves`);
    this.shapes.push({
      element: e,
      order: this.#visits,
      layer: place.layer,
      // A fill without a line round it closes what it fills (SVG 2, 13.4).
      runs: runs.map((r) => mapRun(place.map, paint.stroke === null ? { ...r, closed: true } : r)),
      stroke: paint.stroke,
      fill: filled ? paint.fill : null,
      dashed: paint.dashed && paint.stroke !== null,
    });
  }

  #text(e: SvgElement, place: Place): void {
    const text = lettering(e);
    if (text === '' || !place.paint.visible) return;
    const first = (name: string): number => {
      const own = e.attributes.get(name) ?? elementsOf(e)[0]?.attributes.get(name) ?? '0';
      const n = numberAt(own, skipComma(own, 0).end);
      return n !== null && Math.abs(n.value) <= LARGEST ? n.value : 0;
    };
    const at = mapPoint(place.map, { x: first('x'), y: first('y') });
    const along = mapVector(place.map, { x: 1, y: 0 });
    const height = Math.abs(place.paint.fontSize) * growth(place.map);
    if (![at.x, at.y, height].every((v) => Math.abs(v) <= LARGEST)) return;
    this.words.push({
      element: e,
      order: this.#visits,
      layer: place.layer,
      at,
      text,
      height,
      turn: Math.atan2(along.y, along.x),
    });
  }

  #use(e: SvgElement, place: Place): void {
    const reference = hrefOf(e);
    const target = reference?.startsWith('#') ? this.#byId.get(idOfFragment(reference.slice(1))) : undefined;
    if (target === undefined) {
      this.#report(useMissing(this.#file, refOf(e), reference ?? ''));
      return;
    }
    if (place.copying.includes(target) || contains(target, e)) {
      const chain = [...place.copying, target].map((t) => t.attributes.get('id') ?? t.name);
      this.#report(useRecursion(this.#file, refOf(e), chain));
      return;
    }
    const m = this.#measure(place);
    const x = lengthOf(e, 'x', m, 'x', 0);
    const y = lengthOf(e, 'y', m, 'y', 0);
    if (x === null || y === null) return;
    const named = this.#named(target, place);
    const inside: Place = {
      ...(GROUPS.has(target.name) || target.name === 'symbol' ? named : place),
      map: compose(place.map, translation(x, y)),
      copying: [...place.copying, target],
    };
    if (target.name !== 'symbol' && target.name !== 'svg') {
      this.#visit(target, inside);
      return;
    }
    const own = this.#enter(target, inside);
    if (own !== null)
      this.#viewport(target, own, e.attributes.has('width') || e.attributes.has('height') ? e : target);
  }

  /** The contents of a nested `svg` or a copied `symbol`, fitted into its viewport; `sized` states the size. */
  #viewport(e: SvgElement, place: Place, sized: SvgElement): void {
    const m = this.#measure(place);
    const nested = e.name === 'svg';
    const x = nested ? lengthOf(e, 'x', m, 'x', 0) : 0;
    const y = nested ? lengthOf(e, 'y', m, 'y', 0) : 0;
    const width = lengthOf(sized, 'width', m, 'x', place.width, true);
    const height = lengthOf(sized, 'height', m, 'y', place.height, true);
    if (x === null || y === null || width === null || height === null) return;
    let map = compose(place.map, translation(x, y));
    let [w, h] = [width, height];
    const text = e.attributes.get('viewBox');
    if (text !== undefined) {
      const box = readViewBox(text);
      if (box === null) {
        this.#report(badViewBox(this.#file, refOf(e), text));
        return;
      }
      map = compose(map, viewBoxMap(box, width, height, e.attributes.get('preserveAspectRatio') ?? ''));
      [w, h] = [box.width, box.height];
    }
    if (!isFiniteMap(map)) {
      this.#report(badSvgNumber(this.#file, refOf(e), e.name, 'viewBox', text ?? '', false));
      return;
    }
    for (const child of elementsOf(e)) this.#visit(child, { ...place, map, width: w, height: h });
  }
}
