import { widenBox } from './box-index.js';
import { distance, type Point } from './point.js';
import type { Ring, Segment } from './ring.js';
import { ringArea, ringPerimeter } from './ring-area.js';
import type { Box } from './ring-bounds.js';
import { curveOfRing } from './ring-curve.js';
import { fractionAlong, pointAlong } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { segmentIntersections, TOUCH } from './segment-intersections.js';
import { GRID } from './snap.js';

/** What keeps a ring from bounding a simple area; `segments` are numbers of the vertices they start at. */
export interface RingProblem {
  readonly kind: 'self-crossing' | 'doubled' | 'zero-area';
  readonly at: Point;
  readonly segments: readonly (readonly [number, number])[];
}

/** Neighbours share an end; what they meet within this distance of it is that end, mm. */
const SHARED_END = 10 * TOUCH;

/**
 * Everything that keeps a ring from being simple, in the order of its segments; empty for a good ring. Exact
 * for arcs. `self-crossing`: two segments cross, or touch anywhere but in the end that neighbours share.
 * `doubled`: two segments run over each other. `zero-area`: the ring is on average no wider than the
 * 0.0001 mm grid (its area may also cancel out, as in a figure of eight).
 */
export function ringProblems(r: Ring): RingProblem[] {
  const { segments, vertexOf, boxes, index } = curveOfRing(r);
  const n = segments.length;
  const problems: RingProblem[] = [];
  const add = (kind: RingProblem['kind'], at: Point, i: number, j: number): void => {
    const pair = [vertexOf[i]!, vertexOf[j]!] as const;
    const same = problems.findIndex((p) => p.kind === kind && distance(p.at, at) <= TOUCH);
    if (same < 0) problems.push({ kind, at, segments: [pair] });
    else problems[same] = { ...problems[same]!, segments: [...problems[same]!.segments, pair] };
  };
  for (let i = 0; i < n; i++) {
    const later: number[] = [];
    index.search(widenBox(boxes[i]!, TOUCH), (j) => {
      if (j > i) later.push(j);
      return false;
    });
    for (const j of later.sort((a, b) => a - b)) {
      const a = segments[i]!;
      const b = segments[j]!;
      if (n > 2 && j === i + 1 && meetOnlyNear(boxes[i]!, boxes[j]!, a.to)) continue;
      if (n > 2 && i === 0 && j === n - 1 && meetOnlyNear(boxes[i]!, boxes[j]!, a.from)) continue;
      const meets = segmentIntersections(a, b).sort((p, q) => fractionAlong(a, p) - fractionAlong(a, q));
      const doubled = meets.find((p, k) => k > 0 && runsOver(a, b, meets[k - 1]!, p));
      if (doubled) {
        add('doubled', doubled, i, j);
        continue;
      }
      const shared: Point[] = [];
      if (j === i + 1) shared.push(a.to);
      if (i === 0 && j === n - 1) shared.push(a.from);
      for (const p of meets)
        if (!shared.some((q) => distance(p, q) <= SHARED_END)) add('self-crossing', p, i, j);
    }
  }
  if (n < 2 || Math.abs(ringArea(r)) <= (GRID * ringPerimeter(r)) / 2) {
    const { x, y } = r.vertices[0]!;
    problems.push({ kind: 'zero-area', at: { x, y }, segments: [] });
  }
  return problems;
}

/** Whether two boxes have nothing in common but what is near a point: then their segments meet nowhere else. */
const meetOnlyNear = (a: Box, b: Box, p: Point): boolean => {
  const near = SHARED_END / 4;
  return (
    Math.max(a.minX, b.minX) >= p.x - near &&
    Math.min(a.maxX, b.maxX) <= p.x + near &&
    Math.max(a.minY, b.minY) >= p.y - near &&
    Math.min(a.maxY, b.maxY) <= p.y + near
  );
};

/** Whether two segments run together between two places where they meet. */
function runsOver(a: Segment, b: Segment, p: Point, q: Point): boolean {
  const middle = pointAlong(a, (fractionAlong(a, p) + fractionAlong(a, q)) / 2);
  return distance(p, q) > SHARED_END && pointSegmentDistance(b, middle) <= TOUCH;
}
