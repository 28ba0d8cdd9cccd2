import { type Clip, type Motion, movePoint, type Point, pointInRing, STAY, snap } from '@haunch/geometry';
import { type Cutter, type Machine, movePart, type Part } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import { type Field, makeField } from '../as-cut-board.js';
import { findStretches } from '../sweep/find-stretches.js';
import { findLevels, type Level } from '../sweep/level.js';
import { lowest, withinReason } from '../sweep/stretch.js';
import type { Alignment, FoundPart, StrangePiece } from './alignment.js';
import {
  areaMiss,
  bestOnPiece,
  type Candidate,
  type KnownShape,
  knownShape,
  LEAST_SHARE,
  SAME_AREA,
} from './candidate.js';
import { cutEdges } from './cut-edges.js';
import { findLayout } from './find-layout.js';
import { shapeName } from './part-shape.js';
import { findPoses, poseAt } from './pose.js';
import { refineMotion } from './refine.js';
import { type StandingLevel, type StandingPiece, standingOver } from './standing-pieces.js';

/** A program and the parts that are sought in it. mm */
export interface AlignInput {
  readonly reading: NcReading;
  /** As they lie on the table, seen from above. */
  readonly parts: readonly Part[];
  /** Of the sheet. */
  readonly thickness: number;
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly clip: Clip;
  /** Whether the parts lie to each other as they may on the sheet, as in a layout drawing. */
  readonly layout: boolean;
}

/** Slabs that are looked at for pieces; more tell nothing new. */
const MOST_LEVELS = 8;
/** Above this share of the thickness recesses have eaten into the outlines. */
const LOW = 0.8;
/** A part that meets this much of its contour is it beyond doubt; and with this much it is, when no other is. */
const SURE = [0.95, 0.85] as const;
/** A part of a layout in its place is judged when this much of its contour is cut there. */
const IN_PLACE = 0.3;
/** Costs nearer to each other than this are the same; then the place decides. */
const SAME_COST = 0.01;
/** A mirror image must speak so much better before it is believed. */
const MIRRORED = 0.5;
/** Pieces smaller than this in either direction are chips of waste, mm. */
const CHIP_SIZE = 8;
/** The most copies of one part. */
const MOST_COPIES = 500;

interface Work extends AlignInput {
  readonly field: Field;
  readonly top: number;
  readonly over: readonly StandingLevel[];
}

interface Match {
  readonly index: number;
  readonly copy: number;
  readonly motion: Motion;
  readonly share: number;
  readonly level: Level;
  readonly by: FoundPart['by'];
  readonly part: Part;
}

function workOf(input: AlignInput): Work {
  const { reading, thickness, cutters, machine, clip, parts } = input;
  const top = machine.zZero === 'top' ? 0 : thickness;
  const bottom = top - thickness;
  const unnamed = reading.moves.every((m) => !('tool' in m) || m.tool === null);
  const only = unnamed && cutters.length === 1 ? cutters[0]! : null;
  const safe = top + machine.clearance;
  const stretches = findStretches(reading, { cutters, safe, only, distortion: machine.distortion });
  const cutting = stretches.filter((s) => lowest(s) < top && withinReason(s));
  const heights = parts.flatMap((p) => [
    ...p.pockets.map((c) => top - c.depth),
    ...p.holes.flatMap((h) => (h.depth === 'through' ? [] : [top - h.depth])),
  ]);
  const { levels } = findLevels(stretches, { top, bottom, heights });
  const field = makeField(cutting, { top, levels });
  const low = levels.filter((l) => l.low <= bottom + LOW * thickness);
  const every = Math.max(1, low.length / MOST_LEVELS);
  const some = low.filter((_, i) => Math.floor(i / every) !== Math.floor((i - 1) / every));
  return { ...input, field, top, over: some.map((l) => standingOver(clip, field, l)) };
}

const refined = (w: Work, known: KnownShape, motion: Motion, level: Level): Motion => {
  const removed = w.field.at(level.at);
  return refineMotion(
    known.shape.samples.map((sample) => ({ sample, removed })),
    motion,
  );
};

/** Whether a place lies in the material of a part that has been found. */
const taken = (matches: readonly Match[], p: Point): boolean =>
  matches.some(
    ({ part }) =>
      pointInRing(part.outline.ring, p) === 'inside' &&
      !part.through.some((c) => pointInRing(c.ring, p) === 'inside'),
  );

/** Best poses of shapes on pieces, asked once for all parts that are alike. */
function pairing(w: Work) {
  const known = new Map<string, Candidate | null>();
  return (name: string, shape: KnownShape, on: StandingPiece, at: string): Candidate | null => {
    const key = `${at} ${name}`;
    let found = known.get(key);
    if (found === undefined) {
      found = bestOnPiece(shape, on, w);
      known.set(key, found);
    }
    return found;
  };
}

/** A part to be found: mirrored or not, its curves moved so that its box begins at (0, 0). */
interface Sought {
  readonly index: number;
  readonly name: string;
  readonly shape: KnownShape;
  /** Takes the part to where its shape is known. */
  readonly home: Motion;
}

const soughtOf = (part: Part, index: number, mirror: boolean, shapes: Map<string, KnownShape>): Sought => {
  const turned = mirror ? movePart({ ...STAY, mirror }, part) : part;
  const xs = turned.outline.ring.vertices;
  const home = {
    ...STAY,
    mirror,
    dx: -Math.min(...xs.map((v) => v.x)),
    dy: -Math.min(...xs.map((v) => v.y)),
  };
  const name = shapeName(turned);
  let shape = shapes.get(name);
  if (shape === undefined) {
    shape = knownShape(movePart(home, part));
    shapes.set(name, shape);
  }
  return { index, name, shape, home };
};

/** One motion after another; the second does not mirror. */
const after = (first: Motion, second: Motion): Motion => {
  const o = movePoint(second, { x: first.dx, y: first.dy });
  return { mirror: first.mirror, turn: first.turn + second.turn, dx: o.x, dy: o.y };
};

/** Finds parts piece by piece: of all pairs that agree enough, the best first, pieces in order of place. */
function matchPieces(
  w: Work,
  sought: readonly Sought[],
  matches: Match[],
  {
    least,
    copy,
    pair,
  }: { readonly least: number; readonly copy: number; readonly pair: ReturnType<typeof pairing> },
): void {
  const done = new Set<number>();
  w.over.forEach((standing, k) => {
    const pairs = standing.pieces.flatMap((on, i) =>
      taken(matches, on.inside)
        ? []
        : sought.flatMap((s) => {
            if (done.has(s.index) || areaMiss(s.shape, on) > SAME_AREA) return [];
            const best = pair(s.name, s.shape, on, `${k} ${i}`);
            return best && best.pose.share >= least ? [{ s, on, i, best }] : [];
          }),
    );
    const round = (c: number): number => Math.round(c / SAME_COST);
    pairs.sort((a, b) => round(a.best.cost) - round(b.best.cost) || a.i - b.i || a.s.index - b.s.index);
    const used = new Set<number>();
    for (const { s, on, i, best } of pairs) {
      if (used.has(i) || done.has(s.index)) continue;
      used.add(i);
      done.add(s.index);
      matches.push(
        settledMatch(w, s, best.pose.motion, on.level, { share: best.pose.share, by: 'piece', copy }),
      );
    }
  });
}

function settledMatch(
  w: Work,
  s: Sought,
  motion: Motion,
  level: Level,
  { share, by, copy }: Pick<Match, 'share' | 'by' | 'copy'>,
): Match {
  const moved = after(s.home, refined(w, s.shape, motion, level));
  const whole = { ...moved, dx: snap(moved.dx), dy: snap(moved.dy) };
  return { index: s.index, copy, motion: whole, share, level, by, part: movePart(whole, w.parts[s.index]!) };
}

/** Finds parts whose pieces hang on what is around them, by the edges that were cut. */
function matchEdges(w: Work, sought: readonly Sought[], matches: Match[]): void {
  for (const s of sought) {
    let best: { motion: Motion; share: number; level: Level } | null = null;
    for (const { level, frame, pieces } of w.over) {
      const free = pieces.filter((p) => !taken(matches, p.inside)).map((p) => p.piece);
      const polygons = [...frame.flatMap((f) => f.holes), ...free.flatMap((f) => [f.outer, ...f.holes])];
      const [pose] = findPoses(s.shape.shape, cutEdges(polygons), { least: LEAST_SHARE });
      if (!pose || (best !== null && pose.share <= best.share)) continue;
      const where = movePoint(pose.motion, s.shape.shape.middle);
      if (!taken(matches, where)) best = { motion: pose.motion, share: pose.share, level };
    }
    if (best)
      matches.push(settledMatch(w, s, best.motion, best.level, { share: best.share, by: 'edges', copy: 1 }));
  }
}

/** Puts matches aside whose mirror images agree much better, for those. */
function mirrorWhereBetter(
  w: Work,
  matches: Match[],
  shapes: Map<string, KnownShape>,
  pair: ReturnType<typeof pairing>,
): void {
  matches.forEach((m, at) => {
    const k = w.over.findIndex((o) => o.level === m.level);
    const i = w.over[k]!.pieces.findIndex((p) => taken([m], p.inside));
    const on = w.over[k]!.pieces[i];
    if (m.by !== 'piece' || on === undefined) return;
    const straight = soughtOf(w.parts[m.index]!, m.index, false, shapes);
    const mirror = soughtOf(w.parts[m.index]!, m.index, true, shapes);
    const was = pair(straight.name, straight.shape, on, `${k} ${i}`);
    if (!was || was.cost < SAME_COST) return;
    const is = pair(mirror.name, mirror.shape, on, `${k} ${i}`);
    if (is && is.cost < MIRRORED * was.cost && is.pose.share >= SURE[1])
      matches[at] = settledMatch(w, mirror, is.pose.motion, m.level, {
        share: is.pose.share,
        by: 'piece',
        copy: m.copy,
      });
  });
}

/** Parts of a layout that lie where it has them, at the slab at which each is met best. */
function matchInPlace(
  w: Work,
  layout: Motion,
  sought: readonly Sought[],
  matches: Match[],
  least: number,
): void {
  const edges = w.over.map((o) =>
    cutEdges([
      ...o.frame.flatMap((f) => f.holes),
      ...o.pieces.flatMap((p) => [p.piece.outer, ...p.piece.holes]),
    ]),
  );
  for (const { index } of sought) {
    const part = w.parts[index]!;
    const { shape } = knownShape(part);
    let best: { share: number; level: Level } | null = null;
    edges.forEach((e, k) => {
      const { share } = poseAt(shape, layout, e);
      if (share >= least && (best === null || share > best.share + 1e-9))
        best = { share, level: w.over[k]!.level };
    });
    if (best === null) continue;
    const { share, level } = best as { share: number; level: Level };
    const match: Match = {
      index,
      copy: 1,
      motion: layout,
      share,
      level,
      by: 'edges',
      part: movePart(layout, part),
    };
    const free = w.over.some((o) =>
      o.pieces.some(
        (p) => taken([match], p.inside) && Math.abs(p.piece.area - shape.area) <= SAME_AREA * shape.area,
      ),
    );
    matches.push(free ? { ...match, by: 'piece' } : match);
  }
}

function strangePieces(w: Work, matches: readonly Match[]): StrangePiece[] {
  const count = (o: StandingLevel): number => matches.filter((m) => m.level === o.level).length;
  const [most] = [...w.over].sort((a, b) => count(b) - count(a) || b.pieces.length - a.pieces.length);
  return (most?.pieces ?? []).flatMap(({ piece, inside, middle }): StrangePiece[] => {
    const [width, height] = [piece.box.maxX - piece.box.minX, piece.box.maxY - piece.box.minY];
    if (Math.min(width, height) < CHIP_SIZE) return [];
    if (matches.some(({ part }) => pointInRing(part.outline.ring, inside) === 'inside')) return [];
    return [{ at: middle, width, height, area: piece.area }];
  });
}

/**
 * Finds parts among what a program cuts, by itself: pieces that come free at any slab are laid on the parts by their
 * straight edges, compared in outline, area and depth, mirror images too; parts that nothing frees are sought among
 * the edges as cut. Each is then refined by least squares on its walls. Parts of a layout drawing keep their places
 * to each other where the program has them so; others that are alike are given out in order of place (x, then y).
 * Program coordinates, mm. Deterministic.
 */
export function alignParts(input: AlignInput): Alignment {
  const w = workOf(input);
  const shapes = new Map<string, KnownShape>();
  const pair = pairing(w);
  const sought = w.parts.map((p, i) => soughtOf(p, i, false, shapes));
  const matches: Match[] = [];
  const left = (): Sought[] => sought.filter((s) => !matches.some((m) => m.index === s.index));
  const layout = input.layout ? findLayout(w) : null;
  if (layout) matchInPlace(w, layout, sought, matches, SURE[1]);
  for (const least of SURE) matchPieces(w, left(), matches, { least, copy: 1, pair });
  mirrorWhereBetter(w, matches, shapes, pair);
  const mirrored = left().map((s) => soughtOf(w.parts[s.index]!, s.index, true, shapes));
  matchPieces(w, mirrored, matches, { least: SURE[1], copy: 1, pair });
  if (layout) matchInPlace(w, layout, left(), matches, IN_PLACE);
  matchPieces(w, left(), matches, { least: LEAST_SHARE, copy: 1, pair });
  matchEdges(w, left(), matches);
  for (let copy = 2; copy <= MOST_COPIES && !input.layout; copy++) {
    const before = matches.length;
    matchPieces(w, sought, matches, { least: SURE[0], copy, pair });
    if (matches.length === before) break;
  }
  const strange = strangePieces(w, matches);
  const lacking = left();
  return {
    kind: 'alignment',
    layout,
    found: matches
      .sort((a, b) => a.copy - b.copy || a.index - b.index)
      .map(({ copy, part, motion, by, share }) => ({
        item: copy === 1 ? part.id : `${part.id}/${copy}`,
        piece: copy,
        part,
        motion,
        by,
        share,
      })),
    lacking: lacking.map((s) => w.parts[s.index]!.id),
    missed: lacking
      .filter(({ shape: { shape } }) =>
        strange.some((p) => p.area >= shape.area / 2 && p.area <= shape.area * 2),
      )
      .map((s) => w.parts[s.index]!.id),
    strange,
  };
}
