import { doubleArea, type GridPolygon, type OuterPolygon } from './outer-polygon.js';

/** Least x, least y, greatest x, greatest y. */
function boxOf(p: GridPolygon): readonly [number, number, number, number] {
  const xs = p.filter((_, i) => i % 2 === 0);
  const ys = p.filter((_, i) => i % 2 === 1);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** How far an outline may be coarsened: until it has `corners` corners, or covers this share more than it did. */
export interface Coarseness {
  readonly corners: number;
  readonly addedArea: number;
}

interface Step {
  /** Index of the corner that goes (and the next one too, for an edge). */
  readonly at: number;
  readonly cost: number;
  /** The corner that replaces an edge between two outward corners. */
  readonly tip?: readonly [number, number];
}

const cross = (ax: number, ay: number, bx: number, by: number): number => ax * by - ay * bx;

/** The step that removes corner `i` (hollow or straight), or the edge from `i` on, if there is one. */
function stepAt(p: GridPolygon, i: number): Step | undefined {
  const n = p.length / 2;
  const X = (k: number): number => p[2 * ((k + n) % n)]!;
  const Y = (k: number): number => p[2 * ((k + n) % n) + 1]!;
  const turn = cross(X(i) - X(i - 1), Y(i) - Y(i - 1), X(i + 1) - X(i), Y(i + 1) - Y(i));
  if (turn <= 0) return { at: i, cost: -turn };
  const next = cross(X(i + 1) - X(i), Y(i + 1) - Y(i), X(i + 2) - X(i + 1), Y(i + 2) - Y(i + 1));
  if (next <= 0) return undefined;
  // The neighbours of the edge, lengthened until they meet.
  const ux = X(i) - X(i - 1);
  const uy = Y(i) - Y(i - 1);
  const wx = X(i + 1) - X(i + 2);
  const wy = Y(i + 1) - Y(i + 2);
  const d = cross(ux, uy, wx, wy);
  if (d >= 0) return undefined;
  const t = cross(X(i + 1) - X(i), Y(i + 1) - Y(i), wx, wy) / d;
  if (!(t >= 0 && t < 1e6)) return undefined;
  const tip = [X(i) + t * ux, Y(i) + t * uy] as const;
  const cost = Math.abs(cross(X(i + 1) - X(i), Y(i + 1) - Y(i), tip[0] - X(i), tip[1] - Y(i)));
  return { at: i, cost, tip };
}

/** Whether the triangle that a step fills is empty of other corners, so that the outline stays simple. */
function isClear(p: GridPolygon, s: Step): boolean {
  if (s.cost === 0) return true;
  const n = p.length / 2;
  const a = s.tip ? s.at : (s.at + n - 1) % n;
  const b = (s.at + 1) % n;
  const skip = s.tip ? -1 : s.at;
  const [tx, ty] = s.tip ?? [p[2 * s.at]!, p[2 * s.at + 1]!];
  const ax = p[2 * a]!;
  const ay = p[2 * a + 1]!;
  const bx = p[2 * b]!;
  const by = p[2 * b + 1]!;
  const way = cross(bx - ax, by - ay, tx - ax, ty - ay) < 0 ? -1 : 1;
  for (let k = 0; k < n; k++) {
    if (k === a || k === b || k === skip) continue;
    const x = p[2 * k]!;
    const y = p[2 * k + 1]!;
    if (
      way * cross(bx - ax, by - ay, x - ax, y - ay) >= 0 &&
      way * cross(tx - bx, ty - by, x - bx, y - by) >= 0 &&
      way * cross(ax - tx, ay - ty, x - tx, y - ty) >= 0
    )
      return false;
  }
  return true;
}

/** Whether a polygon is convex and has all of the given corners within it. */
function isRoundAll(p: GridPolygon, corners: GridPolygon): boolean {
  const n = p.length;
  for (let i = 0; i < n; i += 2) {
    const [ax, ay, bx, by] = [p[i]!, p[i + 1]!, p[(i + 2) % n]!, p[((i + 2) % n) + 1]!];
    for (const q of [p, corners])
      for (let k = 0; k < q.length; k += 2)
        if (cross(bx - ax, by - ay, q[k]! - ax, q[k + 1]! - ay) < 0) return false;
  }
  return true;
}

/**
 * An outline with fewer corners that covers the given one: hollow corners are filled and short edges between
 * outward corners replaced by the point where their neighbours meet, the least added area first, never beyond
 * the box round the outline. Corners that add nothing always go.
 */
export function simplifyOutward(outline: OuterPolygon, limit: Coarseness): OuterPolygon {
  const p = [...outline.corners];
  let rounded = false;
  const [x0, y0, x1, y1] = boxOf(p);
  const isBoxed = ({ tip }: Step): boolean =>
    !tip || (tip[0] >= x0 && tip[0] <= x1 && tip[1] >= y0 && tip[1] <= y1);
  let budget = Math.abs(doubleArea(p)) * limit.addedArea;
  while (p.length > 6) {
    const n = p.length / 2;
    const steps: Step[] = [];
    for (let i = 0; i < n; i++) {
      const s = stepAt(p, i);
      if (s && (s.cost === 0 || (n > limit.corners && s.cost <= budget))) steps.push(s);
    }
    steps.sort((a, b) => a.cost - b.cost || a.at - b.at);
    const best = steps.find((s) => isBoxed(s) && isClear(p, s));
    if (!best) break;
    budget -= best.cost;
    if (best.tip) {
      const x = Math.round(best.tip[0]);
      const y = Math.round(best.tip[1]);
      // A rounded tip turns the lengthened edges by less than a step: the grower makes up for it.
      if (Math.max(Math.abs(x - best.tip[0]), Math.abs(y - best.tip[1])) > 1e-6) rounded = true;
      p[2 * best.at] = x + 0;
      p[2 * best.at + 1] = y + 0;
      p.splice(2 * ((best.at + 1) % n), 2);
    } else p.splice(2 * best.at, 2);
  }
  return { corners: p, inexact: outline.inexact || (rounded && !isRoundAll(p, outline.corners)) };
}
