import {
  type EffectiveDiameter,
  effectiveDiameter,
  type LadderReading,
  otherLadder,
  readLadder,
  rungsOf,
  type Threshold,
} from '@haunch/gauge';
import { snap } from '@haunch/geometry';
import { defaultAllowances } from '@haunch/joinery';
import { type Cutter, type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { noLadder } from './diagnostics.js';
import type { JobFeltLadder } from './job-ladder-schema.js';
import type { JobFile } from './job-schema.js';

/** The ladder that speaks for a job: what was felt in it, or why there is none. */
export type JobLadder =
  | {
      readonly kind: 'felt';
      readonly board: string;
      readonly reading: LadderReading;
      /** The cutter as slot and peg show it; null where they were not measured. */
      readonly measured: EffectiveDiameter | null;
    }
  | { readonly kind: 'without'; readonly reason: string };

/** The steps of a job's ladder: about the clearance that the job would use without one. mm. */
export function ladderSteps(settings: JobFile, steps: Partial<JobFeltLadder['steps']> = {}) {
  const { family, clearance } = settings.fit;
  const about = steps.about ?? clearance ?? defaultAllowances(family).thickness.wanted;
  return { about, step: steps.step ?? 0.05, acrossX: steps.acrossX ?? 7, acrossY: steps.acrossY ?? 3 };
}

/**
 * The job's ladder, read. A job says what was felt in a ladder cut from one of its boards with its router, or why there is
 * none; joints cut by nothing but labels and hope are refused.
 */
export function ladderOfJob(
  settings: JobFile,
  router: Cutter,
  boards: readonly string[],
  file: string,
  lineOf: (path: readonly PropertyKey[]) => number,
): Outcome<JobLadder> {
  const { ladder } = settings;
  if (!ladder) return fail(noLadder(file));
  if ('without' in ladder) return ok({ kind: 'without', reason: ladder.without });
  const locus = { file, line: lineOf(['ladder']), path: 'ladder' };
  const other: Diagnostic[] = [];
  if (!boards.includes(ladder.board))
    other.push(otherLadder('board', ladder.board, boards.join("', '"), locus));
  if (ladder.cutter !== router.id) other.push(otherLadder('cutter', ladder.cutter, router.id, locus));
  if (other.length > 0) return fail(...other);
  const reading = readLadder(rungsOf(ladderSteps(settings, ladder.steps)), ladder.answers, {
    ...locus,
    line: lineOf(['ladder', 'answers']),
  });
  if (!reading.ok) return reading;
  if (!ladder.slots && !ladder.pegs)
    return ok(
      { kind: 'felt', board: ladder.board, reading: reading.value, measured: null },
      reading.diagnostics,
    );
  const measured = effectiveDiameter({
    nominal: router.diameter,
    slots: ladder.slots ?? [],
    pegs: ladder.pegs ?? [],
    locus,
  });
  if (!measured.ok) return measured;
  // The rungs were cut as wide as the program had them and the cutter's error more: what felt right is that width.
  const more = measured.value.diameter - router.diameter;
  const { drive, snug, slip, thresholds } = reading.value;
  const really = ({ from, to }: Threshold): Threshold => ({
    from: from === null ? null : snap(from + more),
    to: to === null ? null : snap(to + more),
  });
  return ok(
    {
      kind: 'felt',
      board: ladder.board,
      reading: {
        ...reading.value,
        drive: drive + more,
        snug: snug + more,
        slip: slip + more,
        thresholds: {
          mallet: really(thresholds.mallet),
          hand: really(thresholds.hand),
          rattle: really(thresholds.rattle),
        },
      },
      measured: measured.value,
    },
    reading.diagnostics,
  );
}
