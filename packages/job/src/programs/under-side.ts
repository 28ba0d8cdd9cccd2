import type { Clip } from '@haunch/geometry';
import { type Outcome, ok, type PostProcessor, type Proof } from '@haunch/model';
import { type Plan, planBoard } from '@haunch/planner';
import { type AsCutBoard, proveSequence } from '@haunch/proof';
import type { Job } from '../job.js';
import type { LaidBoard, LaidJob } from '../lay-job.js';
import { inSequence } from './prove-programs.js';
import { bySides, firstSideWords, stayingProof, underSide } from './turn-over.js';
import { type MadeProgram, writePrograms } from './write-programs.js';

/** The first side of a sheet that is turned over, as it was planned, written and proved. */
export interface UnderSide extends LaidBoard {
  readonly plan: Plan;
  readonly programs: readonly MadeProgram[];
  readonly proof: Proof;
  readonly asCut: AsCutBoard;
}

/**
 * Plans, writes and proves the first side of a board whose parts have recesses on both faces: pin holes in the waste, and mirrored about the
 * turning axis the recesses of the face that lies down later. Nothing for a board that is not turned over.
 */
export function makeUnderSide(
  { job, laid }: { readonly job: Job; readonly laid: Pick<LaidJob, 'fitted' | 'thicknesses'> },
  whole: LaidBoard,
  post: PostProcessor,
  clip: Clip,
): Outcome<UnderSide | undefined> {
  const side = underSide(whole);
  if (side === undefined) return ok(undefined);
  const { board, items } = side;
  const shared = { board, items, cutters: job.cutters, machine: job.machine, holding: job.holding };
  const plan = planBoard({
    ...job.settings.cutting,
    ...shared,
    mating: new Set(laid.fitted.joinery.contacts.map((c) => c.edge)),
    staysInSheet: true,
  });
  if (!plan.ok) return plan;
  const written = writePrograms(job, plan.value, post, job.settings.title, firstSideWords(whole.board));
  if (!written.ok) return written;
  const { meaning } = post.dialect;
  const sides = bySides(laid, [whole]);
  const proved = proveSequence({
    ...shared,
    ...(meaning === undefined ? {} : { meaning }),
    programs: written.value.map(inSequence),
    joints: sides.fitted.joinery.joints,
    thicknesses: sides.thicknesses,
    clip,
  });
  if (!proved.ok) return proved;
  return ok(
    {
      ...side,
      plan: plan.value,
      programs: written.value,
      proof: stayingProof(proved.value.proof, side),
      asCut: proved.value.asCut,
    },
    [...plan.diagnostics, ...written.diagnostics, ...proved.diagnostics],
  );
}
