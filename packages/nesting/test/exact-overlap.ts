/** A polygon on the grid, counter-clockwise, in whole steps. */
export type ExactPolygon = readonly (readonly [bigint, bigint])[];

/** A point with a common denominator: (x / d, y / d), d greater than 0. */
type Share = readonly [bigint, bigint, bigint];

const cross = (
  [ax, ay]: readonly [bigint, bigint],
  [bx, by]: readonly [bigint, bigint],
  [cx, cy]: readonly [bigint, bigint],
): bigint => (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

const sign = (v: bigint): number => (v > 0n ? 1 : v < 0n ? -1 : 0);

/** 1 strictly inside, 0 on the outline, −1 outside. Crossings of a ray are counted by the half-open rule. */
function sideOf([x, y, d]: Share, p: ExactPolygon): number {
  let inside = false;
  for (let i = 0; i < p.length; i++) {
    const [ax, ay] = [p[i]![0] * d, p[i]![1] * d];
    const [bx, by] = [p[(i + 1) % p.length]![0] * d, p[(i + 1) % p.length]![1] * d];
    const c = cross([ax, ay], [bx, by], [x, y]);
    const within = (x - ax) * (x - bx) <= 0n && (y - ay) * (y - by) <= 0n;
    if (c === 0n && within) return 0;
    if (ay <= y !== by <= y && (by > ay ? c > 0n : c < 0n)) inside = !inside;
  }
  return inside ? 1 : -1;
}

/** Where along a→b, as shares of a common denominator, corners of `q` lie on it, or it ends on an edge of `q`. */
function hasPartInside(a: readonly [bigint, bigint], b: readonly [bigint, bigint], q: ExactPolygon): boolean {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length = dx * dx + dy * dy;
  // All corners of q on the edge; where the edge meets q otherwise it crosses properly, which is seen elsewhere,
  // or it begins or ends there.
  const at = [0n, length];
  for (const c of q) {
    if (cross(a, b, c) !== 0n) continue;
    const t = (c[0] - a[0]) * dx + (c[1] - a[1]) * dy;
    if (t > 0n && t < length) at.push(t);
  }
  at.sort((p, r) => sign(p - r));
  for (let k = 1; k < at.length; k++) {
    const sum = at[k - 1]! + at[k]!;
    if (at[k] === at[k - 1]) continue;
    const d = 2n * length;
    if (sideOf([a[0] * d + dx * sum, a[1] * d + dy * sum, d], q) > 0) return true;
  }
  return false;
}

/**
 * Whether the insides of two simple polygons have a point in common, decided in whole numbers of any size: an edge
 * crosses another, a part of an edge lies inside the other polygon, or two edges that run the same way lie on each
 * other. Shares nothing with the referee.
 */
export function exactlyOverlap(p: ExactPolygon, q: ExactPolygon): boolean {
  for (let i = 0; i < p.length; i++) {
    const a = p[i]!;
    const b = p[(i + 1) % p.length]!;
    for (let j = 0; j < q.length; j++) {
      const c = q[j]!;
      const d = q[(j + 1) % q.length]!;
      const [s, t] = [sign(cross(a, b, c)), sign(cross(a, b, d))];
      if (s * t < 0 && sign(cross(c, d, a)) * sign(cross(c, d, b)) < 0) return true;
      if (s !== 0 || t !== 0) continue;
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const same = dx * (d[0] - c[0]) + dy * (d[1] - c[1]) > 0n;
      const along = (e: readonly [bigint, bigint]): bigint => (e[0] - a[0]) * dx + (e[1] - a[1]) * dy;
      if (same && along(d) > 0n && along(c) < along(b)) return true;
    }
    if (hasPartInside(a, b, q)) return true;
  }
  for (let j = 0; j < q.length; j++) if (hasPartInside(q[j]!, q[(j + 1) % q.length]!, p)) return true;
  return false;
}
