import type { Place } from '@haunch/model';
import type { NcMotion } from '@haunch/nc/read';
import { isTravel, type PostTrial, type Travel, type TriedPost } from './post-trial.js';

/** A travel of a sample with what was read of it, and what was in force. */
export interface TriedMove {
  readonly trial: PostTrial;
  readonly index: number;
  readonly move: Travel;
  /** Where the wanted path comes from; null for the first. */
  readonly from: Place | null;
  readonly read: readonly NcMotion[];
  /** Spindle and cutter that the sample has asked for. */
  readonly rpm: number;
  readonly cutter: number | null;
}

/** All travels of all samples that could be written, in order. */
export function* eachMove({ trials }: TriedPost): Generator<TriedMove> {
  for (const trial of trials) {
    let from: Place | null = null;
    let rpm = 0;
    let cutter: number | null = null;
    const { moves } = trial.sample.toolpath;
    for (let index = 0; index < moves.length; index++) {
      const move = moves[index]!;
      if (move.kind === 'spindle') rpm = move.rpm;
      if (move.kind === 'cutter') [rpm, cutter] = [0, move.number];
      if (!isTravel(move)) continue;
      yield { trial, index, move, from, read: trial.motions.get(index) ?? [], rpm, cutter };
      from = move.to;
    }
  }
}

/** Where a finding is: the sample, the move, the line of the text. */
export const placeOf = ({ trial, index, move, read }: TriedMove): string => {
  const line = read[0]?.line;
  const text = line === undefined ? '' : `, line ${line} "${trial.lines[line - 1]}"`;
  return `${trial.sample.name}, move ${index} (${move.kind})${text}`;
};
