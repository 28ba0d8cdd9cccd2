import { type Ring, ringSegments } from '@haunch/geometry';
import { dot, type Vec } from '../frame.js';
import type { Layer, Solid } from './solid.js';

/** A stretch of a curve that only rises or only falls, from s0 to s1 ≥ s0; part of a circle where `r` is given. */
export interface Stroke {
  readonly s0: number;
  readonly a0: number;
  readonly s1: number;
  readonly a1: number;
  readonly arc?: { readonly s: number; readonly a: number; readonly r: number; readonly sign: 1 | -1 };
}

/** A closed curve as strokes, with its extent. */
export interface Curve {
  readonly strokes: readonly Stroke[];
  readonly s: readonly [number, number];
  readonly a: readonly [number, number];
}

/** The section of a layer seen along its plane: s runs along a line of the world, a across it. mm. */
export interface Profile {
  readonly outer: Curve;
  readonly voids: readonly Curve[];
  readonly curved: boolean;
  /** The layer's heights along the plate's normal, in the world. */
  readonly w: readonly [number, number];
}

const QUARTER = Math.PI / 2;

function strokesOf(r: Ring, at: (x: number, y: number) => readonly [number, number]): Stroke[] {
  const out: Stroke[] = [];
  const add = (p: readonly [number, number], q: readonly [number, number], arc?: Stroke['arc']): void => {
    const [from, to] = p[0] <= q[0] ? [p, q] : [q, p];
    out.push({ s0: from[0], a0: from[1], s1: to[0], a1: to[1], ...(arc ? { arc } : {}) });
  };
  for (const seg of ringSegments(r)) {
    const p = at(seg.from.x, seg.from.y);
    const q = at(seg.to.x, seg.to.y);
    if (seg.kind === 'line') {
      add(p, q);
      continue;
    }
    const c = at(seg.centre.x, seg.centre.y);
    const turned = Math.atan2(p[1] - c[1], p[0] - c[0]);
    // The map may mirror; where the end lies tells which way the arc turns in the profile.
    const probe = at(seg.centre.x - (seg.from.y - seg.centre.y), seg.centre.y + (seg.from.x - seg.centre.x));
    const hand = (p[0] - c[0]) * (probe[1] - c[1]) - (p[1] - c[1]) * (probe[0] - c[0]) > 0 ? 1 : -1;
    const sweep = seg.sweep * hand;
    const end = turned + sweep;
    const [low, high] = [Math.min(turned, end), Math.max(turned, end)];
    const stops = [low];
    for (let k = Math.floor(low / QUARTER) + 1; k * QUARTER < high - 1e-12; k++)
      if (k * QUARTER > low + 1e-12) stops.push(k * QUARTER);
    stops.push(high);
    const r2 = seg.radius;
    const place = (t: number): readonly [number, number] =>
      t === turned ? p : t === end ? q : [c[0] + r2 * Math.cos(t), c[1] + r2 * Math.sin(t)];
    for (let k = 0; k + 1 < stops.length; k++) {
      const middle = (stops[k]! + stops[k + 1]!) / 2;
      const sign = Math.sin(middle) >= 0 ? 1 : -1;
      add(place(stops[k]!), place(stops[k + 1]!), { s: c[0], a: c[1], r: r2, sign });
    }
  }
  return out;
}

function curveOf(r: Ring, at: (x: number, y: number) => readonly [number, number]): Curve {
  const strokes = strokesOf(r, at);
  let [minS, maxS, minA, maxA] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const k of strokes) {
    minS = Math.min(minS, k.s0);
    maxS = Math.max(maxS, k.s1);
    minA = Math.min(minA, k.a0, k.a1);
    maxA = Math.max(maxA, k.a0, k.a1);
  }
  return { strokes, s: [minS, maxS], a: [minA, maxA] };
}

const known = new WeakMap<Solid, Map<string, readonly Profile[]>>();

function profileOf(solid: Solid, layer: Layer, line: Vec, across: Vec): Profile {
  const { origin, u, v, n } = solid.frame;
  const [os, us, vs] = [dot(origin, line), dot(u, line), dot(v, line)];
  const [oa, ua, va] = [dot(origin, across), dot(u, across), dot(v, across)];
  const at = (x: number, y: number): readonly [number, number] => [
    os + x * us + y * vs,
    oa + x * ua + y * va,
  ];
  const outer = curveOf(layer.outer, at);
  const voids = layer.voids.map((c) => curveOf(c.ring, at));
  const h = dot(origin, n);
  return {
    outer,
    voids,
    curved: [outer, ...voids].some((c) => c.strokes.some((k) => k.arc)),
    w: [h + layer.w[0], h + layer.w[1]],
  };
}

/** The profiles of all layers of a plate along a line in its plane; remembered with the plate. */
export function profilesOf(solid: Solid, line: Vec, across: Vec): readonly Profile[] {
  const key = [...line, ...across].map((x) => x.toFixed(12)).join(' ');
  let all = known.get(solid);
  if (!all) {
    all = new Map();
    known.set(solid, all);
  }
  const before = all.get(key);
  if (before) return before;
  const made = solid.layers.map((layer) => profileOf(solid, layer, line, across));
  all.set(key, made);
  return made;
}

/** Where a stroke is at `s`, between its ends. */
export function heightAt(k: Stroke, s: number): number {
  if (!k.arc) return k.a0 + ((k.a1 - k.a0) * (s - k.s0)) / (k.s1 - k.s0);
  const d = s - k.arc.s;
  return k.arc.a + k.arc.sign * Math.sqrt(Math.max(0, (k.arc.r - d) * (k.arc.r + d)));
}

/** Where a stroke reaches the height `a`; nothing where it does not, or runs along it. */
function reaches(k: Stroke, a: number): number | undefined {
  if (a <= Math.min(k.a0, k.a1) || a >= Math.max(k.a0, k.a1)) return undefined;
  if (!k.arc) return k.s0 + ((k.s1 - k.s0) * (a - k.a0)) / (k.a1 - k.a0);
  const d = a - k.arc.a;
  const half = Math.sqrt(Math.max(0, (k.arc.r - d) * (k.arc.r + d)));
  return (k.s0 + k.s1) / 2 >= k.arc.s ? k.arc.s + half : k.arc.s - half;
}

const curvesIn = (p: Profile, a: readonly [number, number], s: readonly [number, number]): Curve[] => [
  p.outer,
  ...p.voids.filter((c) => c.a[0] < a[1] && c.a[1] > a[0] && c.s[0] < s[1] && c.s[1] > s[0]),
];

/** Every s where the section within the band `a` can change its course; sorted, within `s`, its ends included. */
export function stopsOf(p: Profile, a: readonly [number, number], s: readonly [number, number]): number[] {
  const out = [s[0], s[1]];
  const add = (x: number | undefined): void => {
    if (x !== undefined && x > s[0] && x < s[1]) out.push(x);
  };
  for (const c of curvesIn(p, a, s))
    for (const k of c.strokes) {
      add(k.s0);
      add(k.s1);
      if (Number.isFinite(a[0])) add(reaches(k, a[0]));
      if (Number.isFinite(a[1])) add(reaches(k, a[1]));
    }
  return out.sort((x, y) => x - y);
}

/** The strokes that pass `s`, from below. */
function passing(c: Curve, s: number): Stroke[] {
  const found: { k: Stroke; a: number }[] = [];
  for (const k of c.strokes) if (k.s0 <= s && s < k.s1) found.push({ k, a: heightAt(k, s) });
  return found.sort((x, y) => x.a - y.a).map((f) => f.k);
}

/** A stretch of material across the line, between two heights that are functions of s. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

function within(c: Curve, s: number): Span[] {
  if (s <= c.s[0] || s >= c.s[1]) return [];
  const strokes = passing(c, s);
  const out: Span[] = [];
  for (let i = 0; i + 1 < strokes.length; i += 2)
    out.push({ low: heightAt(strokes[i]!, s), high: heightAt(strokes[i + 1]!, s) });
  return out;
}

const without = (spans: readonly Span[], hole: Span): Span[] =>
  spans.flatMap((x) =>
    hole.high <= x.low || hole.low >= x.high
      ? [x]
      : [
          ...(hole.low > x.low ? [{ low: x.low, high: hole.low }] : []),
          ...(hole.high < x.high ? [{ low: hole.high, high: x.high }] : []),
        ],
  );

/** The material across the line at `s`, within the band `a`, from below. */
export function spansAt(p: Profile, s: number, a: readonly [number, number]): Span[] {
  let spans: Span[] = [];
  for (const x of within(p.outer, s)) {
    const low = Math.max(x.low, a[0]);
    const high = Math.min(x.high, a[1]);
    if (high > low) spans.push({ low, high });
  }
  for (const c of p.voids) {
    if (spans.length === 0) break;
    if (c.a[0] >= a[1] || c.a[1] <= a[0]) continue;
    for (const hole of within(c, s)) spans = without(spans, hole);
  }
  return spans;
}
