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
  /** Shapes are as large as their convex hulls, holes closed: the coarsest there is, for a layout at once. */
  readonly hull?: boolean;
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
  const n = p.length;
  const at = 2 * i;
  const before = at === 0 ? n - 2 : at - 2;
  const after = (at + 2) % n;
  const next = (at + 4) % n;
  const x = p[at]!;
  const y = p[at + 1]!;
  const ux = x - p[before]!;
  const uy = y - p[before + 1]!;
  const ex = p[after]! - x;
  const ey = p[after + 1]! - y;
  const turn = cross(ux, uy, ex, ey);
  if (turn <= 0) return { at: i, cost: -turn };
  const wx = p[after]! - p[next]!;
  const wy = p[after + 1]! - p[next + 1]!;
  if (cross(ex, ey, -wx, -wy) <= 0) return undefined;
  // The neighbours of the edge, lengthened until they meet.
  const d = cross(ux, uy, wx, wy);
  if (d >= 0) return undefined;
  const t = cross(ex, ey, wx, wy) / d;
  if (!(t >= 0 && t < 1e6)) return undefined;
  const tip = [x + t * ux, y + t * uy] as const;
  const cost = Math.abs(cross(ex, ey, tip[0] - x, tip[1] - y));
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

/** How far from the place where two edges meet a corner on the grid is looked for, steps. */
const NEAR = 3;

/**
 * The corner on the grid nearest to a step's tip from which both lengthened edges still have the outline on
 * their left; none where the edges meet too sharply. So nothing is ever cut off, however often it is done.
 */
function tipOnGrid(p: GridPolygon, s: Step): readonly [number, number] | undefined {
  const n = p.length;
  const at = 2 * s.at;
  const before = (at + n - 2) % n;
  const after = (at + 2) % n;
  const next = (at + 4) % n;
  const [ax, ay, bx, by] = [p[before]!, p[before + 1]!, p[at]!, p[at + 1]!];
  const [cx, cy, dx, dy] = [p[after]!, p[after + 1]!, p[next]!, p[next + 1]!];
  const [tx, ty] = s.tip!;
  const [mx, my] = [Math.round(tx), Math.round(ty)];
  let best: readonly [number, number] | undefined;
  let bestOff = Infinity;
  for (let x = mx - NEAR; x <= mx + NEAR; x++)
    for (let y = my - NEAR; y <= my + NEAR; y++) {
      const off = (x - tx) * (x - tx) + (y - ty) * (y - ty);
      if (off >= bestOff) continue;
      if (cross(x - ax, y - ay, bx - ax, by - ay) < 0 || cross(dx - x, dy - y, cx - x, cy - y) < 0) continue;
      best = [x + 0, y + 0];
      bestOff = off;
    }
  return best;
}

/**
 * An outline with fewer corners that covers the given one: hollow corners are filled and short edges between
 * outward corners replaced by the point where their neighbours meet, the least added area first, never beyond
 * the box round the outline. Corners that add nothing always go.
 */
export function simplifyOutward(outline: OuterPolygon, limit: Coarseness): OuterPolygon {
  const p = [...outline.corners];
  const [x0, y0, x1, y1] = boxOf(p);
  let budget = Math.abs(doubleArea(p)) * limit.addedArea;
  /** The step made ready: its tip on the grid and within the box; undefined when it cannot be done. */
  const ready = (s: Step): Step | undefined => {
    if (!s.tip) return isClear(p, s) ? s : undefined;
    const tip = tipOnGrid(p, s);
    if (!tip || tip[0] < x0 || tip[0] > x1 || tip[1] < y0 || tip[1] > y1) return undefined;
    const done = { ...s, tip };
    return isClear(p, done) ? done : undefined;
  };
  // A step depends on the corner before it and the two after: the others are kept from one removal to the next.
  const steps = Array.from({ length: p.length / 2 }, (_, i) => stepAt(p, i));
  while (p.length > 6) {
    const n = steps.length;
    const allowed = (s: Step | undefined): s is Step =>
      s !== undefined && (s.cost === 0 || (n > limit.corners && s.cost <= budget));
    let best: Step | undefined;
    const refused = new Set<number>();
    while (!best) {
      let least = -1;
      for (let i = 0; i < n; i++) {
        const s = steps[i];
        if (!allowed(s) || refused.has(i)) continue;
        if (least < 0 || s.cost < steps[least]!.cost) least = i;
      }
      if (least < 0) break;
      best = ready({ ...steps[least]!, at: least });
      if (!best) refused.add(least);
    }
    if (!best) break;
    budget -= best.cost;
    const { at } = best;
    const gone = best.tip ? (at + 1) % n : at;
    if (best.tip) [p[2 * at], p[2 * at + 1]] = best.tip;
    p.splice(2 * gone, 2);
    steps.splice(gone, 1);
    const near = gone < at ? at - 1 : at;
    for (let d = -3; d <= 2; d++) {
      const i = (near + d + 2 * (n - 1)) % (n - 1);
      steps[i] = stepAt(p, i);
    }
  }
  return { corners: p, inexact: outline.inexact };
}
