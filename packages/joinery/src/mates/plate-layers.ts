import { flattenRing, type Point, ringSegments } from '@haunch/geometry';
import type { FlatPart } from './flat-part.js';

/** A stretch along a line, from its lesser to its greater end. mm */
export type Interval = readonly [number, number];

/** A straight edge with its material on the left. mm */
export interface Straight {
  readonly from: Point;
  readonly to: Point;
  /** Which curve it belongs to: 0 the outline, above 0 a cut. */
  readonly ring: number;
}

/** A slice of a plate that has one cross-section through its whole height. mm */
export interface Layer {
  readonly low: number;
  readonly high: number;
  readonly rings: readonly (readonly Point[])[];
  readonly straights: readonly Straight[];
}

/** A plate made ready for the search. mm */
export interface Plate {
  readonly part: FlatPart;
  readonly layers: readonly Layer[];
  /** The plate without its pockets, through its whole height. */
  readonly whole: Layer;
  readonly corners: readonly Point[];
  /** Corners of every curve, low and high, each with the length of the two chords that meet there. */
  readonly marksOfShape: readonly { readonly at: Point; readonly w: number; readonly weight: number }[];
  /** Plates of one class are congruent as drawn. */
  readonly family: number;
}

const CHORD = 0.05;

/** Edges shorter than this count only where they lie in one line with others, as fingers' tips do. mm */
const SHORTEST = 4;
const LEAST_TIP = 1;

const areaOf = (r: readonly Point[]): number =>
  r.reduce((sum, p, i) => {
    const q = r[(i + 1) % r.length]!;
    return sum + p.x * q.y - q.x * p.y;
  }, 0) / 2;

/** How far apart edges that lie in one line may be. mm */
const IN_LINE = 0.05;

/** The edges that are long, or as long with those in line with them that look the same way. */
function longOnes(all: readonly Straight[]): Straight[] {
  const lengthOf = ({ from, to }: Straight): number => Math.hypot(to.x - from.x, to.y - from.y);
  const short = all.filter((s) => lengthOf(s) < SHORTEST);
  if (short.length === 0) return [...all];
  const away = (s: Straight, p: Point): number =>
    ((s.to.x - s.from.x) * (p.y - s.from.y) - (s.to.y - s.from.y) * (p.x - s.from.x)) / lengthOf(s);
  const inLine = (s: Straight, o: Straight): boolean =>
    Math.abs(away(s, o.from)) < IN_LINE &&
    Math.abs(away(s, o.to)) < IN_LINE &&
    (o.to.x - o.from.x) * (s.to.x - s.from.x) + (o.to.y - o.from.y) * (s.to.y - s.from.y) > 0;
  return all.filter(
    (s) =>
      lengthOf(s) >= SHORTEST ||
      all.reduce((sum, o) => sum + (inLine(s, o) ? lengthOf(o) : 0), 0) >= SHORTEST,
  );
}

function layerOf(part: FlatPart, low: number, high: number, pockets = part.pockets): Layer {
  const mid = (low + high) / 2;
  const cut = pockets.filter((p) =>
    (p.face ?? 'n+') === 'n+' ? mid > part.thickness - p.depth : mid < p.depth,
  );
  const holes = [...part.through, ...cut.map((p) => p.ring)];
  const straights: Straight[] = [];
  const rings = [part.outline, ...holes].map((r, k) => {
    const points = flattenRing(r, { tolerance: CHORD });
    const materialLeft = areaOf(points) > 0 === (k === 0);
    for (const s of ringSegments(r))
      if (s.kind === 'line' && Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) >= LEAST_TIP)
        straights.push(
          materialLeft ? { from: s.from, to: s.to, ring: k } : { from: s.to, to: s.from, ring: k },
        );
    return points;
  });
  return { low, high, rings, straights: longOnes(straights) };
}

/** The plate as slices of constant cross-section, lowest first; a plate without pockets is one slice. */
export function plateOf(part: FlatPart, family: number): Plate {
  const cuts = [0, part.thickness];
  for (const p of part.pockets) cuts.push((p.face ?? 'n+') === 'n+' ? part.thickness - p.depth : p.depth);
  cuts.sort((a, b) => a - b);
  const layers: Layer[] = [];
  for (let i = 1; i < cuts.length; i++)
    if (cuts[i]! - cuts[i - 1]! > 0.01) layers.push(layerOf(part, cuts[i - 1]!, cuts[i]!));
  const marksOfShape = [
    { ring: part.outline, from: 0, to: part.thickness },
    ...part.through.map((ring) => ({ ring, from: 0, to: part.thickness })),
    ...part.pockets.map(({ ring, depth, face }) =>
      face === 'n-'
        ? { ring, from: 0, to: depth }
        : { ring, from: part.thickness - depth, to: part.thickness },
    ),
  ].flatMap(({ ring, from, to }) =>
    ring.vertices.flatMap((at, i) => {
      const before = ring.vertices[(i + ring.vertices.length - 1) % ring.vertices.length]!;
      const after = ring.vertices[(i + 1) % ring.vertices.length]!;
      const weight =
        Math.hypot(at.x - before.x, at.y - before.y) + Math.hypot(at.x - after.x, at.y - after.y);
      return [from, to].map((w) => ({ at, w, weight }));
    }),
  );
  const whole = layers.length === 1 ? layers[0]! : layerOf(part, 0, part.thickness, []);
  return { part, layers, whole, marksOfShape, corners: flattenRing(part.outline, { tolerance: 1 }), family };
}

/** Where a line crosses a curve, from its lesser to its greater end; even–odd. */
function crossings(r: readonly Point[], d: Point, m: Point, offset: number): number[] {
  const at: number[] = [];
  let q = r[r.length - 1]!;
  let b = q.x * m.x + q.y * m.y - offset;
  for (const p of r) {
    const a = p.x * m.x + p.y * m.y - offset;
    if (a < 0 !== b < 0) {
      const k = b / (b - a);
      const s = q.x * d.x + q.y * d.y;
      at.push(s + k * (p.x * d.x + p.y * d.y - s));
    }
    q = p;
    b = a;
  }
  return at.sort((x, y) => x - y);
}

/**
 * Where the line `p·m = offset` runs in material, along `d`: inside the outline and outside every cut. Cuts may overlap
 * each other and the outline, as a groove that runs out at an edge does.
 */
export function sectionOf(layer: Layer, d: Point, m: Point, offset: number): Interval[] {
  const [outline, ...cuts] = layer.rings;
  const at = crossings(outline!, d, m, offset);
  let out: Interval[] = [];
  for (let i = 0; i + 1 < at.length; i += 2) if (at[i + 1]! - at[i]! > 1e-6) out.push([at[i]!, at[i + 1]!]);
  for (const r of cuts) {
    const gone = crossings(r, d, m, offset);
    for (let i = 0; i + 1 < gone.length; i += 2) out = less(out, gone[i]!, gone[i + 1]!);
  }
  return out;
}

/** The stretches without what lies between two places. */
function less(all: readonly Interval[], from: number, to: number): Interval[] {
  const out: Interval[] = [];
  for (const [a, b] of all) {
    if (to <= a || from >= b) {
      out.push([a, b]);
      continue;
    }
    if (from - a > 1e-6) out.push([a, from]);
    if (b - to > 1e-6) out.push([to, b]);
  }
  return out;
}

/** The stretches that any of the lists covers. */
export function unionOf(lists: readonly (readonly Interval[])[]): Interval[] {
  const all = lists.flat().sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const out: [number, number][] = [];
  for (const [a, b] of all) {
    const last = out.at(-1);
    if (last !== undefined && a <= last[1] + 1e-6) last[1] = Math.max(last[1], b);
    else out.push([a, b]);
  }
  return out;
}

/** By direction, then by middle and width. */
const known = new WeakMap<Layer, Map<number, Map<number, Interval[]>>>();

/** Directions are told apart to a millionth, measures along them to a five-hundredth of a millimetre. */
const directionKey = (d: Point, m: Point): number =>
  (Math.round(d.x * 1e6) * 2 ** 22 + Math.round(d.y * 1e6)) * 8 + Math.round((m.x * d.y - m.y * d.x) * 2);
const bandKey = (middle: number, width: number): number =>
  Math.round(middle * 500) * 2 ** 24 + Math.round(width * 500);

/** Where a band of the given middle and width has material anywhere across it, its outermost 0.8 mm left out. */
export function bandSection(layer: Layer, d: Point, m: Point, middle: number, width: number): Interval[] {
  let mine = known.get(layer);
  if (mine === undefined) {
    mine = new Map();
    known.set(layer, mine);
  }
  const direction = directionKey(d, m);
  let along = mine.get(direction);
  if (along === undefined) {
    along = new Map();
    mine.set(direction, along);
  }
  const key = bandKey(middle, width);
  let found = along.get(key);
  if (found === undefined) {
    found = across(layer, d, m, middle, width);
    along.set(key, found);
  }
  return found;
}

function across(layer: Layer, d: Point, m: Point, middle: number, width: number): Interval[] {
  if (width === 0) return sectionOf(layer, d, m, middle);
  const reach = Math.max(width / 2 - 0.8, 0.1);
  return unionOf([-reach, 0.013, reach].map((k) => sectionOf(layer, d, m, middle + k)));
}
