import { axisVector, dot, type Vec } from '../frame.js';
import { type Meeting, meetingOf, travelAlong } from './course.js';
import { distinctDirections } from './direction.js';
import type { StandingPiece } from './dry-piece.js';
import { CLOSE, SKIN } from './dryfit-tolerance.js';
import { pairOf } from './pair.js';
import type { Solid } from './solid.js';

/** Answers how far one plate can go before it meets another. */
export interface Blocking {
  readonly directions: readonly Vec[];
  /** Travel of plate i along direction d (by number) until plate k, mm; Infinity when it is never met. */
  travel(i: number, k: number, d: number): number;
  /** Whether plates i and k hold to each other: by a joint, or where there are none, by contact. */
  joined(i: number, k: number): boolean;
}

/** Whether the box of a plate, moved along a direction, ever meets that of another. */
function boxesMeet(a: Solid, b: Solid, d: Vec): boolean {
  let from = 0;
  let to = Infinity;
  for (const k of [0, 1, 2] as const) {
    const early = b.box[0][k] - a.box[1][k] + SKIN;
    const late = b.box[1][k] - a.box[0][k] - SKIN;
    if (Math.abs(d[k]) < 1e-9) {
      if (early >= 0 || late <= 0) return false;
    } else {
      from = Math.max(from, d[k] > 0 ? early / d[k] : late / d[k]);
      to = Math.min(to, d[k] > 0 ? late / d[k] : early / d[k]);
    }
  }
  return from < to;
}

/**
 * The directions in which plates are tried: the axes of all frames, the moves that the piece names, and the lines in
 * which mated planes meet, each with its opposite.
 */
function directionsOf(piece: StandingPiece): Vec[] {
  const solid = new Map(piece.solids.map((s) => [s.id, s]));
  return distinctDirections([
    ...piece.solids.flatMap((s) => [s.frame.u, s.frame.v, s.frame.n]),
    ...piece.mates.map((m) => axisVector(m.enteringMoves)),
    ...piece.assembly.map((s) => axisVector(s.move)),
    ...piece.mates.map((m) => pairOf(solid.get(m.slotPart)!, solid.get(m.enteringPart)!).line),
  ]);
}

/** Prepares a piece for questions of what blocks what; every answer is found once. */
export function blockingOf(piece: StandingPiece): Blocking {
  const { solids } = piece;
  const directions = directionsOf(piece);
  const meetings = new Map<number, Meeting>();
  const known = new Map<number, number>();
  const n = solids.length;
  const opposite = directions.map((d) => directions.findIndex((e) => dot(d, e) < -1 + 1e-6));
  const travel = (i: number, k: number, d: number): number => {
    // What plate k meets going one way, plate i meets going the other.
    if (i > k) return travel(k, i, opposite[d]!);
    const key = (i * n + k) * directions.length + d;
    const before = known.get(key);
    if (before !== undefined) return before;
    let t = Infinity;
    if (boxesMeet(solids[i]!, solids[k]!, directions[d]!)) {
      let meeting = meetings.get(i * n + k);
      if (!meeting) {
        meeting = meetingOf(pairOf(solids[i]!, solids[k]!));
        meetings.set(i * n + k, meeting);
      }
      t = travelAlong(meeting, directions[d]!);
    }
    known.set(key, t);
    return t;
  };
  const number = new Map(solids.map((s, i) => [s.id, i]));
  const mated = new Set(
    piece.mates.flatMap((m) => {
      const [a, b] = [number.get(m.slotPart)!, number.get(m.enteringPart)!];
      return [a * n + b, b * n + a];
    }),
  );
  const joined = (i: number, k: number): boolean =>
    mated.size > 0 ? mated.has(i * n + k) : directions.some((_, d) => travel(i, k, d) < CLOSE);
  return { directions, travel, joined };
}
