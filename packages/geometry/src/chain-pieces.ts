import { SAME_COURSE } from './offset-tolerance.js';
import { distance, type Point } from './point.js';
import type { Segment } from './ring.js';
import { curvature, segmentLength, turnBetween } from './segment-course.js';

/** A stretch of a curve between two numbered nodes. */
export interface Piece {
  /** Which curve it is a stretch of, and from where to where on it (fractions). */
  readonly curve: number;
  readonly start: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
  readonly middle: Point;
  readonly segment: Segment;
}

/** Turns closer than this are told apart by curvature: what rounding does to a crossing's direction. */
const SAME_TURN = 1e-6;

/**
 * Takes out every two pieces that run over each other: one of two in the same sense, both of two in opposite
 * senses. Answers with the pieces left and one of each opposite pair.
 */
export function cancelPieces(pieces: readonly Piece[]): { pieces: Piece[]; cancelled: Piece[] } {
  const byEnds = new Map<number, Piece[]>();
  const nodes = 1 + pieces.reduce((most, p) => Math.max(most, p.from, p.to), 0);
  const cancelled: Piece[] = [];
  for (const p of pieces) {
    const along = byEnds.get(p.from * nodes + p.to);
    if (along?.some((q) => distance(p.middle, q.middle) <= SAME_COURSE)) continue;
    const against = byEnds.get(p.to * nodes + p.from);
    const other = against?.findIndex((q) => distance(p.middle, q.middle) <= SAME_COURSE) ?? -1;
    if (against && other >= 0) {
      cancelled.push(...against.splice(other, 1));
      continue;
    }
    if (along) along.push(p);
    else byEnds.set(p.from * nodes + p.to, [p]);
  }
  const left = new Set<Piece>();
  for (const list of byEnds.values()) for (const p of list) left.add(p);
  return { pieces: pieces.filter((p) => left.has(p)), cancelled };
}

/**
 * Chains pieces into closed loops, with the enclosed area on the left of each piece: where several pieces
 * leave a node, the one that turns most to the left follows, so that loops touch but never cross, and a loop
 * that comes back to a node is split there. Loose ends are dropped; `lost` is the length of the longest, mm.
 */
export function chainPieces(all: readonly Piece[]): {
  readonly loops: Piece[][];
  readonly lost: number;
} {
  const pieces = withoutLooseEnds(all);
  const leaving = new Map<number, Piece[]>();
  for (const p of pieces) {
    const list = leaving.get(p.from);
    if (list) list.push(p);
    else leaving.set(p.from, [p]);
  }
  const used = new Set<Piece>();
  const loops: Piece[][] = [];
  for (const first of pieces) {
    if (used.has(first)) continue;
    const path: Piece[] = [first];
    const placeOf = new Map<number, number>([[first.from, 0]]);
    used.add(first);
    while (path.length > 0) {
      const last = path[path.length - 1]!;
      const seen = placeOf.get(last.to);
      if (seen !== undefined) {
        const loop = path.splice(seen);
        for (const p of loop) placeOf.delete(p.from);
        loops.push(loop);
        if (path.length === 0) break;
        // Go on from the node where the loop was cut off, arriving as before it.
      }
      const arriving = path[path.length - 1]!;
      const next = leftmost(
        arriving,
        (leaving.get(arriving.to) ?? []).filter((p) => !used.has(p)),
      );
      if (!next) {
        path.pop();
        placeOf.delete(arriving.from);
        continue;
      }
      used.add(next);
      placeOf.set(next.from, path.length);
      path.push(next);
    }
  }
  const kept = new Set(loops.flat());
  const lost = all.reduce((most, p) => (kept.has(p) ? most : Math.max(most, segmentLength(p.segment))), 0);
  return { loops, lost };
}

function leftmost(arriving: Piece, choices: readonly Piece[]): Piece | undefined {
  if (choices.length < 2) return choices[0];
  let best = choices[0]!;
  let bestTurn = turnBetween(arriving.segment, best.segment);
  for (const p of choices.slice(1)) {
    const turn = turnBetween(arriving.segment, p.segment);
    const more =
      Math.abs(turn - bestTurn) > SAME_TURN
        ? turn > bestTurn
        : curvature(p.segment) > curvature(best.segment);
    if (more) {
      best = p;
      bestTurn = turn;
    }
  }
  return best;
}

function withoutLooseEnds(all: readonly Piece[]): Piece[] {
  let pieces = [...all];
  for (;;) {
    const starts = new Set(pieces.map((p) => p.from));
    const ends = new Set(pieces.map((p) => p.to));
    const kept = pieces.filter((p) => ends.has(p.from) && starts.has(p.to));
    if (kept.length === pieces.length) return kept;
    pieces = kept;
  }
}
