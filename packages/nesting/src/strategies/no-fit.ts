import { convexSum, opposite } from './minkowski.js';
import type { GridPolygon } from './outer-polygon.js';

/** Box of a polygon or of many: least x, least y, greatest x, greatest y. */
export type GridBox = readonly [number, number, number, number];

/** The box round polygons. */
export function boxOf(polygons: readonly GridPolygon[]): GridBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const p of polygons)
    for (let i = 0; i < p.length; i += 2) {
      const x = p[i]!;
      const y = p[i + 1]!;
      if (x < x0) x0 = x;
      if (y < y0) y0 = y;
      if (x > x1) x1 = x;
      if (y > y1) y1 = y;
    }
  return [x0, y0, x1, y1];
}

/**
 * Where a moving shape may not be with respect to a fixed one: inside any of the convex polygons; their edges
 * are free (touching is allowed). `edges` (x, y, x, y a row) is the border of their union.
 */
export interface NoFit {
  readonly box: GridBox;
  readonly polygons: readonly Float64Array[];
  /** The box of all and then that of each polygon, four numbers each: numbers of one kind, for loops that are asked often. */
  readonly boxes: Float64Array;
  readonly edges: Float64Array;
}

/** The stretch of a segment inside a polygon, as shares of its length: what `stretchInside` found last. */
let stretchFrom = 0;
let stretchTo = 0;

/** Whether a stretch of the segment a→b lies strictly inside a convex polygon; leaves it in the two shares. */
function stretchInside(p: GridPolygon, ax: number, ay: number, bx: number, by: number): boolean {
  let t0 = 0;
  let t1 = 1;
  const n = p.length;
  let px = p[n - 2]!;
  let py = p[n - 1]!;
  for (let i = 0; i < n; i += 2) {
    const qx = p[i]!;
    const qy = p[i + 1]!;
    const ex = qx - px;
    const ey = qy - py;
    const from = ex * (ay - py) - ey * (ax - px);
    const to = ex * (by - py) - ey * (bx - px);
    px = qx;
    py = qy;
    if (from <= 0 && to <= 0) return false;
    if (from < 0) t0 = Math.max(t0, from / (from - to));
    else if (to < 0) t1 = Math.min(t1, from / (from - to));
  }
  stretchFrom = t0;
  stretchTo = t1;
  return t0 < t1;
}

/** Whether convex `inner` lies within convex `outer`. */
function isWithin(inner: GridPolygon, outer: GridPolygon): boolean {
  const n = outer.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    const ex = outer[j]! - outer[i]!;
    const ey = outer[j + 1]! - outer[i + 1]!;
    for (let k = 0; k < inner.length; k += 2)
      if (ex * (inner[k + 1]! - outer[i + 1]!) - ey * (inner[k]! - outer[i]!) < 0) return false;
  }
  return true;
}

/** Boxes of polygons side by side, four numbers each: every polygon is held against all others. */
function flatBoxes(boxes: readonly GridBox[]): Float64Array {
  const flat = new Float64Array(4 * boxes.length);
  boxes.forEach((b, i) => {
    flat.set(b, 4 * i);
  });
  return flat;
}

/** Numbers of the polygons whose boxes share more than a line with that of `self`. */
function meeting(flat: Float64Array, self: number): number[] {
  const [x0, y0, x1, y1] = [flat[self]!, flat[self + 1]!, flat[self + 2]!, flat[self + 3]!];
  const out: number[] = [];
  for (let o = 0; o < flat.length; o += 4)
    if (o !== self && x0 < flat[o + 2]! && flat[o]! < x1 && y0 < flat[o + 3]! && flat[o + 1]! < y1)
      out.push(o);
  return out;
}

/** Whether polygon `i` lies within another one; of equal ones, within the first. */
function isHidden(all: readonly GridPolygon[], flat: Float64Array, i: number): boolean {
  const p = all[i]!;
  const self = 4 * i;
  const [x0, y0, x1, y1] = [flat[self]!, flat[self + 1]!, flat[self + 2]!, flat[self + 3]!];
  for (let o = 0; o < flat.length; o += 4) {
    if (x0 < flat[o]! || x1 > flat[o + 2]! || y0 < flat[o + 1]! || y1 > flat[o + 3]! || o === self) continue;
    const q = all[o / 4]!;
    if (isWithin(p, q) && (o < self || !isWithin(q, p))) return true;
  }
  return false;
}

/** The border of the union of convex polygons: every edge but for its stretches inside another polygon. */
function borderOf(polygons: readonly GridPolygon[], boxes: readonly GridBox[]): number[] {
  const out: number[] = [];
  const flat = flatBoxes(boxes);
  polygons.forEach((p, self) => {
    const near = meeting(flat, 4 * self);
    const n = p.length;
    for (let i = 0; i < n; i += 2) {
      const j = i + 2 === n ? 0 : i + 2;
      const ax = p[i]!;
      const ay = p[i + 1]!;
      const bx = p[j]!;
      const by = p[j + 1]!;
      const [x0, x1] = ax < bx ? [ax, bx] : [bx, ax];
      const [y0, y1] = ay < by ? [ay, by] : [by, ay];
      const covered: [number, number][] = [];
      let hidden = false;
      for (let k = 0; k < near.length && !hidden; k++) {
        const o = near[k]!;
        if (x1 <= flat[o]! || y1 <= flat[o + 1]! || x0 >= flat[o + 2]! || y0 >= flat[o + 3]!) continue;
        if (!stretchInside(polygons[o / 4]!, ax, ay, bx, by)) continue;
        if (stretchFrom > 0 || stretchTo < 1) {
          covered.push([stretchFrom, stretchTo]);
          continue;
        }
        // What hides this edge is likely to hide the next one too.
        hidden = true;
        near[k] = near[0]!;
        near[0] = o;
      }
      if (hidden) continue;
      if (covered.length === 0) {
        out.push(ax, ay, bx, by);
        continue;
      }
      covered.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
      const at = (t: number): readonly [number, number] =>
        t === 0 ? [ax, ay] : t === 1 ? [bx, by] : [ax + t * (bx - ax), ay + t * (by - ay)];
      let t = 0;
      for (const [from, to] of [...covered, [1, 1] as const]) {
        if (from > t) out.push(...at(t), ...at(from));
        t = Math.max(t, to);
      }
    }
  });
  return out;
}

/** The no-fit polygon of two convex shapes: a single sum, none of which is hidden. */
function convexNoFit(fixed: GridPolygon, moving: GridPolygon): NoFit {
  const sum = convexSum(fixed, opposite(moving));
  const box = boxOf([sum]);
  const n = sum.length;
  const edges = new Float64Array(2 * n);
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    edges[2 * i] = sum[i]!;
    edges[2 * i + 1] = sum[i + 1]!;
    edges[2 * i + 2] = sum[j]!;
    edges[2 * i + 3] = sum[j + 1]!;
  }
  return { box, polygons: [Float64Array.from(sum)], boxes: flatBoxes([box, box]), edges };
}

/**
 * The no-fit polygon of a moving shape round a fixed one, both given as convex pieces: the sums Aᵢ ⊕ −Bⱼ
 * (Minkowski; Bennell & Oliveira, "The geometry of nesting problems: a tutorial", EJOR 184, 2008). Exact on
 * the grid: two shapes overlap exactly when the reference point is strictly inside some piece.
 */
export function noFit(fixed: readonly GridPolygon[], moving: readonly GridPolygon[]): NoFit {
  if (fixed.length === 1 && moving.length === 1) return convexNoFit(fixed[0]!, moving[0]!);
  const turned = moving.map(opposite);
  const all = fixed.flatMap((a) => turned.map((b) => convexSum(a, b)));
  const allBoxes = all.map((p) => boxOf([p]));
  const flat = flatBoxes(allBoxes);
  const kept: GridPolygon[] = [];
  const boxes: GridBox[] = [];
  all.forEach((p, i) => {
    if (isHidden(all, flat, i)) return;
    kept.push(p);
    boxes.push(allBoxes[i]!);
  });
  const box = boxOf(kept);
  return {
    box,
    polygons: kept.map((p) => Float64Array.from(p)),
    boxes: flatBoxes([box, ...boxes]),
    edges: Float64Array.from(borderOf(kept, boxes)),
  };
}

/** Whether a point, relative to the fixed shape, is strictly inside a piece. Exact for whole steps. */
export function isInPiece(f: NoFit, piece: number, x: number, y: number): boolean {
  const { boxes } = f;
  const b = 4 * piece + 4;
  if (x <= boxes[b]! || y <= boxes[b + 1]! || x >= boxes[b + 2]! || y >= boxes[b + 3]!) return false;
  const p = f.polygons[piece]!;
  const n = p.length;
  let ax = p[n - 2]!;
  let ay = p[n - 1]!;
  for (let i = 0; i < n; i += 2) {
    const bx = p[i]!;
    const by = p[i + 1]!;
    if ((bx - ax) * (y - ay) - (by - ay) * (x - ax) <= 0) return false;
    ax = bx;
    ay = by;
  }
  return true;
}

/** The first piece that a point, relative to the fixed shape, is strictly inside of; −1 where it is free. */
export function pieceAt(f: NoFit, x: number, y: number): number {
  const b = f.boxes;
  if (x <= b[0]! || y <= b[1]! || x >= b[2]! || y >= b[3]!) return -1;
  const n = f.polygons.length;
  if (n === 1) return isInPiece(f, 0, x, y) ? 0 : -1;
  for (let k = 0; k < n; k++) if (isInPiece(f, k, x, y)) return k;
  return -1;
}

/** Whether a point, relative to the fixed shape, is forbidden. Exact for whole steps. */
export const isForbidden = (f: NoFit, x: number, y: number): boolean => pieceAt(f, x, y) >= 0;
