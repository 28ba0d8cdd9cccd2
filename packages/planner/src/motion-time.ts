import type { Point } from '@haunch/geometry';
import { sweepAround } from '@haunch/geometry';
import type { Machine, Place, StepTime } from '@haunch/model';
import type { CutMove } from './cut-move.js';
import { CORNER_TOLERANCE } from './practice.js';

/** A stretch to be travelled: mm, mm/s, mm/s². */
export interface Travel {
  readonly length: number;
  readonly speed: number;
  readonly acceleration: number;
  /** Speeds at its start and end; 0 unless given. */
  readonly entering?: number;
  readonly leaving?: number;
}

/**
 * Seconds to travel a stretch with constant acceleration (reference value C13): a trapezoid of speed, or a
 * triangle with peak √((2aL + v₀² + v₁²)/2) where the wanted speed is not reached.
 * @throws RangeError when speed or acceleration is not positive.
 */
export function travelSeconds({ length, speed, acceleration: a, entering = 0, leaving = 0 }: Travel): number {
  if (!(speed > 0) || !(a > 0)) throw new RangeError(`travelSeconds: speed ${speed}, acceleration ${a}`);
  if (length <= 0) return 0;
  const v0 = Math.min(entering, speed);
  const v1 = Math.min(leaving, speed);
  const peak = Math.min(speed, Math.sqrt((2 * a * length + v0 * v0 + v1 * v1) / 2));
  const top = Math.max(peak, v0, v1);
  const ramps = (top * top - v0 * v0) / (2 * a) + (top * top - v1 * v1) / (2 * a);
  return (top - v0) / a + (top - v1) / a + Math.max(0, length - ramps) / top;
}

/**
 * Speed through a corner between two unit directions, mm/s: that of the circle tangent to both legs which
 * stays within the tolerance of the corner, r = δ·sin(θ/2)/(1 − sin(θ/2)), v = √(a·r) (reference value C14).
 */
export function cornerSpeed(
  before: readonly number[],
  after: readonly number[],
  acceleration: number,
  tolerance = CORNER_TOLERANCE,
): number {
  const cos = before.reduce((sum, v, i) => sum + v * after[i]!, 0);
  // sin(θ/2) of the interior angle θ is cos of half the change of direction.
  const half = Math.sqrt(Math.max(0, (1 + Math.min(1, cos)) / 2));
  return half > 1 - 1e-9 ? Infinity : Math.sqrt((acceleration * tolerance * half) / (1 - half));
}

interface Leg {
  readonly length: number;
  readonly speed: number;
  readonly start: readonly number[];
  readonly end: readonly number[];
}

const unit = (x: number, y: number, z: number): readonly number[] => {
  const l = Math.hypot(x, y, z);
  return [x / l, y / l, z / l];
};

function legOf(
  from: Place,
  m: CutMove,
  machine: Pick<Machine, 'rapidRate' | 'acceleration'>,
): Leg | undefined {
  const dz = m.to.z - from.z;
  const wanted = (m.kind === 'rapid' ? machine.rapidRate : m.feed) / 60;
  if (m.kind !== 'circular') {
    const [dx, dy] = [m.to.x - from.x, m.to.y - from.y];
    const length = Math.hypot(dx, dy, dz);
    if (length === 0) return undefined;
    const d = unit(dx, dy, dz);
    return { length, speed: wanted, start: d, end: d };
  }
  const radius = Math.hypot(from.x - m.centre.x, from.y - m.centre.y);
  const sweep = sweepAround(m.centre, from, m.to, m.turn);
  const flat = radius * Math.abs(sweep);
  const tangent = (p: Point) => {
    const side = (m.turn === 'ccw' ? 1 : -1) / radius;
    return unit(-(p.y - m.centre.y) * side, (p.x - m.centre.x) * side, dz / flat);
  };
  return {
    length: Math.hypot(flat, dz),
    speed: Math.min(wanted, Math.sqrt(machine.acceleration * radius)),
    start: tangent(from),
    end: tangent(m.to),
  };
}

/**
 * Seconds of each motion of a chain travelled from standstill to standstill, looking ahead over all of it: corners
 * at `cornerSpeed`, arcs at no more than √(a·r), everything else at its feed.
 */
export function secondsOfMoves(
  from: Place,
  moves: readonly CutMove[],
  machine: Pick<Machine, 'rapidRate' | 'acceleration'>,
): number[] {
  const legs: Leg[] = [];
  const owner: number[] = [];
  let at = from;
  moves.forEach((m, i) => {
    const leg = legOf(at, m, machine);
    if (leg) {
      legs.push(leg);
      owner.push(i);
    }
    at = m.to;
  });
  const a = machine.acceleration;
  const ends = legs.map((leg, i) => {
    const next = legs[i + 1];
    return next === undefined ? 0 : Math.min(leg.speed, next.speed, cornerSpeed(leg.end, next.start, a));
  });
  for (let i = legs.length - 1; i > 0; i--)
    ends[i - 1] = Math.min(ends[i - 1]!, Math.sqrt(ends[i]! ** 2 + 2 * a * legs[i]!.length));
  const seconds = moves.map(() => 0);
  let entering = 0;
  legs.forEach((leg, i) => {
    const leaving = Math.min(ends[i]!, Math.sqrt(entering ** 2 + 2 * a * leg.length));
    seconds[owner[i]!] = travelSeconds({
      length: leg.length,
      speed: leg.speed,
      acceleration: a,
      entering,
      leaving,
    });
    entering = leaving;
  });
  return seconds;
}

/** Seconds that a chain of motions takes from standstill to standstill: `secondsOfMoves`, summed. */
export const motionSeconds = (
  from: Place,
  moves: readonly CutMove[],
  machine: Pick<Machine, 'rapidRate' | 'acceleration'>,
): number => secondsOfMoves(from, moves, machine).reduce((sum, s) => sum + s, 0);

/** Where the seconds of a chain of motions go; z from the sheet's top. */
export function timeSpent(
  from: Place,
  moves: readonly CutMove[],
  machine: Pick<Machine, 'rapidRate' | 'acceleration'>,
): StepTime {
  const spent = { cutting: 0, entering: 0, air: 0 };
  let at = from;
  secondsOfMoves(from, moves, machine).forEach((s, i) => {
    const { to } = moves[i]!;
    const inWood = Math.min(at.z, to.z) < -1e-6;
    spent[!inWood ? 'air' : to.z < at.z - 1e-6 ? 'entering' : 'cutting'] += s;
    at = to;
  });
  return spent;
}
