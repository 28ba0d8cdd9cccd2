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
  boards: readonly { readonly id: string; readonly thickness: number }[],
  file: string,
  lineOf: (path: readonly PropertyKey[]) => number,
): Outcome<JobLadder> {
  const { ladder } = settings;
  if (!ladder) return fail(noLadder(file));
  if ('without' in ladder) return ok({ kind: 'without', reason: ladder.without });
  if (!('answers' in ladder)) return fail(noLadder(file));
  const locus = { file, line: lineOf(['ladder']), path: 'ladder' };
  const other: Diagnostic[] = [];
  if (!boards.some((b) => b.id === ladder.board))
    other.push(otherLadder('board', ladder.board, boards.map((b) => b.id).join("', '"), locus));
  if (ladder.cutter !== router.id) other.push(otherLadder('cutter', ladder.cutter, router.id, locus));
  if (other.length > 0) return fail(...other);
  const reading = readLadder(rungsOf(ladderSteps(settings, ladder.steps)), ladder.answers, {
    ...locus,
    line: lineOf(['ladder', 'answers']),
  });
  if (!reading.ok) return reading;
  // The rungs were cut for a thickness and a diameter; what felt right is a real width, whatever the job says of both by now.
  const assumed = ladder.cutFor?.diameter ?? router.diameter;
  const board = boards.find((b) => b.id === ladder.board)!;
  const thinner = (ladder.cutFor?.thickness ?? board.thickness) - board.thickness;
  let measured: EffectiveDiameter | null = null;
  if (ladder.slots || ladder.pegs) {
    const found = effectiveDiameter({
      nominal: assumed,
      slots: ladder.slots ?? [],
      pegs: ladder.pegs ?? [],
      locus,
    });
    if (!found.ok) return found;
    measured = found.value;
  }
  const more = snap((measured?.diameter ?? router.diameter) - assumed + thinner);
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
        drive: snap(drive + more),
        snug: snap(snug + more),
        slip: snap(slip + more),
        thresholds: {
          mallet: really(thresholds.mallet),
          hand: really(thresholds.hand),
          rattle: really(thresholds.rattle),
        },
      },
      measured,
    },
    reading.diagnostics,
  );
}
