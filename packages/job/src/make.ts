import type { Prediction } from '@haunch/gauge';
import { loadClip } from '@haunch/geometry';
import {
  type Diagnostic,
  type DialectMeaning,
  fail,
  type JointProof,
  type Outcome,
  ok,
  type PostProcessor,
  type Program,
  type Proof,
  type Toolpath,
} from '@haunch/model';
import { type Plan, planBoard, withPauses } from '@haunch/planner';
import { type AsCutBoard, judgeJoints } from '@haunch/proof';
import { cuttingOf } from './cutting-of-job.js';
import { postOptions, stopped, unfitPost, unknownPost } from './diagnostics.js';
import { dryfitPieces } from './dryfit-pieces.js';
import { forecastJob } from './forecast.js';
import type { LayoutStep } from './improve-stocks.js';
import { type Job, type JobOptions, readJob } from './job.js';
import { type LaidBoard, type LaidJob, layJob } from './lay-job.js';
import { loadPieces, type Pieces } from './load-pieces.js';
import { POSTS, type PostFactory } from './posts.js';
import { noMortiseForPlug } from './programs/diagnostics.js';
import { plugPauses } from './programs/plug-pauses.js';
import { inSequence, proofTask } from './programs/prove-programs.js';
import { ProofShare, type Prover, type Proving } from './programs/prover.js';
import { asOneSide, bothSides, bySides, secondSideWords, upperSide } from './programs/turn-over.js';
import {
  type UnderSide,
  underProved,
  underSequence,
  underTask,
  type WrittenUnderSide,
  writeUnderSide,
} from './programs/under-side.js';
import { commandedOf, type MadeProgram, writePrograms } from './programs/write-programs.js';
import type { SourceReader } from './source-reader.js';

/** The stages of the chain, in order, as progress names them. */
export type MakeStage = 'read' | 'lay' | 'plan' | 'post' | 'prove';

/** What `makeJob` needs; everything from outside comes in here. */
export interface MakeInput {
  readonly text: string;
  readonly file: string;
  readonly source: SourceReader;
  /** Post-processors by package name; the project's own when left out. */
  readonly posts?: Readonly<Record<string, PostFactory>>;
  /** Told when a stage begins, and for which board. */
  readonly progress?: (stage: MakeStage, board?: string) => void;
  /** Asked between steps and within the layout; true stops the work. */
  readonly stop?: () => boolean;
  /** Told of each better layout while it is improved. */
  readonly found?: (step: LayoutStep) => void;
  /** Asked while the layout is improved; true takes what was found so far (`laid.moves` says when) and goes on. */
  readonly enough?: () => boolean;
  /** Makes proofs in another thread while this one goes on; all are made in this thread when left out. The result is the same. */
  readonly prover?: Prover;
  /**
   * Told, where there is a prover, when all programs are written and their proofs are being made: the time until then is good for
   * drawing what no proof changes.
   */
  readonly drafted?: (draft: Draft) => void | Promise<void>;
}

/** One board with its plan and its programs, not proved yet. */
export interface DraftBoard extends LaidBoard {
  readonly plan: Plan;
  /** The first of its programs. */
  readonly program: Program;
  /** All of its programs, in the order in which they are run. */
  readonly programs: readonly MadeProgram[];
  /** The side that is cut first where the sheet is turned over; its programs are the first of `programs`. */
  readonly under?: WrittenUnderSide;
  /** What the program's words mean where its dialect differs from the report's language. */
  readonly meaning?: DialectMeaning;
}

/** A job of which all programs are written, and none is proved. */
export interface Draft {
  readonly job: Job;
  readonly laid: LaidJob;
  readonly boards: readonly DraftBoard[];
}

/** One board with its plan, its program and what the program would cut. */
export interface MadeBoard extends DraftBoard {
  readonly proof: Proof;
  readonly asCut: AsCutBoard;
  readonly under?: UnderSide;
}

/** A job carried through the whole chain. `pass` only when every program is proved and every joint as wanted. */
export interface Made {
  readonly kind: 'made';
  readonly pass: boolean;
  readonly job: Job;
  readonly laid: LaidJob;
  readonly boards: readonly MadeBoard[];
  /** Joints judged across all boards. */
  readonly joints: readonly JointProof[];
  /** How the fits will probably turn out. */
  readonly forecast: Prediction;
  readonly diagnostics: readonly Diagnostic[];
}

/** A job read, with its pieces and its layout: what a program is proved against. */
export interface PreparedJob {
  readonly job: Job;
  readonly pieces: Pieces;
  readonly laid: LaidJob;
}

/** What the machine must be told so that it cuts the plan: the plan itself, or that through the inverse of its map. */
export const commanded = (job: Job, { toolpath }: Plan): Toolpath => commandedOf(job, toolpath);

/** What a reader must know of the post's words. */
export const meaningOf = ({
  dialect,
}: {
  readonly dialect: Pick<PostProcessor['dialect'], 'meaning'>;
}): { readonly meaning?: DialectMeaning } =>
  dialect.meaning === undefined ? {} : { meaning: dialect.meaning };

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** So often it is asked whether to stop while a proof is awaited, ms. */
const ASKED_EVERY = 50;

/** What a promise gives, or undefined as soon as the work is stopped. */
async function unlessStopped<T>(promise: Promise<T>, stop: MakeInput['stop']): Promise<T | undefined> {
  if (stop === undefined) return promise;
  let timer: ReturnType<typeof setInterval> | undefined;
  const stopping = new Promise<undefined>((resolve) => {
    timer = setInterval(() => stop() && resolve(undefined), ASKED_EVERY);
  });
  return Promise.race([promise, stopping]).finally(() => clearInterval(timer));
}

/** Reads, refits and lays out a job: the first half of `makeJob`, and all that `proveAgainstJob` needs. */
export async function prepareJob(input: MakeInput, options: JobOptions = {}): Promise<Outcome<PreparedJob>> {
  input.progress?.('read');
  const job = readJob(input.text, input.file, { source: input.source, ...options });
  if (!job.ok) return job;
  const pieces = loadPieces(job.value, input.source);
  if (!pieces.ok) return pieces;
  input.progress?.('lay');
  await pause();
  const { stop, enough, found } = input;
  const laid = layJob(job.value, pieces.value, { stop, enough, found });
  if (!laid.ok) return laid;
  if (input.stop?.()) return fail(stopped('lay'));
  return ok({ job: job.value, pieces: pieces.value, laid: laid.value }, [
    ...job.diagnostics,
    ...pieces.diagnostics,
    ...laid.diagnostics,
  ]);
}

/** Plans one board of a prepared job, with the waits for the operator that the job asks for. */
export function planLaid({ job, laid }: Pick<PreparedJob, 'job' | 'laid'>, whole: LaidBoard): Outcome<Plan> {
  const laidBoard = upperSide(whole);
  const { board, items } = laidBoard;
  const cutting = cuttingOf(job, laidBoard);
  if (!cutting.ok) return cutting;
  const planned = planBoard({
    ...cutting.value,
    board,
    items,
    mating: new Set(laid.fitted.joinery.contacts.map((c) => c.edge)),
    cutters: job.cutters,
    machine: job.machine,
    holding: job.holding,
  });
  if (!planned.ok) return planned;
  const plan = ok(planned.value, [...cutting.diagnostics, ...planned.diagnostics]);
  if (!plan.ok || !job.settings.pauses.plug) return plan;
  const pauses = plugPauses(laidBoard, laid, plan.value, job.machine);
  const said =
    pauses.length > 0 ? [] : [noMortiseForPlug(board.id, job.file, job.lineOf(['pauses', 'plug']))];
  return ok(withPauses(plan.value, pauses, job.machine), [...plan.diagnostics, ...said]);
}

/** The post-processor that the job names, with its options. */
export function postOf(job: Job, posts: Readonly<Record<string, PostFactory>>): Outcome<PostProcessor> {
  const { post, postOptions: options } = job.settings.machine;
  const factory = posts[post];
  if (!factory)
    return fail(unknownPost(post, Object.keys(posts).sort(), job.file, job.lineOf(['machine', 'post'])));
  const made = factory(options);
  if ('problem' in made)
    return fail(
      made.unfit === true
        ? unfitPost(post, made.problem, job.file, job.lineOf(['machine', 'post']))
        : postOptions(post, made.problem, job.file, job.lineOf(['machine', 'postOptions'])),
    );
  return ok(made);
}

/** A board that is drafted, and the proofs of it. */
interface BoardAtWork {
  readonly board: DraftBoard;
  readonly said: readonly Diagnostic[];
  /** Its proof is made in this thread. */
  readonly here: boolean;
  readonly proving: Proving;
  readonly underProving: Proving | undefined;
}

/** Plans a board, writes its programs, and begins their proofs. */
function beginBoard(
  { job, laid }: PreparedJob,
  laidBoard: LaidBoard,
  post: PostProcessor,
  share: ProofShare,
  progress: MakeInput['progress'],
): Outcome<BoardAtWork> {
  const plan = planLaid({ job, laid }, laidBoard);
  if (!plan.ok) return plan;
  progress?.('post', laidBoard.board.id);
  const { title } = job.settings;
  const written = writePrograms(job, plan.value, post, title, secondSideWords(laidBoard));
  if (!written.ok) return written;
  const sequence = { programs: written.value.map(inSequence), ...meaningOf(post) };
  const { here, proving } = share.begin(proofTask({ job, laid }, laidBoard, sequence));
  const under = writeUnderSide({ job, laid }, laidBoard, post);
  if (!under.ok) return under;
  const side = under.value;
  const programs = [...(side?.programs ?? []), ...written.value];
  return ok({
    board: {
      ...laidBoard,
      plan: plan.value,
      program: programs[0]!.program,
      programs,
      ...(side ? { under: side } : {}),
      ...meaningOf(post),
    },
    said: [...plan.diagnostics, ...written.diagnostics, ...under.diagnostics],
    here,
    proving,
    underProving:
      side && share.begin(underTask({ job, laid }, laidBoard, side, underSequence(side, post))).proving,
  });
}

/** A board with what its proofs say, as soon as they are made. */
async function endBoard({ board, said, proving, underProving }: BoardAtWork): Promise<Outcome<MadeBoard>> {
  const proved = await proving();
  if (!proved.ok) return proved;
  const { under: side, ...rest } = board;
  const { proof, asCut } = proved.value;
  if (side === undefined || underProving === undefined)
    return ok({ ...rest, proof, asCut }, [...said, ...proved.diagnostics]);
  const first = underProved(await underProving(), side);
  if (!first.ok) return first;
  const under = { ...side, ...first.value };
  return ok({ ...rest, proof: bothSides(proof, under.proof), asCut, under }, [
    ...said,
    ...proved.diagnostics,
    ...first.diagnostics,
  ]);
}

/**
 * The whole chain from a job's text to proved programs. The outcome fails when a stage cannot go on; a program
 * that was written but breaks a rule gives a `Made` with `pass` false, so that its findings can be shown.
 * Writes no file. Same input and same version: same result, to the byte.
 */
export async function makeJob(input: MakeInput): Promise<Outcome<Made>> {
  const prepared = await prepareJob(input);
  if (!prepared.ok) return prepared;
  const { job, laid, pieces } = prepared.value;
  const clashes = dryfitPieces(pieces.standing, laid.fitted.master);
  if (clashes.length > 0) return fail(...clashes);
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const clip = await loadClip();
  const share = new ProofShare(input.prover, clip);
  const ended = new Map<BoardAtWork, Outcome<MadeBoard>>();
  const atWork: BoardAtWork[] = [];
  /** Awaits a board's proofs; false where the work was stopped meanwhile. */
  const end = async (b: BoardAtWork): Promise<boolean> => {
    input.progress?.('prove', b.board.board.id);
    await pause();
    if (input.stop?.()) return false;
    const out = await unlessStopped(endBoard(b), input.stop);
    if (out !== undefined) ended.set(b, out);
    return out !== undefined;
  };
  let broken: Outcome<never> | undefined;
  for (const laidBoard of laid.boards) {
    input.progress?.('plan', laidBoard.board.id);
    await pause();
    if (input.stop?.()) return fail(stopped('plan'));
    const begun = beginBoard({ job, laid, pieces }, laidBoard, post.value, share, input.progress);
    if (!begun.ok) {
      broken = begun;
      break;
    }
    atWork.push(begun.value);
    if (input.prover !== undefined) continue;
    if (!(await end(begun.value))) return fail(stopped('prove'));
    if (!ended.get(begun.value)!.ok) break;
  }
  if (input.prover !== undefined && broken === undefined)
    await input.drafted?.({ job, laid, boards: atWork.map((b) => b.board) });
  // What is proved here goes before what is awaited.
  for (const b of [...atWork].sort((p, q) => Number(q.here) - Number(p.here)))
    if (!ended.has(b) && !(await end(b))) return fail(stopped('prove'));
  const said: Diagnostic[] = [...prepared.diagnostics];
  const boards: MadeBoard[] = [];
  for (const b of atWork) {
    const out = ended.get(b)!;
    if (!out.ok) return out;
    boards.push(out.value);
    said.push(...out.diagnostics);
  }
  if (broken !== undefined) return broken;
  const sides = bySides(laid, laid.boards);
  // Where sheets are turned over, sides have names of their own here and joints of the proofs have not.
  const turned = boards.some((b) => b.under !== undefined);
  const proofs = new Map(boards.map((b) => [b.asCut, b.proof.joints]));
  const joints = asOneSide(
    judgeJoints(
      sides.fitted.joinery.joints,
      boards.flatMap((b) => [b.asCut, ...(b.under ? [b.under.asCut] : [])]),
      sides.thicknesses,
      (board) => (turned ? [] : (proofs.get(board) ?? [])),
    ),
  );
  const pass = boards.every((b) => b.proof.pass) && joints.every((j) => j.verdict === 'as wanted');
  const forecast = forecastJob(
    job,
    laid.boards,
    laid.fitted.joinery.joints.flatMap((j) => j.fits),
    joints,
  );
  return ok({ kind: 'made', pass, job, laid, boards, joints, forecast, diagnostics: said }, said);
}
