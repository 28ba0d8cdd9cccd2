import { convexPieces } from './convex-pieces.js';
import { doubleArea, type GridPolygon } from './outer-polygon.js';

type Corner = readonly [number, number];

const corner = (p: GridPolygon, i: number): Corner => [p[2 * i]!, p[2 * i + 1]!];

const side = ([ax, ay]: Corner, [bx, by]: Corner, [cx, cy]: Corner): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

const isSame = (a: Corner, b: Corner): boolean => a[0] === b[0] && a[1] === b[1];

/** Whether c, on the line a–b, lies on the segment. */
const isBetween = (a: Corner, b: Corner, c: Corner): boolean =>
  (c[0] - a[0]) * (c[0] - b[0]) + (c[1] - a[1]) * (c[1] - b[1]) <= 0;

/** Whether the segment a–b meets c–d anywhere but in a common end. */
function meets(a: Corner, b: Corner, c: Corner, d: Corner): boolean {
  const [s, t, u, v] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (s * t < 0 && u * v < 0) return true;
  return (
    (s === 0 && !isSame(c, a) && !isSame(c, b) && isBetween(a, b, c)) ||
    (t === 0 && !isSame(d, a) && !isSame(d, b) && isBetween(a, b, d)) ||
    (u === 0 && !isSame(a, c) && !isSame(a, d) && isBetween(c, d, a)) ||
    (v === 0 && !isSame(b, c) && !isSame(b, d) && isBetween(c, d, b))
  );
}

/** Corners of a walk that it passes once: a bridge may begin there without doubt on which side of another. */
function single(p: GridPolygon): number[] {
  const times = new Map<string, number>();
  const name = (i: number): string => `${p[2 * i]},${p[2 * i + 1]}`;
  for (let i = 0; i < p.length / 2; i++) times.set(name(i), (times.get(name(i)) ?? 0) + 1);
  return Array.from({ length: p.length / 2 }, (_, i) => i).filter((i) => times.get(name(i)) === 1);
}

/** The walk with a hole joined by the shortest bridge that meets nothing; undefined where there is none. */
function joined(
  walk: GridPolygon,
  hole: GridPolygon,
  others: readonly GridPolygon[],
): GridPolygon | undefined {
  const starts = single(walk);
  const pairs: { readonly i: number; readonly j: number; readonly far: number }[] = [];
  for (const i of starts)
    for (let j = 0; j < hole.length / 2; j++)
      pairs.push({
        i,
        j,
        far: (hole[2 * j]! - walk[2 * i]!) ** 2 + (hole[2 * j + 1]! - walk[2 * i + 1]!) ** 2,
      });
  pairs.sort((a, b) => a.far - b.far || a.i - b.i || a.j - b.j);
  const all = [walk, hole, ...others];
  const isClear = (a: Corner, b: Corner): boolean =>
    all.every((p) => {
      const n = p.length / 2;
      for (let k = 0; k < n; k++) if (meets(a, b, corner(p, k), corner(p, (k + 1) % n))) return false;
      return true;
    });
  const found = pairs.find(({ i, j, far }) => far > 0 && isClear(corner(walk, i), corner(hole, j)));
  if (!found) return undefined;
  const at = 2 * found.i;
  const from = 2 * found.j;
  return [...walk.slice(0, at + 2), ...hole.slice(from), ...hole.slice(0, from + 2), ...walk.slice(at)];
}

/**
 * An outline (counter-clockwise) with holes (clockwise) as one closed walk, each hole joined by a bridge that is
 * walked there and back. Undefined where the holes cannot be joined so, or where the walk cannot be cut into convex
 * pieces that cover just the material. Without holes, the outline.
 */
export function pierce(outline: GridPolygon, holes: readonly GridPolygon[]): GridPolygon | undefined {
  let walk: GridPolygon | undefined = outline;
  holes.forEach((hole, k) => {
    walk = walk && joined(walk, hole, holes.slice(k + 1));
  });
  if (!walk || holes.length === 0) return walk;
  const covered = convexPieces(walk).reduce((sum, p) => sum + doubleArea(p), 0);
  const wanted = doubleArea(outline) + holes.reduce((sum, h) => sum + doubleArea(h), 0);
  return covered === wanted ? walk : undefined;
}
