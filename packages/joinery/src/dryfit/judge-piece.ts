import { ringArea } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { doubled, interference } from './diagnostics.js';
import type { StandingPiece } from './dry-piece.js';
import { SKIN } from './dryfit-tolerance.js';
import { interferenceOf } from './interference.js';
import { type JointClearance, judgeJoint } from './judge-joint.js';
import { boxesApart, pairOf } from './pair.js';
import type { Solid } from './solid.js';

/** The common volume of two parts, mm³. */
export interface PairInterference {
  readonly parts: readonly [string, string];
  readonly volume: number;
}

/** One thing found wrong between two parts. */
export interface Finding {
  readonly parts: readonly [string, string];
  readonly problem: Diagnostic;
}

/** What two parts do to each other. */
export interface JudgedPair {
  readonly volume: number;
  readonly joints: readonly JointClearance[];
  readonly problems: readonly Diagnostic[];
}

const volumeOf = (s: Solid): number =>
  s.layers.reduce(
    (sum, l) =>
      sum +
      (l.w[1] - l.w[0]) *
        l.voids.reduce((area, v) => area - Math.abs(ringArea(v.ring)), Math.abs(ringArea(l.outer))),
    0,
  );

/** So much of the smaller plate in the other one, and it is the same plate twice. */
const SAME_PLATE = 0.9;

/** The common volume of two plates, mm³ with four decimals. */
export const volumeBetween = (a: Solid, b: Solid): number =>
  boxesApart(a, b, SKIN) ? 0 : Math.round(interferenceOf(pairOf(a, b)) * 1e4) / 1e4;

/** Judges two parts: what they have in common, and each joint between them. */
export function judgePair(piece: StandingPiece, a: Solid, b: Solid, play: number): JudgedPair {
  const volume = volumeBetween(a, b);
  const mates = piece.mates.filter(
    (m) =>
      (m.slotPart === a.id && m.enteringPart === b.id) || (m.slotPart === b.id && m.enteringPart === a.id),
  );
  if (volume > SAME_PLATE * Math.min(volumeOf(a), volumeOf(b)))
    return { volume, joints: [], problems: [doubled(b.id, a.id, volume)] };
  if (mates.length === 0)
    return { volume, joints: [], problems: volume > 0 ? [interference(a.id, b.id, volume)] : [] };
  const judged = mates.map((m) => {
    const others = mates.filter((o) => o !== m).flatMap((o) => o.slotFeatures);
    return m.slotPart === a.id
      ? judgeJoint(m, b, a, volume, play, others)
      : judgeJoint(m, a, b, volume, play, others);
  });
  return {
    volume,
    joints: judged.map((j) => j.clearance),
    problems: judged.flatMap((j) => j.problems),
  };
}

/** Everything that is wrong between one part, perhaps in another form, and all the others. */
export const problemsOf = (piece: StandingPiece, part: Solid, play: number): Finding[] =>
  piece.solids
    .filter((s) => s.id !== part.id)
    .flatMap((s) =>
      judgePair(piece, s, part, play).problems.map(
        (problem): Finding => ({ parts: [s.id, part.id], problem }),
      ),
    );
