import { snap } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { farOut, noSize, svgDashed, svgLimit, svgRounded } from '../diagnostics.js';
import type { DrawingLayer, Entity, TextEntity } from '../drawing.js';
import { type Affine, compose, growth, mapPoint } from './affine.js';
import { mapRun } from './curve-run.js';
import type { DrawnShape, DrawnWords } from './drawn-matter.js';
import type { SvgElement } from './element-tree.js';
import { entityOfRun, FOLLOW } from './entity-of-run.js';
import { LARGEST } from './numbers.js';
import { colourNumber } from './paint.js';
import { refOf } from './shape-runs.js';

/** Lines and arcs that a drawing may have once its curves are followed. */
const MOST_STRETCHES = 4_000_000;

/** The layer on which a shape's lines are put. */
export const layerOfShape = (s: DrawnShape): string => (s.dashed ? `${s.layer} (dashed)` : s.layer);

/** Shapes and lettering as entities in mm, y up, as they are drawn in turn; what has no size or place is told. */
export function entitiesOfShapes(
  shapes: readonly DrawnShape[],
  words: readonly DrawnWords[],
  toTable: Affine,
  file: string,
): { readonly entities: readonly Entity[]; readonly diagnostics: readonly Diagnostic[] } {
  const drawn: { readonly order: number; readonly entity: Entity }[] = [];
  const diagnostics: Diagnostic[] = [];
  const empty = new Map<string, { count: number; first: SvgElement }>();
  const dashed: SvgElement[] = [];
  const rounded: { readonly element: SvgElement; readonly by: number }[] = [];
  const far = new Set<SvgElement>();
  let stretches = 0;
  const vanished = (element: SvgElement): void => {
    const e = empty.get(element.name);
    if (e === undefined) empty.set(element.name, { count: 1, first: element });
    else e.count++;
  };
  for (const s of shapes) {
    const { element } = s;
    const place = { ...refOf(element), layer: layerOfShape(s), elevation: 0, depth: 0 };
    if (s.dashed) dashed.push(element);
    let most = 0;
    if (s.runs.length === 0) vanished(element);
    for (const run of s.runs) {
      const found = entityOfRun(mapRun(toTable, run), place);
      if (found.kind === 'not finite') far.add(element);
      else if (found.kind === 'no size') vanished(element);
      else {
        drawn.push({ order: s.order, entity: found.entity });
        most = Math.max(most, found.rounded);
        stretches += found.entity.kind === 'polyline' ? found.entity.vertices.length : 1;
      }
    }
    if (most > FOLLOW) rounded.push({ element, by: most });
    if (stretches > MOST_STRETCHES) {
      diagnostics.push(svgLimit(file, refOf(element), `it has more than ${MOST_STRETCHES} lines and arcs`));
      break;
    }
  }
  for (const e of [...far].slice(0, 20)) diagnostics.push(farOut(file, refOf(e), e.name));
  for (const [type, { count, first }] of empty)
    diagnostics.push(noSize(file, type, { count, first: refOf(first) }));
  if (dashed.length > 0)
    diagnostics.push(svgDashed(file, { count: dashed.length, first: refOf(dashed[0]!) }));
  if (rounded.length > 0)
    diagnostics.push(
      svgRounded(
        file,
        { count: rounded.length, first: refOf(rounded[0]!.element) },
        rounded.reduce((m, r) => Math.max(m, r.by), 0),
      ),
    );
  for (const w of words) {
    const entity = textOfWords(w, toTable);
    if (entity !== null) drawn.push({ order: w.order, entity });
  }
  // Stable: the subpaths of one element have one place and stay as they are.
  drawn.sort((a, b) => a.order - b.order);
  return { entities: drawn.map((d) => d.entity), diagnostics };
}

/** Lettering in mm, y up; null where it lies too far out to be placed. */
function textOfWords(w: DrawnWords, toTable: Affine): TextEntity | null {
  const at = mapPoint(toTable, w.at);
  const height = w.height * growth(toTable);
  if (![at.x, at.y, height].every((v) => Math.abs(v) <= LARGEST)) return null;
  return {
    kind: 'text',
    ...refOf(w.element),
    layer: w.layer,
    elevation: 0,
    depth: 0,
    at: { x: snap(at.x), y: snap(at.y) },
    text: w.text,
    height: snap(height),
    turn: -w.turn + 0,
  };
}

/** The layers in the order in which they are first drawn on, each with the colour of its first line. */
export function layersOfShapes(shapes: readonly DrawnShape[], entities: readonly Entity[]): DrawingLayer[] {
  const layers = new Map<string, DrawingLayer>();
  for (const s of shapes) {
    const name = layerOfShape(s);
    if (layers.has(name)) continue;
    const colour = colourNumber(s.stroke ?? s.fill ?? 'black');
    layers.set(name, { name, off: s.dashed, frozen: false, colour });
  }
  for (const { layer: name } of entities)
    if (!layers.has(name)) layers.set(name, { name, off: false, frozen: false, colour: 0 });
  return [...layers.values()];
}

/** The map from the root's user units, y down, to mm, y up. */
export const tableMap = (factor: number, stretch: number): Affine =>
  compose({ a: factor, b: 0, c: 0, d: -factor, e: 0, f: 0 }, { a: 1, b: 0, c: 0, d: stretch, e: 0, f: 0 });
