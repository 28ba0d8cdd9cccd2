import { distance, type Ring, type Vertex } from '@haunch/geometry';

/** A square relief is no wider than the widest cutter for sheets usually is, mm. Common practice, no source. */
const WIDEST = 13;
/** The shorter wall of a relief stands at most at this share of the longer, else it is a notch. */
const SHORTER = 0.9;
/** Corners whose sine differs by less than this from 1 are square. */
const SQUARE = 1e-3;
/** A pass may make new reliefs seen, as at both ends of a slot. */
const PASSES = 8;

/**
 * A ring with square reliefs filled up, as they are drawn where an end mill cannot reach an inside corner: a wall
 * steps into the material by less than it is wide, and comes out along a longer wall. `air` is −1 where the air is
 * outside a counter-clockwise ring, 1 where it is inside.
 */
export function withoutReliefs(r: Ring, air: 1 | -1): Ring {
  let vertices: readonly Vertex[] = r.vertices;
  for (let k = 0; k < PASSES; k++) {
    const next = pass(vertices, air);
    if (next === vertices) break;
    vertices = next;
  }
  return vertices === r.vertices ? r : { vertices };
}

function pass(v: readonly Vertex[], air: 1 | -1): readonly Vertex[] {
  const n = v.length;
  if (n < 6) return v;
  const at = (i: number): Vertex => v[(i + 2 * n) % n]!;
  const gone = new Set<number>();
  const put = new Map<number, Vertex>();
  // Corners near a relief that is filled are left for the next pass.
  const touched = new Set<number>();
  const free = (...is: readonly number[]): boolean => is.every((i) => !touched.has((i + 2 * n) % n));
  for (let i = 0; i < n; i++) {
    // The bottom runs from B to C, its walls from A to B and from C to D.
    const [p, a, b, c, d, q] = [at(i - 2), at(i - 1), at(i), at(i + 1), at(i + 2), at(i + 3)];
    if ([a, b, c].some((w) => w.bulge !== 0)) continue;
    const bottom = distance(b, c);
    const [first, last] = [distance(a, b), distance(c, d)];
    const short = Math.min(first, last);
    if (bottom > WIDEST || short > bottom || short > SHORTER * Math.max(first, last)) continue;
    if (!isSquare(a, b, c, air) || !isSquare(b, c, d, air)) continue;
    if (!free(i - 2, i - 1, i, i + 1, i + 2, i + 3)) continue;
    if (first < last) {
      if (p.bulge !== 0 || !isSquare(p, a, b, -air as 1 | -1)) continue;
      put.set((i + 1) % n, toward(c, d, first / last, c));
      gone.add((i - 1 + n) % n).add(i);
    } else {
      if (d.bulge !== 0 || !isSquare(c, d, q, -air as 1 | -1)) continue;
      put.set(i, toward(b, a, last / first, b));
      gone.add((i + 1) % n).add((i + 2) % n);
    }
    for (let k = i - 2; k <= i + 3; k++) touched.add((k + 2 * n) % n);
  }
  if (put.size === 0) return v;
  return v.flatMap((w, i) => (gone.has(i) ? [] : [put.get(i) ?? w]));
}

/** Whether the path a, b, c turns square at b, to the left for 1. */
function isSquare(a: Vertex, b: Vertex, c: Vertex, side: 1 | -1): boolean {
  const [ux, uy, wx, wy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  const sine = (ux * wy - uy * wx) / (Math.hypot(ux, uy) * Math.hypot(wx, wy));
  return Math.abs(sine - side) <= SQUARE;
}

const toward = (from: Vertex, to: Vertex, share: number, as: Vertex): Vertex => ({
  ...as,
  x: from.x + (to.x - from.x) * share,
  y: from.y + (to.y - from.y) * share,
  bulge: 0,
});
