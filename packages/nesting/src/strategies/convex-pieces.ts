import { doubleArea, type GridPolygon } from './outer-polygon.js';

const side = (p: GridPolygon, a: number, b: number, c: number): number =>
  (p[2 * b]! - p[2 * a]!) * (p[2 * c + 1]! - p[2 * a + 1]!) -
  (p[2 * b + 1]! - p[2 * a + 1]!) * (p[2 * c]! - p[2 * a]!);

const same = (p: GridPolygon, a: number, b: number): boolean =>
  p[2 * a] === p[2 * b] && p[2 * a + 1] === p[2 * b + 1];

/** The convex hull of points on the grid, counter-clockwise (Andrew's monotone chain, 1979). */
export function convexHull(points: GridPolygon): GridPolygon {
  const order = Array.from({ length: points.length / 2 }, (_, i) => i).sort(
    (a, b) => points[2 * a]! - points[2 * b]! || points[2 * a + 1]! - points[2 * b + 1]! || a - b,
  );
  const half = (walk: readonly number[]): number[] => {
    const out: number[] = [];
    for (const i of walk) {
      while (out.length >= 2 && side(points, out[out.length - 2]!, out[out.length - 1]!, i) <= 0) out.pop();
      out.push(i);
    }
    out.pop();
    return out;
  };
  return [...half(order), ...half(order.reverse())].flatMap((i) => [points[2 * i]!, points[2 * i + 1]!]);
}

/** Triangles by cutting ears, as corner numbers; undefined when no ear is left (the outline crosses itself). */
function triangles(p: GridPolygon): [number, number, number][] | undefined {
  const left = Array.from({ length: p.length / 2 }, (_, i) => i);
  const out: [number, number, number][] = [];
  while (left.length > 3) {
    const n = left.length;
    let best = -1;
    let bestShape = -1;
    for (let i = 0; i < n; i++) {
      const a = left[(i + n - 1) % n]!;
      const b = left[i]!;
      const c = left[(i + 1) % n]!;
      const area = side(p, a, b, c);
      if (
        area < 0 ||
        (area === 0 && !same(p, a, b) && !same(p, b, c) && !same(p, a, c) && !between(p, a, b, c))
      )
        continue;
      if (area > 0 && left.some((k) => k !== a && k !== b && k !== c && blocks(p, a, b, c, k))) continue;
      // The roundest ear first: slivers make long no-fit polygons.
      const chord = Math.hypot(p[2 * a]! - p[2 * c]!, p[2 * a + 1]! - p[2 * c + 1]!);
      const shape = area === 0 ? Infinity : area / (1 + chord * chord);
      if (shape > bestShape) {
        bestShape = shape;
        best = i;
      }
    }
    if (best < 0) return undefined;
    const a = left[(best + n - 1) % n]!;
    const b = left[best]!;
    const c = left[(best + 1) % n]!;
    if (side(p, a, b, c) > 0) out.push([a, b, c]);
    left.splice(best, 1);
  }
  if (side(p, left[0]!, left[1]!, left[2]!) > 0) out.push([left[0]!, left[1]!, left[2]!]);
  return out;
}

/** Whether b, on the line a–c, lies between them: a straight corner rather than a spike. */
const between = (p: GridPolygon, a: number, b: number, c: number): boolean =>
  (p[2 * a]! - p[2 * b]!) * (p[2 * c]! - p[2 * b]!) +
    (p[2 * a + 1]! - p[2 * b + 1]!) * (p[2 * c + 1]! - p[2 * b + 1]!) <=
  0;

/** Whether corner k stands in the way of cutting off the ear a b c. */
function blocks(p: GridPolygon, a: number, b: number, c: number, k: number): boolean {
  if (same(p, k, a) || same(p, k, b) || same(p, k, c)) return false;
  return side(p, a, b, k) >= 0 && side(p, b, c, k) >= 0 && side(p, c, a, k) >= 0;
}

/** Joins pieces over common edges while the result stays convex (Hertel & Mehlhorn 1983). */
function joined(p: GridPolygon, pieces: number[][]): number[][] {
  for (let again = true; again; ) {
    again = false;
    search: for (let i = 0; i < pieces.length; i++)
      for (let j = i + 1; j < pieces.length; j++) {
        const one = join(p, pieces[i]!, pieces[j]!);
        if (!one) continue;
        pieces[i] = one;
        pieces.splice(j, 1);
        again = true;
        break search;
      }
  }
  return pieces;
}

function join(p: GridPolygon, a: readonly number[], b: readonly number[]): number[] | undefined {
  for (let i = 0; i < a.length; i++) {
    const from = a[i]!;
    const to = a[(i + 1) % a.length]!;
    const j = b.findIndex((k, m) => k === to && b[(m + 1) % b.length] === from);
    if (j < 0) continue;
    const all: number[] = [];
    for (let k = 1; k <= a.length; k++) all.push(a[(i + k) % a.length]!);
    for (let k = 2; k < b.length; k++) all.push(b[(j + k) % b.length]!);
    const n = all.length;
    const convex = all.every((_, k) => side(p, all[k]!, all[(k + 1) % n]!, all[(k + 2) % n]!) >= 0);
    return convex ? all : undefined;
  }
  return undefined;
}

/**
 * Convex polygons, counter-clockwise, that together cover a simple polygon exactly and share nothing but edges;
 * corners are corners of the polygon. A polygon that crosses itself is covered by its convex hull.
 */
export function convexPieces(polygon: GridPolygon): GridPolygon[] {
  const cut = doubleArea(polygon) > 0 ? triangles(polygon) : undefined;
  const area = cut?.reduce((sum, [a, b, c]) => sum + side(polygon, a, b, c), 0);
  if (!cut || area !== doubleArea(polygon)) return [convexHull(polygon)];
  return joined(polygon, cut).map((piece) => piece.flatMap((i) => [polygon[2 * i]!, polygon[2 * i + 1]!]));
}

/**
 * A polygon with a hole as one closed walk: out along a bridge, round the hole (clockwise), and back.
 * `frame` must be a rectangle that encloses the hole.
 */
export function bridged(frame: GridPolygon, hole: GridPolygon): GridPolygon {
  // The hole's rightmost corner sees the frame's right edge straight on.
  let at = 0;
  for (let i = 2; i < hole.length; i += 2)
    if (hole[i]! > hole[at]! || (hole[i] === hole[at] && hole[i + 1]! < hole[at + 1]!)) at = i;
  const right = Math.max(...frame.filter((_, i) => i % 2 === 0));
  const y = hole[at + 1]!;
  const out: number[] = [];
  for (let i = 0; i < frame.length; i += 2) {
    const j = (i + 2) % frame.length;
    out.push(frame[i]!, frame[i + 1]!);
    if (frame[i] !== right || frame[j] !== right) continue;
    out.push(right, y);
    for (let k = 0; k <= hole.length; k += 2) {
      const m = (at + k) % hole.length;
      out.push(hole[m]!, hole[m + 1]!);
    }
    out.push(right, y);
  }
  return out;
}
