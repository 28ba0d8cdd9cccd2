import { chordCount, type Point } from '@haunch/geometry';
import type { Dialect, Place } from '@haunch/model';
import { solveCentre } from './solve-centre.js';
import { solveRadius } from './solve-radius.js';

/** A move in whole output steps. */
export type StepMove =
  | { readonly kind: 'line'; readonly to: Place }
  | {
      readonly kind: 'arc';
      readonly to: Place;
      readonly centre: Point;
      readonly ccw: boolean;
      /** The whole radius that is written in place of the centre, where the dialect has radii. */
      readonly radius?: number;
    };

/** An arc or helix in output steps, unrounded, but for where the cutter really is after the moves before. */
export interface ArcToLower {
  /** Where the cutter is, whole steps. */
  readonly at: Place;
  readonly from: Place;
  readonly to: Place;
  readonly centre: Point;
  readonly ccw: boolean;
  /** Output steps of one millimetre. */
  readonly scale: number;
  readonly arcs: Dialect['arcs'];
}

/** Radii of written arcs agree within this, mm: a quarter of what the report allows (0.002 mm). */
const RADII_AGREE = 0.0005;
/** An arc that leaves its chord by less than this many steps is written as its chord. */
const FLAT = 0.25;
/** An arc of a smaller radius, in steps, has no centre on the grid worth the name: it is written as chords. */
const LEAST_RADIUS = 4;
/** The greatest sweep that an R word conditions well: the report's 165°, radians. */
const RADIUS_SWEEP = (165 / 180) * Math.PI;
/** How often an arc is halved in search of ends and centres that agree. */
const HALVINGS = 4;

const whole = (p: Place): Place => ({
  x: Math.round(p.x) + 0,
  y: Math.round(p.y) + 0,
  z: Math.round(p.z) + 0,
});

/** The parts (0–1) of a sweep at which it crosses the directions of the axes. */
function quadrantCuts(start: number, sweep: number): number[] {
  const quarter = Math.PI / 2;
  const cuts: number[] = [];
  const [low, high] = sweep > 0 ? [start, start + sweep] : [start + sweep, start];
  for (let k = Math.ceil(low / quarter); k * quarter <= high; k++) {
    const part = (k * quarter - start) / sweep;
    if (part > 1e-9 && part < 1 - 1e-9) cuts.push(part);
  }
  return cuts.sort((p, q) => p - q);
}

/**
 * The moves by which a dialect runs an arc: whole arcs where it can, arcs of at most its greatest sweep, or chords
 * within its tolerance. Every written arc has ends and centre on the output grid and radii that agree within
 * 0.0005 mm; where no centre on the grid gives that, the arc is halved, and in the end becomes chords that stay within
 * half a step. A written radius is likewise solved from the rounded ends, and the arc halved where a whole radius would bow it
 * by more than a step. Moves that round to no motion are left out.
 */
export function lowerArc(a: ArcToLower): StepMove[] {
  const startAngle = Math.atan2(a.from.y - a.centre.y, a.from.x - a.centre.x);
  const endAngle = Math.atan2(a.to.y - a.centre.y, a.to.x - a.centre.x);
  const full = a.from.x === a.to.x && a.from.y === a.to.y;
  const turn = full ? 0 : (((endAngle - startAngle) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const sweep = full ? (a.ccw ? 2 : -2) * Math.PI : a.ccw || turn === 0 ? turn : turn - 2 * Math.PI;
  const radius =
    (Math.hypot(a.from.x - a.centre.x, a.from.y - a.centre.y) +
      Math.hypot(a.to.x - a.centre.x, a.to.y - a.centre.y)) /
    2;

  const out: StepMove[] = [];
  let at = a.at;
  const push = (move: StepMove): void => {
    const { to } = move;
    if (move.kind === 'line' && to.x === at.x && to.y === at.y && to.z === at.z) return;
    out.push(move);
    at = to;
  };
  /** The place on the wanted curve after a part (0–1) of the sweep. */
  const along = (part: number): Place => {
    if (part === 1) return a.to;
    const angle = startAngle + sweep * part;
    return {
      x: a.centre.x + radius * Math.cos(angle),
      y: a.centre.y + radius * Math.sin(angle),
      z: a.from.z + (a.to.z - a.from.z) * part,
    };
  };
  const chords = (p0: number, p1: number, tolerance: number): void => {
    const n = chordCount(radius, sweep * (p1 - p0), tolerance);
    for (let i = 1; i <= n; i++)
      push({ kind: 'line', to: whole(along(i === n ? p1 : p0 + ((p1 - p0) * i) / n)) });
  };
  const arc = (p0: number, p1: number, halvings: number): void => {
    const to = whole(along(p1));
    const part = sweep * (p1 - p0);
    const closed = to.x === at.x && to.y === at.y;
    if (radius < LEAST_RADIUS) {
      chords(p0, p1, FLAT);
      return;
    }
    if (closed && Math.abs(part) > Math.PI) {
      const centre = { x: Math.round(a.centre.x) + 0, y: Math.round(a.centre.y) + 0 };
      push({ kind: 'arc', to, centre, ccw: a.ccw });
      return;
    }
    const sagitta = Math.abs(part) < Math.PI ? radius * (1 - Math.cos(part / 2)) : radius;
    if (sagitta < FLAT || closed) {
      if (sagitta < 1) push({ kind: 'line', to });
      else chords(p0, p1, 0.5);
      return;
    }
    const half = (): void => {
      if (halvings > 0 && Math.abs(part) * radius > 8) {
        const middle = (p0 + p1) / 2;
        arc(p0, middle, halvings - 1);
        arc(middle, p1, halvings - 1);
      } else chords(p0, p1, 0.5);
    };
    if (a.arcs.form === 'radius') {
      const r = solveRadius(at, to, along((p0 + p1) / 2), part);
      if (r === null) half();
      else
        push({
          kind: 'arc',
          to,
          centre: { x: Math.round(a.centre.x) + 0, y: Math.round(a.centre.y) + 0 },
          ccw: a.ccw,
          radius: r,
        });
      return;
    }
    const centre = solveCentre(
      { from: at, to, centre: a.centre, startAngle: startAngle + sweep * p0, sweep: part, radius },
      RADII_AGREE * a.scale,
    );
    if (centre) push({ kind: 'arc', to, centre, ccw: a.ccw });
    else half();
  };

  if (a.arcs.form === 'none' || (!a.arcs.helix && whole(a.to).z !== a.at.z))
    chords(0, 1, a.arcs.chordTolerance * a.scale);
  else {
    // Near half a turn a radius says next to nothing of the centre (NISTIR 6556, 3.5.3.1).
    const most =
      a.arcs.form === 'radius' ? Math.min(a.arcs.greatestSweep, RADIUS_SWEEP) : a.arcs.greatestSweep;
    const cuts = a.arcs.quadrants ? quadrantCuts(startAngle, sweep) : [];
    const bounds = [0, ...cuts, 1];
    for (let k = 1; k < bounds.length; k++) {
      const [p0, p1] = [bounds[k - 1]!, bounds[k]!];
      const n = Math.max(1, Math.ceil((Math.abs(sweep) * (p1 - p0)) / most - 1e-9));
      for (let i = 0; i < n; i++)
        arc(p0 + ((p1 - p0) * i) / n, i === n - 1 ? p1 : p0 + ((p1 - p0) * (i + 1)) / n, HALVINGS);
    }
  }
  return out;
}
