import {
  type ArcSegment,
  distance,
  mergeCollinear,
  type Point,
  pointAlong,
  pointSegmentDistance,
  type Ring,
  recoverArcs,
  ringOfSegments,
  ringSegments,
  type Segment,
  snap,
} from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import { edgeEntity, type Loop, loopEntity, reshaped } from './loop.js';
import type { RepairBook, RepairKind, Stroke } from './repair.js';

/** How chords are told to be those of an arc. mm */
export interface ArcRule {
  /** How far a corner may be from the arc, or from the line, that takes its place. */
  readonly within: number;
  /** The most that an arc may stand off a chord. */
  readonly standOff: number;
}

/** The fewest chords that are taken for an arc; a polygon of fewer sides is meant. */
const LEAST_CHORDS = 8;
/** An edge shorter than this between longer ones is an accident of drawing, mm. */
const TINY = 0.02;
/** Neighbours must be this many times longer than a tiny edge, so that fine curves are not taken for such. */
const LONGER = 8;

/**
 * A loop with runs of chords turned back into arcs, runs in one line made one, and tiny edges dropped; a circle
 * of chords or arcs becomes a circle. Everything is entered with how far it moved the line.
 */
export function mendLoop(loop: Loop, rule: ArcRule, book: RepairBook): Loop {
  // What follows a curve is as near to it as was promised, and no chord.
  if (loop.circle !== null || loop.entities.every((e) => e.followed !== undefined)) return loop;
  const edges = ringSegments(loop.ring);
  const owner = new Map(edges.map((s) => [key(s.from), edgeEntity(loop, s.tag)]));
  const ownersOf = (run: readonly Segment[]): Entity[] => [
    ...new Set(run.map((s) => owner.get(key(s.from)) ?? loopEntity(loop))),
  ];
  const drawn = edges.map(({ tag, ...s }, i): Segment => {
    return edgeEntity(loop, tag).followed === undefined ? s : { ...s, tag: `followed ${i}` };
  });
  const segments = withoutTiny(drawn, ownersOf, book);
  const recovery = { tolerance: rule.within, leastChords: LEAST_CHORDS, sagitta: rule.standOff };
  const merged = acrossStart(recoverArcs(thinned(segments, rule.within), recovery), (pair) =>
    recoverArcs(pair, recovery),
  );
  const [only] = merged;
  if (merged.length === 1 && only?.kind === 'arc') return circled(loop, segments, only, book);
  if (segments === drawn && merged.length === drawn.length) return loop;
  const at = new Map(segments.map((s, i) => [key(s.from), i]));
  const out: Segment[] = [];
  for (const s of merged) {
    const [first, last] = [at.get(key(s.from)), at.get(key(s.to))];
    if (first === undefined || last === undefined) throw new RangeError('mendLoop: a run has new ends');
    const count = (last - first + segments.length) % segments.length || segments.length;
    const run = Array.from({ length: count }, (_, k) => segments[(first + k) % segments.length]!);
    if (count === 1) out.push(run[0]!);
    else {
      const kind: RepairKind = s.kind === 'arc' && run.some((r) => r.kind === 'line') ? 'arc' : 'straight';
      const mended = book.mend(kind, s.from, ownersOf(run), deviationOf(run, [s]), () => ({
        before: [strokeOfRun(run, false)],
        after: [strokeOfRun([s], false)],
      }));
      if (mended) out.push(s);
      else for (const r of run) out.push(r);
    }
  }
  return reshaped(loop, untagged(ringOfSegments(out)), null);
}

/** A closed chain in which the last and the first segment are one, where they can be. */
function acrossStart(
  segments: Segment[],
  merge: (pair: readonly Segment[]) => readonly Segment[],
): readonly Segment[] {
  const [first, last] = [segments[0], segments.at(-1)];
  if (first === undefined || last === undefined || segments.length < 3 || first.kind !== last.kind)
    return segments;
  const pair = merge([last, first]);
  return pair.length === 1 ? [...segments.slice(1, -1), pair[0]!] : segments;
}

const untagged = (r: Ring): Ring => ({ vertices: r.vertices.map(({ x, y, bulge }) => ({ x, y, bulge })) });

/** Chords shorter than this, mm, may be bent more by rounding to the grid than by the arc that they stand for. */
const FINE = 0.5;
/** So many of them make a curve that is drawn finer than it needs to be. */
const MANY = 64;
/** What share of the tolerance is taken to make such a curve coarser. */
const THIN = 1 / 5;

/** Segments with runs of very fine chords made coarser, so that their noise does not hide the arc. */
const thinned = (segments: readonly Segment[], within: number): readonly Segment[] => {
  const fine = segments.filter((s) => s.kind === 'line' && distance(s.from, s.to) < FINE).length;
  return fine < MANY ? segments : mergeCollinear(segments, { tolerance: within * THIN });
};

const key = (p: Point): string => `${p.x},${p.y}`;

/** A loop that is a circle, if that may be said. */
function circled(loop: Loop, segments: readonly Segment[], arc: ArcSegment, book: RepairBook): Loop {
  const circle = {
    centre: { x: snap(arc.centre.x), y: snap(arc.centre.y) },
    radius: snap(arc.radius),
  };
  const kind: RepairKind = segments.some((s) => s.kind === 'line') ? 'arc' : 'straight';
  const round = reshaped(loop, null, circle);
  const deviation = deviationOf(segments, ringSegments(round.ring));
  const mended = book.mend(kind, circle.centre, loop.entities, deviation, () => ({
    before: [strokeOfRun(segments, true)],
    after: [{ vertices: round.ring.vertices, closed: true }],
  }));
  return mended ? round : loop;
}

function strokeOfRun(run: readonly Segment[], closed: boolean): Stroke {
  const vertices = run.map((s) => ({
    x: s.from.x,
    y: s.from.y,
    bulge: s.kind === 'line' ? 0 : Math.tan(s.sweep / 4),
  }));
  const end = run.at(-1)!.to;
  return { vertices: closed ? vertices : [...vertices, { x: end.x, y: end.y, bulge: 0 }], closed };
}

/** How far two runs between the same ends are from each other, looked at in their corners and middles. */
function deviationOf(before: readonly Segment[], after: readonly Segment[]): number {
  let most = 0;
  for (const s of before)
    for (const p of [s.from, pointAlong(s, 0.5)]) {
      let least = Infinity;
      for (const t of after) least = Math.min(least, pointSegmentDistance(t, p));
      most = Math.max(most, least);
    }
  return most;
}

/** A ring's segments without single tiny lines between much longer ones; their neighbours meet in its place. */
function withoutTiny(
  segments: readonly Segment[],
  ownersOf: (run: readonly Segment[]) => Entity[],
  book: RepairBook,
): readonly Segment[] {
  const n = segments.length;
  if (n < 4) return segments;
  const length = (s: Segment): number => distance(s.from, s.to);
  const moved = new Map<number, Point>();
  const gone = new Set<number>();
  segments.forEach((s, i) => {
    const before = segments[(i + n - 1) % n]!;
    const after = segments[(i + 1) % n]!;
    const own = length(s);
    if (s.kind !== 'line' || own >= TINY || own === 0) return;
    if (Math.min(length(before), length(after)) < LONGER * own) return;
    if (gone.has(i - 1) || n - gone.size <= 4) return;
    const place = meeting(before, s, after, own);
    const deviation = Math.max(distance(place, s.from), distance(place, s.to));
    const mended = book.mend('tiny', s.from, ownersOf([s]), deviation, () => ({
      before: [strokeOfRun([s], false)],
      after: [{ vertices: [{ ...place, bulge: 0 }], closed: false }],
    }));
    if (!mended) return;
    gone.add(i);
    moved.set(i, place);
    moved.set((i + 1) % n, place);
  });
  if (gone.size === 0) return segments;
  const vertices = segments.flatMap((s, i) => {
    if (gone.has(i)) return [];
    const p = moved.get(i) ?? s.from;
    const v = { x: p.x, y: p.y, bulge: s.kind === 'line' ? 0 : Math.tan(s.sweep / 4) };
    return [s.tag === undefined ? v : { ...v, tag: s.tag }];
  });
  return ringSegments({ vertices });
}

/** Where the neighbours of a tiny edge are to meet: at their corner if that is beside it, else in its middle. */
function meeting(before: Segment, s: Segment, after: Segment, own: number): Point {
  const middle = { x: snap((s.from.x + s.to.x) / 2), y: snap((s.from.y + s.to.y) / 2) };
  if (before.kind !== 'line' || after.kind !== 'line') return middle;
  const u = { x: before.to.x - before.from.x, y: before.to.y - before.from.y };
  const v = { x: after.to.x - after.from.x, y: after.to.y - after.from.y };
  const cross = u.x * v.y - u.y * v.x;
  if (Math.abs(cross) < 0.1 * Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y)) return middle;
  const t = ((after.from.x - before.to.x) * v.y - (after.from.y - before.to.y) * v.x) / cross;
  const corner = { x: snap(before.to.x + t * u.x), y: snap(before.to.y + t * u.y) };
  return distance(corner, middle) <= 2 * own ? corner : middle;
}
