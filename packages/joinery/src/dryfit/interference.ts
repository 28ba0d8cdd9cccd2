import {
  intersectRings,
  type Region,
  type Ring,
  regionArea,
  ringPerimeter,
  ringsOfRegion,
  subtractRings,
} from '@haunch/geometry';
import { dot, inPlate, toWorld, type Vec } from '../frame.js';
import { type Corner, clippedArea } from './convex.js';
import { SKIN } from './dryfit-tolerance.js';
import { boxesApart, type Pair } from './pair.js';
import { type Profile, profilesOf, type Span, spansAt, stopsOf } from './profile.js';
import type { Layer, Solid } from './solid.js';

/** What a stretch of the line carries: the exact amount, and what of it is thicker than a contact. */
interface Amount {
  readonly exact: number;
  readonly thick: number;
}

/** Points and weights of Gauss and Legendre on −1 … 1 (Abramowitz and Stegun 1964, table 25.4). */
const TWO_POINTS: readonly (readonly [number, number])[] = [
  [-0.5773502691896257, 1],
  [0.5773502691896257, 1],
];
const EIGHT_POINTS: readonly (readonly [number, number])[] = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
].flatMap(([x, w]) => [[-x!, w!] as const, [x!, w!] as const]);

/**
 * The integral of a function over a stretch. Between stops it is a polynomial of at most the second degree for
 * straight edges, for which two points are exact. Edges that are arcs rise at their tops like a root; there the
 * points crowd towards the ends (s = m + h(3x − x³)/2), which takes the root away.
 */
function integrate(f: (s: number) => Amount, from: number, to: number, curved: boolean): Amount {
  const m = (from + to) / 2;
  const h = (to - from) / 2;
  let exact = 0;
  let thick = 0;
  const add = (s: number, k: number): void => {
    const value = f(s);
    exact += k * value.exact;
    thick += k * value.thick;
  };
  if (curved)
    for (const [y, w] of EIGHT_POINTS)
      for (const x of [(y - 1) / 2, (y + 1) / 2])
        add(m + (h * (3 * x - x * x * x)) / 2, (w * h * 3 * (1 - x * x)) / 4);
  else for (const [x, w] of TWO_POINTS) add(m + h * x, w * h);
  return { exact, thick };
}

/** The share of an askew pair's volume that halving a stretch may still change, mm³. */
const SETTLED = 1e-7;
const DEEPEST = 16;

/** The same, halving until nothing changes: where two planes lean, corners meet edges between the stops. */
function integrateSettled(
  f: (s: number) => Amount,
  from: number,
  to: number,
  whole = integrate(f, from, to, true),
  depth = 0,
): Amount {
  const m = (from + to) / 2;
  const a = integrate(f, from, m, true);
  const b = integrate(f, m, to, true);
  const both = { exact: a.exact + b.exact, thick: a.thick + b.thick };
  if (depth >= DEEPEST || Math.abs(both.exact - whole.exact) <= SETTLED) return both;
  const left = integrateSettled(f, from, m, a, depth + 1);
  const right = integrateSettled(f, m, to, b, depth + 1);
  return { exact: left.exact + right.exact, thick: left.thick + right.thick };
}

const sum = (spans: readonly Span[]): Amount => {
  let exact = 0;
  let thick = 0;
  for (const { low, high } of spans) {
    exact += high - low;
    if (high - low > SKIN) thick += high - low;
  }
  return { exact, thick };
};

/** Where the heights of a layer lie along a direction that is its normal or the opposite. */
function slabAlong(p: Profile, normal: Vec, direction: Vec): [number, number] {
  return dot(normal, direction) > 0 ? [p.w[0], p.w[1]] : [-p.w[1], -p.w[0]];
}

const EVERYWHERE: readonly [number, number] = [-Infinity, Infinity];

/** An askew pair's common section at one s: rectangles of A against rectangles of B, turned. */
function askewSection({ a, b, acrossA, acrossB }: Pair, pa: Profile, pb: Profile): (s: number) => Amount {
  const c = dot(acrossA, acrossB);
  const d = dot(acrossA, b.frame.n);
  const e = dot(a.frame.n, acrossB);
  const g = dot(a.frame.n, b.frame.n);
  return (s) => {
    const spansA = spansAt(pa, s, EVERYWHERE);
    if (spansA.length === 0) return { exact: 0, thick: 0 };
    const rects = spansAt(pb, s, EVERYWHERE).map(({ low, high }): Corner[] =>
      (
        [
          [low, pb.w[0]],
          [high, pb.w[0]],
          [high, pb.w[1]],
          [low, pb.w[1]],
        ] as const
      ).map(([x, w]): Corner => [x * c + w * d, x * e + w * g]),
    );
    let exact = 0;
    let thick = 0;
    for (const { low, high } of spansA)
      for (const rect of rects) {
        const { area, width } = clippedArea(rect, [low, high], pa.w);
        exact += area;
        if (width > SKIN) thick += area;
      }
    return { exact, thick };
  };
}

/** The common volume of a layer of each plate of a pair whose planes meet. mm³ */
function leaningVolume(pair: Pair, pa: Profile, pb: Profile): number {
  const s: [number, number] = [
    Math.max(pa.outer.s[0], pb.outer.s[0]),
    Math.min(pa.outer.s[1], pb.outer.s[1]),
  ];
  if (s[1] - s[0] <= SKIN) return 0;
  const square = pair.lie === 'square';
  const bandA = square ? slabAlong(pb, pair.b.frame.n, pair.acrossA) : EVERYWHERE;
  const bandB = square ? slabAlong(pa, pair.a.frame.n, pair.acrossB) : EVERYWHERE;
  const section = square
    ? (x: number): Amount => {
        const spans = spansAt(pa, x, bandA);
        if (spans.length === 0) return { exact: 0, thick: 0 };
        const one = sum(spans);
        const two = sum(spansAt(pb, x, bandB));
        return { exact: one.exact * two.exact, thick: one.thick * two.thick };
      }
    : askewSection(pair, pa, pb);
  const stops = [...stopsOf(pa, bandA, s), ...stopsOf(pb, bandB, s)].sort((x, y) => x - y);
  const curved = pa.curved || pb.curved;
  let total = 0;
  let deep = false;
  // A stretch of the line over which the plates overlap by more than a contact; shorter ones are corners that touch.
  let run = 0;
  for (let i = 0; i + 1 < stops.length; i++) {
    const from = stops[i]!;
    const to = stops[i + 1]!;
    if (to - from < 1e-9) continue;
    const amount = square
      ? section((from + to) / 2).exact > 0
        ? integrate(section, from, to, curved)
        : { exact: 0, thick: 0 }
      : integrateSettled(section, from, to);
    total += amount.exact;
    run = amount.thick > 0 ? run + to - from : 0;
    if (run > SKIN) deep = true;
  }
  return deep ? total : 0;
}

const material = new WeakMap<Layer, readonly Ring[]>();

/** The rings of a layer's material. */
function ringsOf(layer: Layer): readonly Ring[] {
  const before = material.get(layer);
  if (before) return before;
  const rings =
    layer.voids.length === 0
      ? [layer.outer]
      : subtractRings(
          [layer.outer],
          layer.voids.map((v) => v.ring),
        ).flatMap(ringsOfRegion);
  material.set(layer, rings);
  return rings;
}

/** A ring of one plate in the plane of a parallel one. */
function ringInPlane(r: Ring, from: Solid, to: Solid): Ring {
  const mirrored = dot(from.frame.n, to.frame.n) < 0 ? -1 : 1;
  return {
    vertices: r.vertices.map((v) => {
      const { x, y } = inPlate(to.frame, toWorld(from.frame, v, 0));
      return { x, y, bulge: mirrored * v.bulge };
    }),
  };
}

const thinner = (r: Region): boolean =>
  2 * regionArea(r) <= SKIN * ringsOfRegion(r).reduce((sum2, ring) => sum2 + ringPerimeter(ring), 0);

/** The common volume of two parallel plates: areas in common times heights in common. mm³ */
function parallelVolume({ a, b }: Pair): number {
  const up = dot(a.frame.n, b.frame.n) > 0;
  const offset = inPlate(a.frame, b.frame.origin).w;
  let total = 0;
  let deep = false;
  for (const la of a.layers)
    for (const lb of b.layers) {
      const wb = up ? [offset + lb.w[0], offset + lb.w[1]] : [offset - lb.w[1], offset - lb.w[0]];
      const height = Math.min(la.w[1], wb[1]!) - Math.max(la.w[0], wb[0]!);
      if (height <= 0) continue;
      const regions = intersectRings(
        ringsOf(la),
        ringsOf(lb).map((r) => ringInPlane(r, b, a)),
      );
      for (const r of regions) {
        total += height * regionArea(r);
        if (height > SKIN && !thinner(r)) deep = true;
      }
    }
  return deep ? total : 0;
}

/**
 * The volume that two plates have in common, mm³; 0 where they overlap by no more than 0.001 mm in some direction,
 * which is contact. Square and parallel plates are exact, arcs included; plates that lean to each other are integrated
 * until halving a stretch changes less than 0.0000001 mm³.
 */
export function interferenceOf(pair: Pair): number {
  if (boxesApart(pair.a, pair.b, SKIN)) return 0;
  if (pair.lie === 'parallel') return parallelVolume(pair);
  let total = 0;
  for (const pa of profilesOf(pair.a, pair.line, pair.acrossA))
    for (const pb of profilesOf(pair.b, pair.line, pair.acrossB)) total += leaningVolume(pair, pa, pb);
  return total;
}
