import {
  bulgeOfSegment,
  carrierMeets,
  distance,
  type Point,
  pointInRing,
  pointRingDistance,
  type Ring,
  ringSegments,
  type Segment,
} from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { taggedRing } from './contour-path.js';
import { directionAlong, line, moved, type Path, pointAlong, segmentLength } from './path.js';

/** An edge that lies no farther than this inside the outline runs along it, mm. */
const ON_EDGE = 0.01;
/** How much farther than its radius the cutter sweeps beyond an open edge, so that no lip stays. mm */
export const BEYOND_EDGE = 0.5;
/** A wall that leaves the part at less than this (sine of the angle) is not prolonged. */
const TOO_FLAT = 0.3;

/** A recess whose open edges were moved out of the part, and where that leads back into it. */
export interface OpenContour<C extends Contour> {
  readonly contour: C;
  /** Places of the moved edges that lie in the part again. */
  readonly intoPart: readonly Point[];
  /** How many edges are open. */
  readonly open: number;
}

const inOutline = (outline: Ring, p: Point): boolean =>
  pointInRing(outline, p) === 'inside' && pointRingDistance(outline, p) > ON_EDGE;

const samples = (s: Segment): Point[] =>
  [0, 0.25, 0.5, 0.75, 1].map((t) => pointAlong(s, segmentLength(s) * t));

const outwardOf = (s: Segment, along: number): Point => {
  const t = directionAlong(s, along);
  return { x: t.y, y: -t.x };
};

/** A segment moved out by `by`; an arc that bends too tightly inwards goes by its chord. */
function movedOut(s: Segment, by: number, tag: string): Segment {
  const radius = s.kind === 'arc' ? s.radius + Math.sign(s.sweep) * by : 0;
  if (s.kind === 'arc' && radius > by / 10) {
    const from = moved(s.from, outwardOf(s, 0), by);
    const to = moved(s.to, outwardOf(s, segmentLength(s)), by);
    return { ...s, from, to, radius, tag };
  }
  const chord = line(s.from, s.to);
  const n = outwardOf(chord, 0);
  return { ...line(moved(s.from, n, by), moved(s.to, n, by)), tag };
}

/** Where a wall that ends at `corner` in direction `d` is taken to, beside an open edge of normal `n` and direction `t`. */
function prolonged(corner: Point, d: Point, n: Point, t: Point, by: number): Point {
  const rise = d.x * n.x + d.y * n.y;
  const narrowing = d.x * t.x + d.y * t.y > 1e-9;
  return narrowing || rise < TOO_FLAT ? moved(corner, n, by) : moved(corner, d, by / rise);
}

/** Neighbouring open edges, moved out and joined: straight ones at their meeting, others by a straight stretch. */
function joined(run: readonly Segment[], by: number, tag: string): Segment[] {
  const out: Segment[] = [];
  for (const s of run) {
    const next = movedOut(s, by, tag);
    const last = out.at(-1);
    if (last !== undefined && distance(last.to, next.from) > 1e-6) {
      const corner = last.kind === 'line' && next.kind === 'line' ? carrierMeets(last, next)[0] : undefined;
      if (corner !== undefined && distance(corner, s.from) < 4 * by) {
        out[out.length - 1] = { ...last, to: corner };
        out.push({ ...next, from: corner });
        continue;
      }
      out.push({ ...line(last.to, next.from), tag });
    }
    out.push(next);
  }
  return out;
}

/**
 * A recess that runs out over the edge of its part, as the cutter must see it: every edge on or beyond the outline is
 * moved out by `by` mm, the walls beside it are prolonged (square to the edge where they would narrow the mouth), and the
 * reliefs of corners that no longer exist are left out. Moved edges are tagged `<id>/open`. A recess without open edges
 * comes back as it is.
 */
export function openEdges<C extends Contour>(contour: C, outline: Ring, by: number): OpenContour<C> {
  const segments = ringSegments(taggedRing(contour));
  const open = segments.map((s) => samples(s).every((p) => !inOutline(outline, p)));
  const count = open.filter(Boolean).length;
  if (count === 0) return { contour, intoPart: [], open: 0 };
  const tag = `${contour.id}/open`;
  const n = segments.length;
  const walls = open.filter((o) => !o).length;
  // Start after a wall, so that no run of open edges is cut in two.
  const first = walls === 0 ? 0 : (open.findIndex((o) => !o) + 1) % n;
  const out: Segment[] = [];
  for (let k = 0; k < n; ) {
    const i = (first + k) % n;
    if (!open[i]) {
      out.push(segments[i]!);
      k++;
      continue;
    }
    const run: Segment[] = [];
    while (k < n && open[(first + k) % n]) run.push(segments[(first + k++) % n]!);
    const outer = joined(run, by, tag);
    if (walls === 0) {
      const [a, b] = [outer[0]!, outer.at(-1)!];
      const corner = a.kind === 'line' && b.kind === 'line' ? carrierMeets(b, a)[0] : undefined;
      if (corner !== undefined) {
        outer[outer.length - 1] = { ...b, to: corner };
        outer[0] = { ...outer[0]!, from: corner };
      } else if (distance(b.to, a.from) > 1e-6) outer.push({ ...line(b.to, a.from), tag });
      out.push(...outer);
      continue;
    }
    const before = segments[(i + n - 1) % n]!;
    const after = segments[(first + k) % n]!;
    const [head, tail] = [run[0]!, run.at(-1)!];
    const end = segmentLength(tail);
    const dIn = directionAlong(before, segmentLength(before));
    const dOut = directionAlong(after, 0);
    const t0 = directionAlong(head, 0);
    const t1 = directionAlong(tail, end);
    const a =
      outer[0]!.kind === 'line' ? prolonged(head.from, dIn, outwardOf(head, 0), t0, by) : outer[0]!.from;
    const b =
      outer.at(-1)!.kind === 'line'
        ? prolonged(tail.to, { x: -dOut.x, y: -dOut.y }, outwardOf(tail, end), { x: -t1.x, y: -t1.y }, by)
        : outer.at(-1)!.to;
    outer[0] = { ...outer[0]!, from: a } as Segment;
    outer[outer.length - 1] = { ...outer.at(-1)!, to: b } as Segment;
    out.push({ ...line(head.from, a), tag }, ...outer, { ...line(b, tail.to), tag });
  }
  const ring = {
    vertices: straightened(out).map((s) => ({ ...s.from, bulge: bulgeOfSegment(s), tag: s.tag! })),
  };
  const openTags = new Set(segments.flatMap((s, i) => (open[i] ? [s.tag!] : [])));
  const intoPart = out
    .filter((s) => s.tag === tag)
    .flatMap((s) => samples(s).filter((p) => inOutline(outline, p)));
  const reliefs = contour.reliefs.filter((r) => !r.edges.some((e) => openTags.has(e)));
  return { contour: { ...contour, ring, bare: ring, reliefs }, intoPart, open: count };
}

/** Straight stretches that go straight on are one, and carry the tag of the wall that they prolong. */
function straightened(path: Path): Path {
  const out: Segment[] = [];
  const goesOn = (a: Segment, b: Segment): boolean => {
    if (a.kind !== 'line' || b.kind !== 'line') return false;
    const [s, t] = [directionAlong(a, 0), directionAlong(b, 0)];
    return Math.abs(s.x * t.y - s.y * t.x) < 1e-7 && s.x * t.x + s.y * t.y > 0;
  };
  const tagOf = (a: Segment, b: Segment): string => (a.tag!.endsWith('/open') ? b.tag! : a.tag!);
  for (const s of path) {
    const last = out.at(-1);
    if (last !== undefined && goesOn(last, s))
      out[out.length - 1] = { ...line(last.from, s.to), tag: tagOf(last, s) };
    else out.push(s);
  }
  const [a, z] = [out[0]!, out.at(-1)!];
  if (out.length > 2 && goesOn(z, a)) {
    out[0] = { ...line(z.from, a.to), tag: tagOf(z, a) };
    out.pop();
  }
  return out;
}
