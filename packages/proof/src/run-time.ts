import type { Machine } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import { type Stretch, stretchLength } from './sweep/stretch.js';

/** How far a machine that slows at corners may stay off them, mm. Common practice, no source. */
const CORNER = 0.02;

interface Leg {
  readonly length: number;
  readonly speed: number;
  readonly start: readonly [number, number, number];
  readonly end: readonly [number, number, number];
}

/** The time from one speed to another over a length with a top speed, trapezoid or triangle (reference value C13). s */
export function legTime(length: number, v0: number, v1: number, most: number, acceleration: number): number {
  if (length <= 0) return 0;
  const peak = Math.min(most, Math.sqrt((2 * acceleration * length + v0 * v0 + v1 * v1) / 2));
  const ramps = (peak * peak - v0 * v0 + (peak * peak - v1 * v1)) / (2 * acceleration);
  const cruise = Math.max(0, length - ramps);
  return (peak - v0 + (peak - v1)) / acceleration + (peak > 0 ? cruise / peak : 0);
}

/**
 * The greatest speed through a corner, mm/s, from the circle that touches both legs and stays `CORNER` off the
 * corner (reference value C14); `cos` is the cosine of the interior angle.
 */
export function cornerSpeed(cos: number, acceleration: number): number {
  const half = Math.sqrt(Math.max(0, (1 - cos) / 2));
  if (half > 1 - 1e-9) return Infinity;
  return Math.sqrt((acceleration * CORNER * half) / (1 - half));
}

const unit = (x: number, y: number, z: number): readonly [number, number, number] => {
  const l = Math.hypot(x, y, z) || 1;
  return [x / l, y / l, z / l];
};

function legOf(s: Stretch, machine: Machine): Leg | null {
  const length = stretchLength(s);
  if (length === 0) return null;
  const wanted =
    s.kind === 'rapid' ? machine.rapidRate : Math.min(s.feed ?? machine.maxFeed, machine.maxFeed);
  const straight = unit(s.to.x - s.from.x, s.to.y - s.from.y, s.to.z - s.from.z);
  if (s.centre === null || s.sweep === 0)
    return { length, speed: wanted / 60, start: straight, end: straight };
  const r = Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
  const turn = Math.sign(s.sweep);
  const rise = (s.to.z - s.from.z) / (Math.abs(s.sweep) * r || 1);
  const at = (p: { readonly x: number; readonly y: number }, c: { readonly x: number; readonly y: number }) =>
    unit((-(p.y - c.y) / r) * turn, ((p.x - c.x) / r) * turn, rise);
  const most = Math.sqrt(machine.acceleration * r);
  return { length, speed: Math.min(wanted / 60, most), start: at(s.from, s.centre), end: at(s.to, s.centre) };
}

/**
 * Seconds that each of a run of motions takes with one acceleration: trapezoids between corner speeds, backward and
 * forward passes so that every leg can brake in time. Feeds in mm/min, acceleration in mm/s².
 */
export function stretchSeconds(stretches: readonly Stretch[], machine: Machine): number[] {
  const found = stretches.map((s) => legOf(s, machine));
  const legs = found.flatMap((l) => l ?? []);
  const a = machine.acceleration;
  const v = new Array<number>(legs.length + 1).fill(0);
  for (let i = 1; i < legs.length; i++) {
    const p = legs[i - 1]!;
    const q = legs[i]!;
    const cos = -(p.end[0] * q.start[0] + p.end[1] * q.start[1] + p.end[2] * q.start[2]);
    v[i] = Math.min(p.speed, q.speed, cornerSpeed(cos, a));
  }
  for (let i = legs.length - 1; i >= 0; i--)
    v[i] = Math.min(v[i]!, Math.sqrt(v[i + 1]! ** 2 + 2 * a * legs[i]!.length));
  for (let i = 0; i < legs.length; i++)
    v[i + 1] = Math.min(v[i + 1]!, Math.sqrt(v[i]! ** 2 + 2 * a * legs[i]!.length));
  let i = 0;
  return found.map((l) => {
    if (l === null) return 0;
    const seconds = legTime(l.length, v[i]!, v[i + 1]!, l.speed, a);
    i++;
    return seconds;
  });
}

/** Seconds that a run of motions takes in all; see `stretchSeconds`. */
export const motionSeconds = (stretches: readonly Stretch[], machine: Machine): number =>
  stretchSeconds(stretches, machine).reduce((sum, t) => sum + t, 0);

/** Seconds that a program runs: motions, dwells, and the spindle coming up to speed each time it starts. */
export function programSeconds(reading: NcReading, stretches: readonly Stretch[], machine: Machine): number {
  let waiting = 0;
  let turning = 0;
  for (const m of reading.moves) {
    if (m.kind === 'tool-change') turning = 0;
    if (!('spindle' in m)) continue;
    if (m.kind === 'dwell') waiting += m.seconds;
    if (m.spindle !== 0 && turning === 0) waiting += machine.spinUp;
    turning = m.spindle;
  }
  return motionSeconds(stretches, machine) + waiting;
}
