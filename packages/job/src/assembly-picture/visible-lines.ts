import type { Point } from '@haunch/geometry';
import type { Arris, Solid } from './plate-solid.js';
import { dot } from './vec.js';
import { depthAt, seen, type View } from './view.js';
import { boxesMeet, boxOf, NEARER, type SeenFace } from './visible-faces.js';

/** A stretch of an arris that can be seen, in the picture, mm. */
export interface VisibleLine {
  readonly from: Point;
  readonly to: Point;
  /** How near to the eye its ends are, mm. */
  readonly nearFrom: number;
  readonly nearTo: number;
}

type Span = readonly [number, number];
/** A line's box is widened by this, so that an upright or level one has some area, mm. */
const WIDEN = 1e-6;
/** A stretch shorter than this is what is left where a hidden arris comes to the surface, mm. */
const NO_STRETCH = 0.01;

/** A smooth arris is drawn only where one of its walls is turned to the eye and the other away. */
const isDrawn = (view: View, a: Arris): boolean =>
  a.smooth === undefined || dot(a.smooth[0], view.eye) > 0 !== dot(a.smooth[1], view.eye) > 0;

/** Where along the line a face lies over it, as shares of its length. */
function spansUnder(f: SeenFace, p: Point, q: Point, nearP: number, nearQ: number): Span[] {
  const leadP = depthAt(f.depth, p) - nearP - NEARER;
  const leadQ = depthAt(f.depth, q) - nearQ - NEARER;
  if (leadP <= 0 && leadQ <= 0) return [];
  const turn = leadP / (leadP - leadQ);
  const start = leadP < 0 ? turn : 0;
  const end = leadQ < 0 ? turn : 1;
  const [dx, dy] = [q.x - p.x, q.y - p.y];
  const sideOf = (c: Point): number => dx * (c.y - p.y) - dy * (c.x - p.x);
  const cuts: { readonly t: number; readonly step: number }[] = [];
  let winding = 0;
  for (const loop of f.loops)
    for (let i = 0; i < loop.length; i++) {
      const a = loop[i]!;
      const b = loop[(i + 1) % loop.length]!;
      const [sa, sb] = [sideOf(a), sideOf(b)];
      if (sa >= 0 === sb >= 0) continue;
      const k = sa / (sa - sb);
      const x = a.x + k * (b.x - a.x) - p.x;
      const y = a.y + k * (b.y - a.y) - p.y;
      const t = (x * dx + y * dy) / (dx * dx + dy * dy);
      const step = sa >= 0 ? 1 : -1;
      if (t <= start) winding += step;
      else if (t < end) cuts.push({ t, step });
    }
  cuts.sort((a, b) => a.t - b.t || a.step - b.step);
  const spans: Span[] = [];
  let from = start;
  for (const { t, step } of [...cuts, { t: end, step: 0 }]) {
    if (winding !== 0 && t > from) spans.push([from, t]);
    from = t;
    winding += step;
  }
  return spans;
}

/** What remains of 0 … 1 when spans are taken out, less what is shorter than `least`. */
function gapsBetween(spans: Span[], least: number): Span[] {
  const gaps: Span[] = [];
  let at = 0;
  for (const [from, to] of spans.sort((a, b) => a[0] - b[0] || a[1] - b[1])) {
    if (from - at > least) gaps.push([at, from]);
    at = Math.max(at, to);
  }
  if (1 - at > least) gaps.push([at, 1]);
  return gaps;
}

/** The visible stretches of all arrises of the solids, in their order. */
export function visibleLines(
  view: View,
  solids: readonly Solid[],
  faces: readonly SeenFace[],
): VisibleLine[] {
  const sizeOf = ({ box: b }: SeenFace): number => (b.maxX - b.minX) * (b.maxY - b.minY);
  // Most lines are hidden by one big side: looking there first settles them.
  const bigFirst = [...faces].sort((a, b) => sizeOf(b) - sizeOf(a));
  return solids.flatMap((s) =>
    s.arrises.flatMap((a) => {
      if (!isDrawn(view, a)) return [];
      const [p, q] = [seen(view, a.from), seen(view, a.to)];
      const length = Math.hypot(q.x - p.x, q.y - p.y);
      if (length < NO_STRETCH) return [];
      const [nearP, nearQ] = [dot(a.from, view.eye), dot(a.to, view.eye)];
      const tight = boxOf([p, q]);
      const box = {
        minX: tight.minX - WIDEN,
        minY: tight.minY - WIDEN,
        maxX: tight.maxX + WIDEN,
        maxY: tight.maxY + WIDEN,
      };
      const hidden: Span[] = [];
      for (const f of bigFirst) {
        if (!boxesMeet(f.box, box)) continue;
        const spans = spansUnder(f, p, q, nearP, nearQ);
        if (spans.some(([from, to]) => from === 0 && to === 1)) return [];
        hidden.push(...spans);
      }
      const at = (t: number): Point => ({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) });
      const near = (t: number): number => nearP + t * (nearQ - nearP);
      return gapsBetween(hidden, NO_STRETCH / length).map(([from, to]) => ({
        from: at(from),
        to: at(to),
        nearFrom: near(from),
        nearTo: near(to),
      }));
    }),
  );
}
