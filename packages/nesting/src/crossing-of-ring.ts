import { type Point, type Ring, ringProblems, type Vertex } from '@haunch/geometry';

/** On which side of the line from `a` to `b` a point lies: left above 0. */
const side = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);

/**
 * Where a ring crosses itself or turns back on itself in a spike, or null. A ring that only touches itself, or comes back along itself later,
 * still says what is inside: published problems have such outlines, where a hole is reached by a bridge. Where an arc is in play a touch
 * counts as a crossing.
 */
export function crossingOfRing(ring: Ring): Point | null {
  const { vertices } = ring;
  const n = vertices.length;
  const ends = (i: number): readonly [Vertex, Vertex] => [vertices[i]!, vertices[(i + 1) % n]!];
  const crosses = ([i, j]: readonly [number, number]): boolean => {
    const [[a, b], [c, d]] = [ends(i), ends(j)];
    if (a.bulge || c.bulge) return true;
    return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
  };
  const spike = ([i, j]: readonly [number, number]): boolean =>
    (j - i + n) % n === 1 || (i - j + n) % n === 1;
  const bad = ringProblems(ring).find(
    (p) =>
      (p.kind === 'self-crossing' && p.segments.some(crosses)) ||
      (p.kind === 'doubled' && p.segments.some(spike)),
  );
  return bad?.at ?? null;
}
