import { chordCount, counterClockwise, type Point, type Ring, ringSegments } from '@haunch/geometry';

/** Steps of the 0.0001 mm grid in a millimetre: polygons of the strategies have whole numbers of steps as coordinates. */
export const STEPS = 10_000;

/** A polygon on the grid: x, y, x, y … in steps; material on the left. */
export type GridPolygon = readonly number[];

/** How far a flattened outline may lie outside the true one, mm. */
export const FLATTEN_OUT = 0.05;

/** Corners that are not on the curve stand this many steps further out, so that rounding cannot bring them inside. */
const ROUNDING = 1.5;

/** A coordinate this near to a grid step, in steps, is on it: 10⁻⁷ mm, a tenth of what the referee lets pass. */
export const ON_GRID = 1e-3;

/** A polygon round a ring: nothing of the ring lies outside it, but for `inexact`: then by at most 0.71 steps. */
export interface OuterPolygon {
  readonly corners: GridPolygon;
  /** Some corner of the ring is off the grid and was rounded; whoever grows the polygon adds one step. */
  readonly inexact: boolean;
}

/**
 * Flattens a ring so that material (on its left) is covered: an arc bulging outward becomes tangents, an arc
 * hollowed inward becomes chords; within `FLATTEN_OUT`. Material is inside a counter-clockwise ring and
 * outside a clockwise one.
 */
export function outerPolygon(ring: Ring): OuterPolygon {
  const corners: number[] = [];
  let inexact = false;
  const put = (p: Point, onCurve: boolean): void => {
    const x = Math.round(p.x * STEPS);
    const y = Math.round(p.y * STEPS);
    if (onCurve && Math.max(Math.abs(x - p.x * STEPS), Math.abs(y - p.y * STEPS)) > ON_GRID) inexact = true;
    const n = corners.length;
    if (n >= 2 && corners[n - 2] === x && corners[n - 1] === y) return;
    corners.push(x + 0, y + 0);
  };
  for (const s of ringSegments(ring)) {
    put(s.from, true);
    if (s.kind === 'line') continue;
    const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
    const outward = s.sweep > 0;
    const reach = outward ? s.radius + FLATTEN_OUT : s.radius;
    const n = Math.max(chordCount(reach, s.sweep, FLATTEN_OUT), Math.ceil((2 * Math.abs(s.sweep)) / Math.PI));
    const step = s.sweep / n;
    const radius = outward ? s.radius / Math.cos(step / 2) : s.radius - ROUNDING / STEPS;
    for (let i = outward ? 0 : 1; i < n; i++) {
      const a = start + (i + (outward ? 0.5 : 0)) * step;
      const at = { x: s.centre.x + radius * Math.cos(a), y: s.centre.y + radius * Math.sin(a) };
      const along = outward && i === 0 ? s.from : outward && i === n - 1 ? s.to : undefined;
      put(outward ? pushedOut(at, s.centre, along, step) : at, false);
    }
  }
  const n = corners.length;
  if (n > 2 && corners[0] === corners[n - 2] && corners[1] === corners[n - 1]) corners.length = n - 2;
  return { corners, inexact };
}

/**
 * A corner of the tangents round an arc, moved so far out that rounding cannot bring it inside: away from the
 * centre, but along the tangent at `end` where that is parallel to an axis, so that a straight edge which runs
 * into the arc stays straight.
 */
function pushedOut(corner: Point, centre: Point, end: Point | undefined, step: number): Point {
  const near = (a: number, b: number): boolean => Math.abs(a - b) * STEPS <= ON_GRID;
  const dx = corner.x - (end ?? centre).x;
  const dy = corner.y - (end ?? centre).y;
  const length = Math.hypot(dx, dy);
  if (end && length > 0 && (near(corner.x, end.x) || near(corner.y, end.y))) {
    const by = ROUNDING / STEPS / Math.abs(Math.sin(step)) / length;
    return near(corner.x, end.x) ? { x: end.x, y: corner.y + by * dy } : { x: corner.x + by * dx, y: end.y };
  }
  const away = Math.hypot(corner.x - centre.x, corner.y - centre.y);
  const k = 1 + ROUNDING / STEPS / away;
  return { x: centre.x + k * (corner.x - centre.x), y: centre.y + k * (corner.y - centre.y) };
}

/** As `outerPolygon`, whichever way the ring is walked: its inside is material. */
export const outerPolygonOf = (ring: Ring): OuterPolygon => outerPolygon(counterClockwise(ring));

/** Twice the signed area, square steps. */
export function doubleArea(p: GridPolygon): number {
  let sum = 0;
  const n = p.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    sum += p[i]! * p[j + 1]! - p[j]! * p[i + 1]!;
  }
  return sum;
}
