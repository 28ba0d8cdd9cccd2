import { indexBoxes, pointRingDistance, widenBox } from '@haunch/geometry';
import { JOIN } from './join-ends.js';
import { type Loop, loopEntity } from './loop.js';
import type { RepairBook } from './repair.js';

/**
 * Loops without those that are the same curve as an earlier one, within 0.01 mm. Only loops for which `alike` holds
 * are compared, as the same curve may be meant twice on two heights.
 */
export function withoutDoubledLoops(
  loops: readonly Loop[],
  alike: (a: Loop, b: Loop) => boolean,
  book: RepairBook,
): Loop[] {
  const index = indexBoxes(loops.map((l) => l.bounds));
  const gone = new Set<number>();
  return loops.filter((l, i) => {
    const { minX, minY } = l.bounds;
    const twins: number[] = [];
    // The lower left corner of a curve of the same box lies in few boxes.
    index.search(widenBox({ minX, minY, maxX: minX, maxY: minY }, JOIN), (j) => {
      if (j < i && !gone.has(j) && sameBox(loops[j]!, l)) twins.push(j);
      return false;
    });
    twins.sort((p, q) => p - q);
    const twin = twins.find((j) => alike(loops[j]!, l) && sameCurve(loops[j]!, l));
    if (twin === undefined) return true;
    const draft = () => ({
      before: [{ vertices: l.ring.vertices, closed: true }],
      after: [],
    });
    if (!book.mend('double', l.ring.vertices[0]!, [loopEntity(l)], apart(l, loops[twin]!), draft))
      return true;
    gone.add(i);
    return false;
  });
}

const sameBox = ({ bounds: a }: Loop, { bounds: b }: Loop): boolean =>
  Math.abs(a.minX - b.minX) <= JOIN &&
  Math.abs(a.minY - b.minY) <= JOIN &&
  Math.abs(a.maxX - b.maxX) <= JOIN &&
  Math.abs(a.maxY - b.maxY) <= JOIN;

const sameCurve = (a: Loop, b: Loop): boolean => {
  const slack = JOIN * (a.bounds.maxX - a.bounds.minX + a.bounds.maxY - a.bounds.minY) * 4;
  return Math.abs(a.area - b.area) <= slack && apart(a, b) <= JOIN;
};

/** How far two loops are from each other, looked at in their corners. */
function apart(a: Loop, b: Loop): number {
  let most = 0;
  for (const [p, q] of [
    [a, b],
    [b, a],
  ] as const)
    for (const v of p.ring.vertices) {
      most = Math.max(most, pointRingDistance(q.ring, v));
      if (most > JOIN) return most;
    }
  return most;
}
