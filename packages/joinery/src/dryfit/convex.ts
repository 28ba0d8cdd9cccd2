/** A corner of a flat figure, mm. */
export type Corner = readonly [number, number];

function cutAt(polygon: readonly Corner[], k: 0 | 1, limit: number, keep: 1 | -1): Corner[] {
  const out: Corner[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const p = polygon[i]!;
    const q = polygon[(i + 1) % polygon.length]!;
    const dp = keep * (p[k] - limit);
    const dq = keep * (q[k] - limit);
    if (dp >= 0) out.push(p);
    if (dp * dq < 0) {
      const t = dp / (dp - dq);
      out.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  }
  return out;
}

/**
 * The area of a convex figure within an axis-parallel rectangle, mm², and how wide it is on average across its length,
 * mm (Sutherland and Hodgman 1974).
 */
export function clippedArea(
  polygon: readonly Corner[],
  x: readonly [number, number],
  y: readonly [number, number],
): { readonly area: number; readonly width: number } {
  let p = polygon as Corner[];
  if (Number.isFinite(x[0])) p = cutAt(p, 0, x[0], 1);
  if (Number.isFinite(x[1])) p = cutAt(p, 0, x[1], -1);
  p = cutAt(p, 1, y[0], 1);
  p = cutAt(p, 1, y[1], -1);
  let twice = 0;
  let round = 0;
  for (let i = 0; i < p.length; i++) {
    const a = p[i]!;
    const b = p[(i + 1) % p.length]!;
    twice += a[0] * b[1] - b[0] * a[1];
    round += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  const area = Math.abs(twice) / 2;
  return { area, width: round > 0 ? (2 * area) / round : 0 };
}
