import type { Point } from '@haunch/geometry';
import type { Entity } from '../drawing.js';

/** One straight or circular stretch that is not part of a closed entity. mm. */
export interface LooseSegment {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
  readonly entity: Entity;
}

/** The loose stretches of an entity: lines, arcs and open polylines have some, others none. */
export function looseSegments(e: Entity): LooseSegment[] {
  if (e.kind === 'line') return [{ from: e.from, to: e.to, bulge: 0, entity: e }];
  if (e.kind === 'arc') return [{ from: e.from, to: e.to, bulge: e.bulge, entity: e }];
  if (e.kind !== 'polyline' || e.closed) return [];
  const out: LooseSegment[] = [];
  for (let i = 0; i + 1 < e.vertices.length; i++) {
    const v = e.vertices[i]!;
    const w = e.vertices[i + 1]!;
    if (v.x !== w.x || v.y !== w.y)
      out.push({ from: { x: v.x, y: v.y }, to: { x: w.x, y: w.y }, bulge: v.bulge, entity: e });
  }
  return out;
}

export const pointKey = (p: Point): string => `${p.x},${p.y}`;

/** The same for every segment that runs through the same ends with the same curvature, either way. */
function segmentKey(s: LooseSegment): string {
  const [a, b] = [pointKey(s.from), pointKey(s.to)];
  const forward = a < b;
  const bulge = Number((forward ? s.bulge : -s.bulge).toFixed(6)) + 0;
  return forward ? `${a} ${b} ${bulge}` : `${b} ${a} ${bulge}`;
}

/** Segments without exact repetitions, and the repetitions. The first in the file stays. */
export function withoutDoubles(segments: readonly LooseSegment[]): {
  readonly kept: LooseSegment[];
  readonly doubled: LooseSegment[];
} {
  const seen = new Set<string>();
  const kept: LooseSegment[] = [];
  const doubled: LooseSegment[] = [];
  for (const s of segments) {
    const key = segmentKey(s);
    if (seen.has(key)) doubled.push(s);
    else {
      seen.add(key);
      kept.push(s);
    }
  }
  return { kept, doubled };
}
