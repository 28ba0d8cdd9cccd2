import { formatDxf, formatSvg, sheetOfParts } from '@haunch/drawing';
import { loadClip, ringArea } from '@haunch/geometry';
import { withLocalThickness } from '@haunch/joinery';
import {
  type Board,
  type Diagnostic,
  type Fit,
  fail,
  type Outcome,
  ok,
  type Part,
  type Placement,
  placePart,
} from '@haunch/model';
import { planBoard } from '@haunch/planner';
import { cuttingOf } from '../cutting-of-job.js';
import { noRoom, unknownName } from '../diagnostics.js';
import { type FittedParts, fittedParts } from '../fitted-parts.js';
import { type Job, readJob } from '../job.js';
import { withoutTrims } from '../kept-free.js';
import { layoutPicture } from '../layout-picture.js';
import { loadPieces } from '../load-pieces.js';
import { type MadeBoard, type MakeInput, meaningOf, postOf } from '../make.js';
import { boardThicknessAt, meanThickness, onBoard } from '../placed-thickness.js';
import { POSTS } from '../posts.js';
import { fileOf, inSequence, provePrograms } from '../programs/prove-programs.js';
import { writePrograms } from '../programs/write-programs.js';
import type { Report } from '../report-schema.js';
import { candidateBoards, type KeptBoards } from './candidates.js';
import {
  remakeMisfit,
  remakeNone,
  remakeNoRecord,
  remakeOtherReport,
  remakeOtherThickness,
} from './diagnostics.js';
import { recordWith } from './record-with.js';
import {
  type EdgeDoubt,
  edgesWith,
  grippedThickness,
  gripWith,
  isGripped,
  misfits,
  offWindow,
  type RecordedFit,
  type RemadeFit,
  thicknessWanted,
  wallsWith,
} from './recorded-fit.js';
import { spotsFor } from './spots.js';

/** A lost part made again against the record of its partners. */
export interface Remade {
  readonly kind: 'remade';
  readonly part: string;
  readonly board: string;
  /** Every fit of the part with what was cut already. */
  readonly fits: readonly RemadeFit[];
  /** Boards that would not do, with the reasons. */
  readonly passedOver: readonly Diagnostic[];
  readonly pass: boolean;
  /** Paths below the output folder and their text. */
  readonly files: ReadonlyMap<string, string>;
}

/** Which part is lost, what was cut with it, and from what it may be made again. */
export interface RemakeRequest {
  readonly part: string;
  /** The record of the make by which its partners were cut. */
  readonly report: Report;
  /** This board alone; the smallest that does when left out. */
  readonly board?: string;
  /** Boards and off-cuts of the day book: candidates beside the job's. */
  readonly kept?: KeptBoards;
}

/** Beyond this a plate of another thickness shows where something comes through it, mm; common practice, no source. */
const THICKNESS_SHOWS = 0.1;
const CERTAIN: EdgeDoubt = { gouge: 0, excess: 0 };

interface Lost {
  readonly job: Job;
  readonly id: string;
  readonly part: Part;
  /** Its thickness before, mean where it lay. mm */
  readonly was: number;
  readonly fitted: FittedParts;
  readonly report: Report;
  /** All its fits with their record, those that it enters and those that enter it. */
  readonly recorded: readonly (readonly [Fit, RecordedFit])[];
}

const doubtOf = (report: Report, part: string): EdgeDoubt =>
  report.parts.find((p) => p.id === part) ?? CERTAIN;

/** The fits of a part that lies there, by the record alone: what the board decides, and edges as drawn. */
function fitsAt(lost: Lost, board: Board, placement: Placement): RemadeFit[] {
  const { id, part, fitted, recorded, was, report } = lost;
  const { master, joinery } = fitted;
  const means = new Map(master?.parts.map((p) => [p.id, p.thickness]) ?? []);
  const there = master
    ? withLocalThickness(master, joinery, (p, at) =>
        p === id ? boardThicknessAt(board, onBoard(part, placement, at)) : means.get(p)!,
      ).joints
    : [];
  const local = new Map(there.flatMap((j) => j.fits.map((f) => [f.id, f.local] as const)));
  return recorded.flatMap(([fit, record]): RemadeFit[] => {
    if (fit.enteringPart !== id) return [];
    if (isGripped(fit, id)) return [gripWith(fit, record, local.get(fit.id) ?? board.thickness, was)];
    return [edgesWith(fit, record, doubtOf(report, id), CERTAIN)];
  });
}

/** What the program of the new part makes of every fit. */
function fitsAsCut(lost: Lost, before: readonly RemadeFit[], made: MadeBoard): RemadeFit[] {
  const { id, recorded, report } = lost;
  const cut = made.proof.parts.find((p) => p.item === id) ?? CERTAIN;
  const proved = new Map(made.proof.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
  const gripped = new Map(before.map((f) => [f.fit, f]));
  return recorded.flatMap(([fit, record]): RemadeFit[] => {
    if (isGripped(fit, id)) return [gripped.get(fit.id)!];
    if (fit.enteringPart === id) return [edgesWith(fit, record, doubtOf(report, id), cut)];
    const p = proved.get(fit.id);
    const wall = p && wallsWith(fit, p, doubtOf(report, fit.enteringPart));
    return wall ? [wall] : [];
  });
}

const ofMisfit = (part: string, board: string, wrong: readonly RemadeFit[]): Diagnostic =>
  remakeMisfit(part, board, wrong[0]!, wrong.length - 1);

/** A part's joinery with the thicknesses that its partners had where they are gripped, as recorded. */
function lostOf(job: Job, id: string, report: Report, input: MakeInput): Outcome<Lost & { stock?: string }> {
  const loaded = loadPieces(job, input.source);
  if (!loaded.ok) return loaded;
  const pieces = loaded.value;
  const ids = [...(pieces.master?.parts ?? []), ...pieces.loose].map((p) => p.id);
  const before = new Map(report.parts.map((p) => [p.id, p]));
  if (ids.some((p) => !before.has(p)) || report.parts.some((p) => !ids.includes(p.id)))
    return fail(remakeOtherReport(report.title));
  if (!ids.includes(id)) return fail(unknownName('part', id, 'pieces', job.file, job.lineOf(['pieces'])));
  const records = new Map(report.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
  // Refitted to the plates as they were cut, not as the job would lay them by now.
  const thicknesses = Object.fromEntries(ids.map((p) => [p, before.get(p)!.thickness]));
  const again = fittedParts(job, pieces, thicknesses, {
    basis: 'ladder',
    atGrip: (fit) => {
      const record = records.get(fit.id);
      return record && fit.slotPart === id
        ? grippedThickness(fit, record, thicknesses[fit.enteringPart]!)
        : undefined;
    },
  });
  if (!again.ok) return again;
  const fitted = again.value;
  const own = fitted.joinery.joints
    .flatMap((j) => j.fits)
    .filter((f) => f.slotPart === id || f.enteringPart === id);
  const known = (f: Fit): boolean => records.get(f.id)?.least != null && records.get(f.id)?.most != null;
  const unknown = own.filter((f) => !known(f));
  const stock = pieces.stock.get(id);
  return ok(
    {
      job,
      id,
      part: fitted.parts.find((p) => p.id === id)!,
      was: thicknesses[id]!,
      fitted,
      report,
      recorded: own.filter(known).map((f) => [f, records.get(f.id)!] as const),
      ...(stock === undefined ? {} : { stock }),
    },
    unknown.length === 0
      ? []
      : [
          remakeNoRecord(
            id,
            unknown.map((f) => f.id),
          ),
        ],
  );
}

interface Found {
  readonly board: Board;
  readonly placement: Placement;
  readonly fits: readonly RemadeFit[];
}

/** Whether a part that finds no room on a board would find some if its grain did not matter. */
const onlyGrain = ({ job, part }: Pick<Lost, 'job' | 'part'>, board: Board): boolean =>
  part.grain !== null && spotsFor(job, { ...part, grain: null }, board).length > 0;

/** The spot of a board at which the part goes with what is cut already, or why none of its spots does. */
function spotOn(lost: Lost, board: Board): Found | Diagnostic {
  const { id } = lost;
  const all = spotsFor(lost.job, lost.part, board).map((placement): Found & { off: number } => {
    const fits = fitsAt(lost, board, placement);
    return { board, placement, fits, off: Math.max(0, ...fits.map(offWindow)) };
  });
  if (all.length === 0) return noRoom(id, [board.id], onlyGrain(lost, board));
  const best = all.reduce((a, b) => (b.off < a.off ? b : a));
  return best.off > 0 ? ofMisfit(id, board.id, misfits(best.fits)) : best;
}

/** Plans, writes and proves the part alone where it lies. */
async function cut(
  lost: Lost,
  input: MakeInput,
  { board: whole, placement }: Found,
): Promise<Outcome<MadeBoard>> {
  const board = withoutTrims(whole);
  const { job, id, part, fitted, report } = lost;
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const thickness = meanThickness(part, placement, board);
  const items = [{ item: id, piece: 1, part: placePart({ ...part, thickness }, placement) }];
  const mating = new Set(fitted.joinery.contacts.map((c) => c.edge));
  const cutting = cuttingOf(job, { board, items });
  if (!cutting.ok) return cutting;
  const plan = planBoard({
    ...cutting.value,
    board,
    items,
    mating,
    cutters: job.cutters,
    machine: job.machine,
    holding: job.holding,
  });
  if (!plan.ok) return plan;
  const programs = writePrograms(job, plan.value, post.value, `${job.settings.title}: ${id} again`);
  if (!programs.ok) return programs;
  const thicknesses = Object.fromEntries(
    report.parts.map((p) => [p.id, p.id === id ? thickness : p.thickness]),
  );
  const laidBoard = { board, items, use: 0 };
  const sequence = { programs: programs.value.map(inSequence), ...meaningOf(post.value) };
  const context = { job, laid: { fitted, thicknesses } };
  const proved = provePrograms(context, laidBoard, sequence, await loadClip());
  if (!proved.ok) return proved;
  return ok(
    {
      ...laidBoard,
      plan: plan.value,
      program: programs.value[0]!.program,
      programs: programs.value,
      ...proved.value,
      ...meaningOf(post.value),
    },
    [...plan.diagnostics, ...programs.diagnostics, ...proved.diagnostics],
  );
}

/**
 * Makes one lost part again. Its partners stay as the record has them: every slot that it enters is compared with the thickness of the very
 * spot that would be gripped, every edge that it meets with the edge on record, and its own slots are cut for the partners'
 * recorded thicknesses. Candidates are the job's boards and, with `kept`, the day book's, the smallest first, each at the layout's
 * place and then all over it; those that would not do are named with the figure. The part's program is planned, written and
 * proved alone, and the record with the new part in the old one's place comes with it. mm
 */
export async function remakePart(
  input: MakeInput,
  { part: id, report, board: wanted, kept }: RemakeRequest,
): Promise<Outcome<Remade>> {
  const read = readJob(input.text, input.file, { source: input.source });
  if (!read.ok) return read;
  const job = read.value;
  const found = lostOf(job, id, report, input);
  if (!found.ok) return found;
  const lost = found.value;
  const { stock } = lost;
  const { boards, passedOver, known } = candidateBoards(job, {
    part: id,
    stock,
    used: new Set([...report.boards.map((b) => b.id), ...report.parts.map((p) => p.board)]),
    kept,
    wanted,
  });
  if (wanted !== undefined && !known.includes(wanted))
    return fail(unknownName('board', wanted, 'boards', job.file, job.lineOf(['boards'])));
  const reasons: Diagnostic[] = [...passedOver];
  const area = (b: Board): number => ringArea(b.outline);
  for (const board of [...boards].sort((a, b) => area(a) - area(b) || (a.id < b.id ? -1 : 1))) {
    const spot = spotOn(lost, board);
    if (!('placement' in spot)) {
      reasons.push(spot);
      continue;
    }
    const made = await cut(lost, input, spot);
    if (!made.ok) return made;
    const fits = fitsAsCut(lost, spot.fits, made.value);
    const wrong = misfits(fits);
    const said = [...found.diagnostics, ...made.diagnostics];
    const thickness = meanThickness(lost.part, spot.placement, board);
    if (Math.abs(thickness - lost.was) > THICKNESS_SHOWS)
      said.push(remakeOtherThickness(id, board.id, lost.was, thickness));
    if (wrong.length > 0) said.push(ofMisfit(id, board.id, wrong));
    return ok(
      {
        kind: 'remade',
        part: id,
        board: board.id,
        fits,
        passedOver: reasons,
        pass: made.value.proof.pass && wrong.length === 0,
        files: filesOf(lost, made.value, fits),
      },
      said,
    );
  }
  const gripped = lost.recorded.filter(([f]) => isGripped(f, id));
  return fail(
    remakeNone(id, thicknessWanted(gripped, lost.was)),
    ...reasons.map((d): Diagnostic => ({ ...d, level: 'error' })),
  );
}

function filesOf(lost: Lost, made: MadeBoard, fits: readonly RemadeFit[]): Map<string, string> {
  const { job, id, report } = lost;
  const name = `${id.replaceAll('/', '-')}-again`;
  const programs = made.programs.map((p) => ({
    file: fileOf({ ...p, name: p.name.replace(made.board.id, name) }),
    text: p.program.text,
  }));
  const layout = `${name}.dxf`;
  const title = `${job.settings.title}: ${id} again`;
  const record = recordWith(report, {
    job,
    id,
    made,
    fits,
    programs: programs.map((p) => p.file),
    layout,
    title,
  });
  return new Map<string, string>([
    ...programs.map((p) => [p.file, p.text] as const),
    [`${name}.svg`, formatSvg(layoutPicture(made))],
    [layout, formatDxf(sheetOfParts([made.items[0]!.part], { title, placed: true }))],
    [`${name}.report.json`, `${JSON.stringify(record, null, 1)}\n`],
  ]);
}
