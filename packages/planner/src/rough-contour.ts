import {
  bulgeOfSegment,
  carrierMeets,
  distance,
  type Point,
  ringSegments,
  type Segment,
} from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { type Side, taggedRing } from './contour-path.js';
import { directionAlong, line, moved, type Path, segmentLength } from './path.js';

/** Edges that meet at less than this (sine of the angle) are joined by a step, not at their meeting. */
const TOO_FLAT = 0.1;

const startOf = (s: Segment): Point => directionAlong(s, 0);
const endOf = (s: Segment): Point => directionAlong(s, segmentLength(s));
const rightOf = (t: Point): Point => ({ x: t.y, y: -t.x });

/** A segment moved right of its travel by `by`; undefined where an arc would vanish. */
function aside(s: Segment, by: number): Segment | undefined {
  if (by === 0) return s;
  const from = moved(s.from, rightOf(startOf(s)), by);
  const to = moved(s.to, rightOf(endOf(s)), by);
  if (s.kind === 'line') return { ...s, from, to };
  const radius = s.radius + Math.sign(s.sweep) * by;
  return radius > Math.abs(by) ? { ...s, from, to, radius } : undefined;
}

/**
 * A contour as roughing leaves it: its mating edges moved into the waste by `stock` mm, all others where they are. Undefined where
 * nothing mates, or where the moved edges do not meet again.
 */
export function roughContour<C extends Contour>(
  contour: C,
  side: Side,
  mating: ReadonlySet<string>,
  stock: number,
): C | undefined {
  const edges = ringSegments(taggedRing(contour));
  const by = edges.map((e) => (mating.has(e.tag!) ? stock : 0));
  if (by.every((d) => d === 0)) return undefined;
  const sign = side === 'outside' ? 1 : -1;
  const out: Segment[] = [];
  for (const [i, e] of edges.entries()) {
    const s = aside(e, sign * by[i]!);
    if (s === undefined) return undefined;
    out.push(s);
  }
  const steps: (Segment | undefined)[] = edges.map((e, i) => {
    const k = (i + 1) % edges.length;
    if (by[i] === 0 && by[k] === 0) return undefined;
    const [a, b] = [out[i]!, out[k]!];
    if (distance(a.to, b.from) < 1e-6) return undefined;
    const [t, u] = [endOf(e), startOf(edges[k]!)];
    const turn = sign * (t.x * u.y - t.y * u.x);
    if (a.kind === 'line' && b.kind === 'line' && Math.abs(turn) > TOO_FLAT) {
      const corner = carrierMeets(a, b)[0]!;
      out[i] = { ...a, to: corner };
      out[k] = { ...b, from: corner };
      return undefined;
    }
    return { ...line(a.to, b.from), tag: (by[i]! > 0 ? a : b).tag! };
  });
  const crossed = edges.some((e, i) => {
    const k = (i + 1) % edges.length;
    const turn = sign * (endOf(e).x * startOf(edges[k]!).y - endOf(e).y * startOf(edges[k]!).x);
    const turned = e.kind === 'line' && directionTurns(e, out[i]!);
    return turned || (steps[i] !== undefined && turn < -TOO_FLAT);
  });
  if (crossed) return undefined;
  const path: Path = out.flatMap((s, i) => (steps[i] === undefined ? [s] : [s, steps[i]]));
  const ring = { vertices: path.map((s) => ({ ...s.from, bulge: bulgeOfSegment(s), tag: s.tag! })) };
  return { ...contour, ring, bare: ring };
}

/** Whether a straight edge got shorter than nothing. */
const directionTurns = (before: Segment, after: Segment): boolean =>
  (after.to.x - after.from.x) * (before.to.x - before.from.x) +
    (after.to.y - after.from.y) * (before.to.y - before.from.y) <=
  0;
