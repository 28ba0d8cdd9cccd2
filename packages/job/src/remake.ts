import { formatDxf, formatSvg, sheetOfParts } from '@haunch/drawing';
import { loadClip, ringArea } from '@haunch/geometry';
import {
  type Board,
  type Diagnostic,
  type Fit,
  type FitProof,
  fail,
  type Outcome,
  ok,
  type Part,
  passing,
  placePart,
} from '@haunch/model';
import { writeProgram } from '@haunch/nc/write';
import { constructive, runNesting, seededRandom, ticks } from '@haunch/nesting';
import { planBoard } from '@haunch/planner';
import { proveProgram } from '@haunch/proof';
import {
  noRoom,
  remakeMisfit,
  remakeNone,
  remakeOtherReport,
  remakeUsed,
  unknownName,
} from './diagnostics.js';
import { fittedParts } from './fitted-parts.js';
import { readJob } from './job.js';
import { itemFor } from './lay-job.js';
import { layoutPicture } from './layout-picture.js';
import { loadPieces } from './load-pieces.js';
import { commanded, type MakeInput, meaningOf, postOf } from './make.js';
import { thicknessRange } from './placed-thickness.js';
import { POSTS } from './posts.js';
import type { Report } from './report-schema.js';

/** One fit of the remade part with what was already cut. mm */
export interface RemadeFit {
  readonly fit: string;
  readonly joint: string;
  /** Clearance with the new part: [least, most] over the board's thickness. */
  readonly clearance: readonly [number, number];
  readonly window: readonly [number, number];
}

/** A lost part made again against the record of its partners. */
export interface Remade {
  readonly kind: 'remade';
  readonly part: string;
  readonly board: string;
  readonly fits: readonly RemadeFit[];
  /** Boards that would not do, with the reasons. */
  readonly passedOver: readonly Diagnostic[];
  readonly pass: boolean;
  /** Paths below the output folder and their text. */
  readonly files: ReadonlyMap<string, string>;
}

/**
 * What a slot that is already cut leaves for the new part: its width on record less the board's thickness; with one wall, the gap on
 * record and half of the difference of the plates, as the other half is on the plate's free side.
 */
function fitWith(fit: Fit, record: FitProof, lost: number, board: Board): RemadeFit {
  const [least, most] = thicknessRange(board);
  const at = (t: number): number =>
    record.width === null ? record.least! + (lost - t) / 2 : passing(record.width, fit.lean) - t;
  return { fit: fit.id, joint: fit.joint, clearance: [at(most), at(least)], window: fit.window };
}

const fitsWindow = ({ clearance, window }: RemadeFit): boolean =>
  clearance[0] >= window[0] - 1e-6 && clearance[1] <= window[1] + 1e-6;

/** Why a board will not do, by its worst fit. */
function misfit(part: string, board: Board, fits: readonly RemadeFit[]): Diagnostic | undefined {
  const off = (f: RemadeFit): number => Math.max(f.window[0] - f.clearance[0], f.clearance[1] - f.window[1]);
  const wrong = fits
    .filter((f) => !fitsWindow(f))
    .sort((a, b) => off(b) - off(a) || (a.fit < b.fit ? -1 : 1));
  return (
    wrong[0] &&
    remakeMisfit(
      part,
      board.id,
      thicknessRange(board),
      wrong[0].joint,
      wrong[0].clearance,
      wrong[0].window,
      wrong.length,
    )
  );
}

/**
 * Makes one lost part again: its drawing is the job's, refitted to the plates as they were cut (its partners stay), and a board of which
 * nothing was cut yet does when, for
 * every slot that the part enters, the width on record less the board's thickness lies in the fit's window all over the
 * board. The smallest board that does is taken; the others are named with the figure that rules them out. The part's program
 * is planned, written and proved alone.
 */
export async function remakePart(
  input: MakeInput,
  {
    part: id,
    report,
    board: wanted,
  }: { readonly part: string; readonly report: Report; readonly board?: string },
): Promise<Outcome<Remade>> {
  const read = readJob(input.text, input.file, { source: input.source });
  if (!read.ok) return read;
  const job = read.value;
  const loaded = loadPieces(job, input.source);
  if (!loaded.ok) return loaded;
  const pieces = loaded.value;
  const ids = [...(pieces.master?.parts ?? []), ...pieces.loose].map((p) => p.id);
  const recorded = new Map(report.parts.map((p) => [p.id, p]));
  if (ids.some((p) => !recorded.has(p)) || report.parts.some((p) => !ids.includes(p.id)))
    return fail(remakeOtherReport(report.title));
  // Refitted to the plates as they were cut, not as the job would lay them by now.
  const thicknesses = Object.fromEntries(ids.map((p) => [p, recorded.get(p)!.thickness]));
  const again = fittedParts(job, pieces, thicknesses, { basis: 'ladder' });
  if (!again.ok) return again;
  const fitted = again.value;
  const part = fitted.parts.find((p) => p.id === id);
  const before = recorded.get(id);
  if (!part || !before) return fail(unknownName('part', id, 'pieces', job.file, job.lineOf(['pieces'])));
  const candidates = job.boards.filter(
    (b) =>
      (wanted === undefined || b.id === wanted) &&
      (pieces.stock.get(id) === undefined || b.stock === pieces.stock.get(id)),
  );
  if (candidates.length === 0)
    return fail(
      unknownName('board', wanted ?? pieces.stock.get(id) ?? '', 'boards', job.file, job.lineOf(['boards'])),
    );
  const used = new Set(report.boards.map((b) => b.id));
  const records = new Map(report.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
  const entering = fitted.joinery.joints
    .flatMap((j) => j.fits)
    .filter((f) => f.kind === 'thickness' && f.enteringPart === id && records.get(f.id)?.least != null);
  const judged = candidates
    .filter((b) => !used.has(b.id))
    .map((board) => {
      const fits = entering.map((f) => fitWith(f, records.get(f.id)! as FitProof, before.thickness, board));
      return { board, fits, misfit: misfit(id, board, fits) };
    })
    .sort(
      (a, b) => ringArea(a.board.outline) - ringArea(b.board.outline) || (a.board.id < b.board.id ? -1 : 1),
    );
  const passedOver: Diagnostic[] = [
    ...candidates.filter((b) => used.has(b.id)).map((b) => remakeUsed(b.id)),
    ...judged.flatMap((j) => j.misfit ?? []),
  ];
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  for (const { board, fits, misfit: wrong } of judged) {
    if (wrong) continue;
    const budget = ticks(job.settings.lay.effort);
    const run = { random: seededRandom(job.settings.seed), tick: budget };
    const instance = {
      items: [itemFor(part, [board])],
      boards: [{ id: board.id, outline: board.outline, keepOuts: board.keepOuts }],
      spacing: 2 * job.router.diameter + job.settings.lay.web,
      edgeMargin: job.settings.lay.edgeMargin,
    };
    const { layout } = runNesting(constructive, instance, constructive.defaults, run);
    const placement = layout.placements[0];
    if (!placement) {
      passedOver.push(noRoom(id, [board.id]));
      continue;
    }
    return finish(board, fits, placePart(part as Part, placement));
  }
  return fail(remakeNone(id), ...passedOver.map((d): Diagnostic => ({ ...d, level: 'error' })));

  async function finish(board: Board, fits: readonly RemadeFit[], placed: Part): Promise<Outcome<Remade>> {
    const items = [{ item: id, piece: 1, part: placed }];
    const mating = new Set(fitted.joinery.contacts.map((c) => c.edge));
    const shared = { board, items, cutters: job.cutters, machine: job.machine, holding: job.holding };
    const plan = planBoard({ ...shared, mating });
    if (!plan.ok) return plan;
    const title = `${job.settings.title}: ${id} again`;
    if (!post.ok) return post;
    const program = writeProgram(commanded(job, plan.value), post.value, { title });
    if (!program.ok) return program;
    const proved = proveProgram({
      ...shared,
      text: program.value.text,
      joints: [],
      thicknesses: {},
      clip: await loadClip(),
      ...meaningOf(post.value),
    });
    if (!proved.ok) return proved;
    const name = `${id.replaceAll('/', '-')}-again`;
    const made = { board, items, use: 0, plan: plan.value, program: program.value, ...proved.value };
    const files = new Map<string, string>([
      [`${name}.${program.value.extension}`, program.value.text],
      [`${name}.svg`, formatSvg(layoutPicture(made))],
      [`${name}.dxf`, formatDxf(sheetOfParts([placed], { title, placed: true }))],
    ]);
    return ok(
      { kind: 'remade', part: id, board: board.id, fits, passedOver, pass: proved.value.proof.pass, files },
      [...plan.diagnostics, ...program.diagnostics, ...proved.diagnostics],
    );
  }
}
