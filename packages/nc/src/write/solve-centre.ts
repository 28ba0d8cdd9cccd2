import type { Point } from '@haunch/geometry';

/** An arc that is wanted, in output steps: its rounded ends and its unrounded centre. */
export interface WantedArc {
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  /** Of the unrounded arc: direction of its start from the centre, signed sweep, radius in steps. */
  readonly startAngle: number;
  readonly sweep: number;
  readonly radius: number;
}

/** How far, in steps, an arc of rounded words may stray from the wanted one between its ends. */
const STRAY = 1;
/** How far from the wanted centre a better one is looked for, steps. */
const WINDOW = 3;

/** The signed sweep round a centre from one point to another in the given direction, radians. */
function sweepFrom(centre: Point, from: Point, to: Point, ccw: boolean): number {
  const [ax, ay, bx, by] = [from.x - centre.x, from.y - centre.y, to.x - centre.x, to.y - centre.y];
  const between = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  if (ccw) return between > 0 ? between : between + 2 * Math.PI;
  return between < 0 ? between : between - 2 * Math.PI;
}

/** Whether the arc round `c` between the rounded ends runs where the wanted one does. */
function follows(w: WantedArc, c: Point): boolean {
  const radius = Math.hypot(w.from.x - c.x, w.from.y - c.y);
  if (radius === 0) return false;
  const off = Math.abs(sweepFrom(c, w.from, w.to, w.sweep > 0) - w.sweep);
  // A short arc whose rounded ends have changed order would run all the way round.
  if (off > Math.PI || off * w.radius > 6) return false;
  for (const part of [0.25, 0.5, 0.75]) {
    const a = w.startAngle + w.sweep * part;
    const x = w.centre.x + w.radius * Math.cos(a) - c.x;
    const y = w.centre.y + w.radius * Math.sin(a) - c.y;
    if (Math.abs(Math.hypot(x, y) - radius) > STRAY) return false;
  }
  return true;
}

/**
 * A centre on the grid of whole steps for an arc between two different rounded ends, so that the radii at both ends
 * differ by at most `limit` steps and the arc runs within a step of the wanted one; null when there is none nearby.
 *
 * With c = from + (i, j) and chord (dx, dy), r₀² − r₁² = 2(i·dx + j·dy) − d². It vanishes on the chord's
 * bisector. Up to half a turn, moving the centre along the chord hardly moves the arc, so the nearest place on the
 * bisector is aimed at; beyond half a turn it would move the whole arc, so the wanted centre itself is.
 */
export function solveCentre(w: WantedArc, limit: number): Point | null {
  const dx = w.to.x - w.from.x;
  const dy = w.to.y - w.from.y;
  const chord2 = dx * dx + dy * dy;
  let { x, y } = w.centre;
  if (Math.abs(w.sweep) <= Math.PI + 1e-9) {
    const off = ((x - (w.from.x + w.to.x) / 2) * dx + (y - (w.from.y + w.to.y) / 2) * dy) / chord2;
    x -= off * dx;
    y -= off * dy;
  }
  const cx = Math.round(x);
  const cy = Math.round(y);
  let best: Point | null = null;
  let least = Infinity;
  for (let window = 1; window <= WINDOW && !best; window++)
    for (let p = cx - window; p <= cx + window; p++)
      for (let q = cy - window; q <= cy + window; q++) {
        const i = p - w.from.x;
        const j = q - w.from.y;
        const radii = Math.hypot(i, j) + Math.hypot(i - dx, j - dy);
        const apart = Math.abs(2 * (i * dx + j * dy) - chord2) / radii;
        const cost = apart + Math.hypot(p - x, q - y);
        if (!(apart <= limit) || cost >= least) continue;
        const centre = { x: p, y: q };
        if (!follows(w, centre)) continue;
        best = centre;
        least = cost;
      }
  return best;
}
