import type { Clip } from '@haunch/geometry';
import { type Outcome, ok, type PostProcessor, type Proof } from '@haunch/model';
import { type Plan, planBoard } from '@haunch/planner';
import { type AsCutBoard, type ProofTask, type Proved, proveTask } from '@haunch/proof';
import { wallsOf } from '../cutting-of-job.js';
import type { Job } from '../job.js';
import type { LaidBoard, LaidJob } from '../lay-job.js';
import { type BoardSequence, inSequence } from './prove-programs.js';
import { bySides, firstSideWords, stayingProof, underSide } from './turn-over.js';
import { type MadeProgram, writePrograms } from './write-programs.js';

/** A job that is laid out. */
interface LaidOut {
  readonly job: Job;
  readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'>;
}

/** The first side of a sheet that is turned over, as it was planned and written. */
export interface WrittenUnderSide extends LaidBoard {
  readonly plan: Plan;
  readonly programs: readonly MadeProgram[];
}

/** The same, proved. */
export interface UnderSide extends WrittenUnderSide {
  readonly proof: Proof;
  readonly asCut: AsCutBoard;
}

/** What a plan and a proof of a first side both know of it. */
const sharedBy = ({ job }: LaidOut, { board, items }: LaidBoard) => ({
  board,
  items,
  cutters: job.cutters,
  machine: job.machine,
  holding: job.holding,
});

/**
 * Plans and writes the first side of a board whose parts have recesses on both faces: pin holes in the waste, and mirrored about the
 * turning axis the recesses of the face that lies down later. Nothing for a board that is not turned over.
 */
export function writeUnderSide(
  context: LaidOut,
  whole: LaidBoard,
  post: PostProcessor,
): Outcome<WrittenUnderSide | undefined> {
  const side = underSide(whole);
  if (side === undefined) return ok(undefined);
  const { job, laid } = context;
  const plan = planBoard({
    ...wallsOf(job),
    ...sharedBy(context, side),
    mating: new Set(laid.fitted.joinery.contacts.map((c) => c.edge)),
    staysInSheet: true,
  });
  if (!plan.ok) return plan;
  const written = writePrograms(job, plan.value, post, job.settings.title, firstSideWords(whole.board));
  if (!written.ok) return written;
  return ok({ ...side, plan: plan.value, programs: written.value }, [
    ...plan.diagnostics,
    ...written.diagnostics,
  ]);
}

/** Programs that are run one after the other on the first side of a board that is turned over, with what they are judged against. */
export function underTask(
  context: LaidOut,
  whole: LaidBoard,
  side: LaidBoard,
  { programs, meaning, edgeTolerances }: BoardSequence,
): ProofTask {
  const sides = bySides(context.laid, [whole]);
  return {
    kind: 'sequence',
    input: {
      ...sharedBy(context, side),
      ...(meaning === undefined ? {} : { meaning }),
      ...(edgeTolerances === undefined ? {} : { edgeTolerances }),
      programs,
      joints: sides.fitted.joinery.joints,
      thicknesses: sides.thicknesses,
    },
  };
}

/** What the proof of a first side says of the parts, which all stay in the sheet. */
export const underProved = (proved: Outcome<Proved>, side: LaidBoard): Outcome<Proved> =>
  proved.ok
    ? ok({ ...proved.value, proof: stayingProof(proved.value.proof, side) }, proved.diagnostics)
    : proved;

/** Judges programs that are run one after the other on the first side of a board that is turned over. */
export const proveUnderSide = (
  context: LaidOut,
  whole: LaidBoard,
  side: LaidBoard,
  sequence: BoardSequence,
  clip: Clip,
): Outcome<Proved> => underProved(proveTask(underTask(context, whole, side, sequence), clip), side);

/** The programs of a first side as they are run. */
export const underSequence = (
  { programs }: WrittenUnderSide,
  { dialect: { meaning } }: PostProcessor,
): BoardSequence => ({
  programs: programs.map(inSequence),
  ...(meaning === undefined ? {} : { meaning }),
});

/** Plans, writes and proves the first side of a board: `writeUnderSide` and `proveUnderSide`. */
export function makeUnderSide(
  context: LaidOut,
  whole: LaidBoard,
  post: PostProcessor,
  clip: Clip,
): Outcome<UnderSide | undefined> {
  const written = writeUnderSide(context, whole, post);
  if (!written.ok) return written;
  if (written.value === undefined) return ok(undefined);
  const sequence = underSequence(written.value, post);
  const proved = proveUnderSide(context, whole, written.value, sequence, clip);
  if (!proved.ok) return proved;
  const { proof, asCut } = proved.value;
  return ok({ ...written.value, proof, asCut }, [...written.diagnostics, ...proved.diagnostics]);
}
