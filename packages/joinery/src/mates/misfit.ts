import type { Point } from '@haunch/geometry';
import { along, cross, dot, length, type Vec } from '../frame.js';
import { END_PRESS, END_SLACK } from './fit-bands.js';
import { bandSection, type Interval, type Layer } from './plate-layers.js';
import type { Standing } from './standing-plate.js';

/** How far a wall stands from the face or the end that it is meant to lie against; below 0 where it presses. mm */
export interface Gap {
  /** Out of the material of the first plate's wall, or into that of the second's, in the world. */
  readonly normal: Vec;
  readonly gap: number;
}

/** Walls this near to a face are meant to lie against it: what is farther off no longer bears. mm */
const REACH = 1.2;

/** The least length along which a wall and a face lie against each other. mm */
const LEAST = 2;

/** Lines this long or longer must not lean by more than a thousandth of a millimetre per 20 mm. */
const PARALLEL = 5e-5;

/** A straight wall along a given direction. */
interface Wall {
  readonly from: number;
  readonly to: number;
  /** Across the direction, to the left of it. */
  readonly offset: number;
  /** +1 where the material lies to the right of the direction, so that it ends towards the left. */
  readonly out: 1 | -1;
}

const known = new WeakMap<Layer, Map<string, readonly Wall[]>>();

/** The walls of a slice that run along `d`. */
function wallsAlong(layer: Layer, d: Point): readonly Wall[] {
  let mine = known.get(layer);
  if (mine === undefined) {
    mine = new Map();
    known.set(layer, mine);
  }
  const key = `${Math.round(d.x * 1e6)} ${Math.round(d.y * 1e6)}`;
  let found = mine.get(key);
  if (found === undefined) {
    found = layer.straights.flatMap(({ from, to }): Wall[] => {
      const x = to.x - from.x;
      const y = to.y - from.y;
      if (Math.abs(x * d.y - y * d.x) > PARALLEL * Math.hypot(x, y)) return [];
      const a = from.x * d.x + from.y * d.y;
      const b = to.x * d.x + to.y * d.y;
      const offset = from.y * d.x - from.x * d.y;
      return [{ from: Math.min(a, b), to: Math.max(a, b), offset, out: b > a ? -1 : 1 }];
    });
    mine.set(key, found);
  }
  return found;
}

const overlap = (from: number, to: number, spans: readonly Interval[]): number =>
  spans.reduce((sum, [p, q]) => sum + Math.max(0, Math.min(q, to) - Math.max(p, from)), 0);

const flat = (s: Standing, d: Vec): Point => ({ x: dot(d, s.frame.u), y: dot(d, s.frame.v) });

/** The stretches of a slice in the slab of the other plate, along `d` in the world. */
export function insideOf(a: Standing, la: Layer, b: Standing, lb: Layer, d: Vec): Interval[] {
  const z = dot(b.frame.origin, b.frame.n) - dot(a.frame.origin, b.frame.n);
  const s = dot(a.frame.origin, d);
  const inside = bandSection(
    la,
    flat(a, d),
    flat(a, b.frame.n),
    z + (lb.low + lb.high) / 2,
    lb.high - lb.low,
  );
  return inside.map(([p, q]): Interval => [p + s, q + s]);
}

/** The gaps of walls of `a` from the faces of the slice `lb` of `b`, which has the material `there` along `d`. */
function wallGaps(
  a: Standing,
  la: Layer,
  b: Standing,
  lb: Layer,
  d: Vec,
  there: readonly Interval[],
  put: (normal: Vec, gap: number) => void,
): void {
  const dd = flat(a, d);
  const n = b.frame.n;
  const m = flat(a, n);
  // n is d turned left in the plane of a, or right.
  const side = dd.x * m.y - dd.y * m.x > 0 ? 1 : -1;
  const s = dot(a.frame.origin, d);
  const z = dot(a.frame.origin, n) - dot(b.frame.origin, n);
  for (const w of wallsAlong(la, dd)) {
    const up = w.out === side;
    const at = z + side * w.offset;
    const gap = up ? lb.low - at : at - lb.high;
    if (Math.abs(gap) > REACH || overlap(w.from + s, w.to + s, there) < LEAST) continue;
    put(up ? n : [-n[0], -n[1], -n[2]], gap);
  }
}

/** What stands between two plates that meet square: walls from faces, and ends from ends. */
export function gapsBetween(a: Standing, b: Standing): Gap[] {
  const c = cross(a.frame.n, b.frame.n);
  const l = length(c);
  const out: Gap[] = [];
  if (l < 1 - 1e-6) return out;
  const d = along([0, 0, 0], 1 / l, c);
  const back = along([0, 0, 0], -1, d);
  for (const la of a.plate.layers)
    for (const lb of b.plate.layers) {
      const ia = insideOf(a, la, b, lb, d);
      const ib = insideOf(b, lb, a, la, d);
      wallGaps(a, la, b, lb, d, ib, (normal, gap) => void out.push({ normal, gap }));
      wallGaps(b, lb, a, la, d, ia, (n, gap) => void out.push({ normal: [-n[0], -n[1], -n[2]], gap }));
      for (const p of ia)
        for (const q of ib) {
          const after = q[0] - p[1];
          const before = p[0] - q[1];
          if (after >= -END_PRESS && after <= END_SLACK) out.push({ normal: d, gap: after });
          if (before >= -END_PRESS && before <= END_SLACK) out.push({ normal: back, gap: before });
        }
    }
  return out;
}

/** The sum of the squares of gaps. mm² */
export const squaresOf = (gaps: readonly Gap[]): number => gaps.reduce((sum, { gap }) => sum + gap * gap, 0);
