import type { Point } from '@haunch/geometry';
import { along, cross, dot, type Frame, length, toWorld, type Vec } from '../frame.js';
import { common, END_PRESS, meetings } from './fit-bands.js';
import { judgeLeaning } from './judge-leaning.js';
import { gapsBetween, squaresOf } from './misfit.js';
import { bandSection, type Interval, type Layer, type Plate, sectionOf } from './plate-layers.js';
import type { Standing } from './standing-plate.js';

/** What two standing plates do to each other: `ends` that meet, `bearings` of faces; null where they would overlap. */
export interface Meeting {
  readonly ends: number;
  readonly bearings: number;
  /** The sum of the squares of what stands open or presses between walls, faces and ends. mm² */
  readonly misfit: number;
}

/** A plate in its place, with the box round it. */
export function stand(plate: Plate, frame: Frame, id = 0): Standing {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  const { origin, u, v, n } = frame;
  for (let k = 0; k < 3; k++) {
    for (const c of plate.corners) {
      const x = origin[k]! + c.x * u[k]! + c.y * v[k]!;
      if (x < low[k]!) low[k] = x;
      if (x > high[k]!) high[k] = x;
    }
    const up = plate.part.thickness * n[k]!;
    if (up < 0) low[k]! += up;
    else high[k]! += up;
  }
  return { plate, frame, id, low, high, corners: null };
}

const NEAR = 1;
/** Two plates that do not touch. */
export const APART: Meeting = { ends: 0, bearings: 0, misfit: 0 };
/** True where the boxes round two standing plates touch. */
export const boxesMeet = (a: Standing, b: Standing): boolean =>
  a.low[0] <= b.high[0] + NEAR &&
  b.low[0] <= a.high[0] + NEAR &&
  a.low[1] <= b.high[1] + NEAR &&
  b.low[1] <= a.high[1] + NEAR &&
  a.low[2] <= b.high[2] + NEAR &&
  b.low[2] <= a.high[2] + NEAR;

const flat = (f: Frame, d: Vec): { x: number; y: number } => ({ x: dot(d, f.u), y: dot(d, f.v) });

/** How far beyond a plate's faces it is looked whether walls bear on them. mm */
const BEYOND = 0.9;

/** The least length along which a wall bears. mm */
const BEARS = 3;

/** A plate as it is cut along a line in the world. */
interface Cut {
  readonly d: Point;
  readonly m: Point;
  /** Where the other plate's face n− is, across the line, and where the plate's drawing begins along it. */
  readonly zero: number;
  readonly start: number;
}

const cutOf = ({ frame }: Standing, d: Vec, other: Standing): Cut => ({
  d: flat(frame, d),
  m: flat(frame, other.frame.n),
  zero: dot(other.frame.origin, other.frame.n) - dot(frame.origin, other.frame.n),
  start: dot(frame.origin, d),
});

/** On how many sides of a slice of the other plate the material of a slice lies against what that has inside. */
function bearingsOn(
  { d, m, zero, start }: Cut,
  layer: Layer,
  other: Layer,
  inside: readonly Interval[],
  shift: number,
): number {
  if (inside.length === 0) return 0;
  let count = 0;
  for (const at of [other.low - BEYOND, other.high + BEYOND])
    if (common(bandSection(layer, d, m, zero + at, 0), inside, shift - start) > BEARS) count++;
  return count;
}

function square(a: Standing, b: Standing, d: Vec): Meeting | null {
  let ends = 0;
  let bearings = 0;
  const ca = cutOf(a, d, b);
  const cb = cutOf(b, d, a);
  for (const la of a.plate.layers)
    for (const lb of b.plate.layers) {
      const ia = bandSection(la, ca.d, ca.m, ca.zero + (lb.low + lb.high) / 2, lb.high - lb.low);
      const ib = bandSection(lb, cb.d, cb.m, cb.zero + (la.low + la.high) / 2, la.high - la.low);
      const shift = cb.start - ca.start;
      const met = meetings(ia, ib, shift);
      if (common(ia, ib, shift) > END_PRESS * met.ends + 0.05) return null;
      ends += met.ends;
      bearings += bearingsOn(ca, la, lb, ib, cb.start) + bearingsOn(cb, lb, la, ia, ca.start);
    }
  const misfit = ends > 0 && bearings > 1 ? squaresOf(gapsBetween(a, b)) : 0;
  return { ends, bearings, misfit };
}

function parallel(a: Standing, b: Standing): Meeting | null {
  const z = (s: Standing): [number, number] => {
    const p = dot(s.frame.origin, a.frame.n);
    const q = p + dot(s.frame.n, a.frame.n) * s.plate.part.thickness;
    return [Math.min(p, q), Math.max(p, q)];
  };
  const [a0, a1] = z(a);
  const [b0, b1] = z(b);
  if (Math.min(a1, b1) - Math.max(a0, b0) < 0.4) return APART;
  const d = a.frame.u;
  const across = a.frame.v;
  const spread = (s: Standing): [number, number] => {
    const c = s.plate.corners.map((p) => dot(toWorld(s.frame, p, 0), across));
    return [Math.min(...c), Math.max(...c)];
  };
  const [p0, p1] = spread(a);
  const [q0, q1] = spread(b);
  const from = Math.max(p0, q0);
  const to = Math.min(p1, q1);
  const lines = 7;
  for (let k = 0; k < lines; k++) {
    const at = from + ((to - from) * (k + 0.5)) / lines;
    if (to - from < 0.8) return APART;
    const cut = (s: Standing): Interval[] =>
      sectionOf(
        s.plate.layers[0]!,
        flat(s.frame, d),
        flat(s.frame, across),
        at - dot(s.frame.origin, across),
      ).map(([x, y]): Interval => [x + dot(s.frame.origin, d), y + dot(s.frame.origin, d)]);
    if (common(cut(a), cut(b)) > 0.8) return null;
  }
  return APART;
}

/** How two standing plates meet. */
export function judgePlates(a: Standing, b: Standing): Meeting | null {
  if (!boxesMeet(a, b)) return APART;
  const c = cross(a.frame.n, b.frame.n);
  const l = length(c);
  if (l < 1e-3) return parallel(a, b);
  if (l < 1 - 1e-6) {
    const met = judgeLeaning(a, b, along([0, 0, 0], 1 / l, c));
    return met === null ? null : { ...APART, ...met };
  }
  return square(a, b, along([0, 0, 0], 1 / l, c));
}
