import type { Point } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { bit } from './codes.js';
import { lineLocus } from './cursor.js';
import { arcFromUnknown, arcNearHalfTurn, arcRadius, badArc, missingWord } from './diagnostics.js';
import { AXES, AXIS_LETTERS } from './frames.js';
import type { MachineState } from './machine-state.js';
import { pushArc, pushStraight } from './push-move.js';
import { add } from './report.js';
import type { LineWords } from './scan-line.js';
import { findTarget, newTarget } from './target.js';

/** Each plane's two axes (right-handed, seen from the third) and the third. */
const PLANES = {
  17: { name: 'xy', a: 0, b: 1, across: 2 },
  18: { name: 'zx', a: 2, b: 0, across: 1 },
  19: { name: 'yz', a: 1, b: 2, across: 0 },
} as const;

const R = bit('R');
/** I, J, K belong to x, y, z. */
const OFFSET_LETTERS = [8, 9, 10] as const;
const TWO_PI = 2 * Math.PI;
const target = newTarget();

/** Ends closer than this (mm) are one point: no program can say less, while sums of words carry rounding noise. */
const SAME = 1e-9;

/** G2 or G3 (N11): centre or radius form, with a rise across the plane a helix. */
export function arcMove(s: MachineState, w: LineWords, ccw: boolean): void {
  const plane = PLANES[s.plane];
  const { a, b, across } = plane;
  const centre = findCentre(s, w, plane, ccw);
  if ('kind' in centre) {
    add(s.report, centre);
    if (w.has & AXES) straightInstead(s, w);
    return;
  }
  const here = lineLocus(s.report.file, s.line);
  const { place } = target;
  // Start and end as seen from the centre.
  const a0 = s.at[a]! - centre.x;
  const b0 = s.at[b]! - centre.y;
  const a1 = place[a]! - centre.x;
  const b1 = place[b]! - centre.y;
  const radius = Math.hypot(a0, b0);
  const endRadius = Math.hypot(a1, b1);
  const sweep = sweepOf(a0, b0, a1, b1, Math.hypot(a1 - a0, b1 - b0) <= SAME, ccw);
  if (w.has & R) {
    const degrees = (Math.abs(sweep) * 180) / Math.PI;
    if (degrees > 165 && degrees < 195) add(s.report, arcNearHalfTurn(here, degrees));
  }
  const rise = place[across]! - s.at[across]!;
  const meets = Math.abs(radius - endRadius) <= radiusTolerance(s);
  const end = meets ? place : Float64Array.from(place);
  if (!meets) {
    // It runs round its start radius to the end's direction, then jumps to the end.
    add(s.report, arcRadius(here, radius, endRadius));
    const angle = Math.atan2(b1, a1);
    end[a] = centre.x + radius * Math.cos(angle);
    end[b] = centre.y + radius * Math.sin(angle);
  }
  const to = { x: end[0]!, y: end[1]!, z: end[2]! };
  pushArc(s, plane.name, centre, sweep, radius, rise, to, target.known);
  if (!meets) pushStraight(s, 'linear', place[0]!, place[1]!, place[2]!, target.known);
}

/** How far the radii at start and end may differ, mm: 0.002 mm, or 0.0002 in (N11.3); plus rounding noise. */
const radiusTolerance = (s: MachineState): number => (s.unit === 1 ? 0.002 : 0.0002 * s.unit) + 1e-9;

/** The arc's centre in its plane, with its end in `target`; or why there is none. */
function findCentre(
  s: MachineState,
  w: LineWords,
  { a, b, across }: (typeof PLANES)[17 | 18 | 19],
  ccw: boolean,
): Point | Diagnostic {
  const here = lineLocus(s.report.file, s.line);
  const code = ccw ? 'G3' : 'G2';
  const hasA = w.has & (1 << OFFSET_LETTERS[a]);
  const hasB = w.has & (1 << OFFSET_LETTERS[b]);
  if (!(w.has & ((1 << AXIS_LETTERS[a]) | (1 << AXIS_LETTERS[b]))))
    return missingWord(here, code, `${'XYZ'[a]} or ${'XYZ'[b]}`);
  const needed = (1 << a) | (1 << b) | (w.has & (1 << AXIS_LETTERS[across]) ? 1 << across : 0);
  if ((s.known & needed) !== needed) return arcFromUnknown(here);
  findTarget(s, w, target);
  const [a0, b0] = [s.at[a]!, s.at[b]!];
  if (w.has & R) {
    if (hasA || hasB) return badArc(here, 'it has both a radius and a centre');
    const [a1, b1] = [target.place[a]!, target.place[b]!];
    const centre = centreOfRadius(a0, b0, a1, b1, w.value[17]! * s.unit, ccw, radiusTolerance(s));
    return typeof centre === 'string' ? badArc(here, centre) : centre;
  }
  if (!hasA && !hasB) return missingWord(here, code, `${'IJK'[a]}, ${'IJK'[b]} or R`);
  // Counted from the start a missing word is nothing; counted from the origin nobody can say what it is.
  if (s.absoluteCentres && !(hasA && hasB)) return missingWord(here, code, 'IJK'[hasA ? b : a]!);
  const i = hasA ? w.value[OFFSET_LETTERS[a]]! * s.unit : 0;
  const j = hasB ? w.value[OFFSET_LETTERS[b]]! * s.unit : 0;
  if (s.absoluteCentres) {
    const centre = { x: i + s.shift[a]!, y: j + s.shift[b]! };
    return centre.x === a0 && centre.y === b0 ? badArc(here, 'its radius is nothing') : centre;
  }
  return i === 0 && j === 0 ? badArc(here, 'its radius is nothing') : { x: a0 + i, y: b0 + j };
}

/** After an arc that cannot be drawn the reading goes on at its stated end. */
function straightInstead(s: MachineState, w: LineWords): void {
  findTarget(s, w, target);
  pushStraight(s, 'linear', target.place[0]!, target.place[1]!, target.place[2]!, target.known);
}

/** The signed sweep from direction (a0, b0) to (a1, b1), radians; a full turn when the ends are one point. */
function sweepOf(a0: number, b0: number, a1: number, b1: number, same: boolean, ccw: boolean): number {
  if (same) return ccw ? TWO_PI : -TWO_PI;
  const between = Math.atan2(a0 * b1 - b0 * a1, a0 * a1 + b0 * b1);
  if (ccw) return between > 0 ? between : between + TWO_PI;
  return between < 0 ? between : between - TWO_PI;
}

/**
 * The centre of an arc given by its radius, or why there is none. With the chord's left normal n and
 * h = √(R² − d²/4) it is the mid-point + h·n for G3 with R > 0 or G2 with R < 0, else − h·n (N11).
 */
function centreOfRadius(
  a0: number,
  b0: number,
  a1: number,
  b1: number,
  radius: number,
  ccw: boolean,
  tolerance: number,
): Point | string {
  const da = a1 - a0;
  const db = b1 - b0;
  const d = Math.hypot(da, db);
  if (d <= SAME) return 'it ends where it starts, which only I and J can say';
  const half = d / 2;
  if (half > Math.abs(radius) + tolerance) return 'its radius is shorter than half the way to its end';
  const h = Math.sqrt(Math.max(0, radius * radius - half * half)) * (ccw === radius > 0 ? 1 : -1);
  return { x: (a0 + a1) / 2 - (db / d) * h, y: (b0 + b1) / 2 + (da / d) * h };
}
