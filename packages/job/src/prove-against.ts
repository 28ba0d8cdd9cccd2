import { findParts, readDxf } from '@haunch/drawing';
import { type Box, loadClip, rectangleRing, ringBounds } from '@haunch/geometry';
import {
  type Board,
  type Cutter,
  type Diagnostic,
  fail,
  type Holding,
  type Machine,
  type Outcome,
  ok,
  type Part,
} from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { bestBoard, proveProgram } from '@haunch/proof';
import { noBoardMatches, noThickness, noTools, zZeroTaken } from './diagnostics.js';
import { JobHoldingSchema, JobMachineSchema } from './job-schema.js';
import { type MakeInput, meaningOf, postOf, prepareJob } from './make.js';
import { POSTS } from './posts.js';
import { proveOnBoard } from './prove-on-board.js';
import type { ProveResult } from './report-schema.js';

/** A program to be proved. */
export interface ProgramText {
  readonly text: string;
  readonly file: string;
}

/** Sizes for a proof against a drawing alone; lengths mm. */
export interface DrawingFacts {
  /** Diameter of every cutter, or of single ones by tool number. */
  readonly cutters: ReadonlyMap<number | 'any', number>;
  readonly thickness?: number;
  readonly zZero?: 'top' | 'bed';
}

const resultOf = (
  program: ProgramText,
  against: string,
  { proof }: Extract<ReturnType<typeof proveProgram>, { ok: true }>['value'],
  diagnostics: readonly Diagnostic[],
): ProveResult => ({
  format: 'haunch-proof',
  version: 1,
  program: program.file,
  against,
  board: proof.board,
  pass: proof.pass,
  blocks: proof.blocks,
  seconds: Math.round(proof.seconds * 10) / 10,
  rules: proof.rules.map((r) => ({ ...r, findings: [...r.findings] })),
  parts: proof.parts.map(({ item, cut, gouge, excess, tabs, tabsWanted }) => ({
    part: item,
    cut,
    gouge,
    excess,
    tabs,
    tabsWanted,
  })),
  joints: proof.joints.map((j) => ({ ...j, fits: j.fits.map((f) => ({ ...f, lines: [...f.lines] })) })),
  diagnostics: diagnostics.map((d) => ({ ...d, locus: { ...d.locus } })),
});

/**
 * Proves any program against a job: the job is refitted and laid out again (same seed, same layout), the board
 * that the program cuts is found by itself, and the text is judged on it.
 */
export async function proveAgainstJob(program: ProgramText, input: MakeInput): Promise<Outcome<ProveResult>> {
  const prepared = await prepareJob(input);
  if (!prepared.ok) return prepared;
  const { job, laid } = prepared.value;
  input.progress?.('prove');
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const meaning = meaningOf(post.value);
  const reading = readProgram(program.text, { file: program.file, ...meaning });
  const id = bestBoard(
    reading,
    laid.boards.map(({ board, items }) => ({ board, items })),
  );
  // A program so spoiled that its cuts match no board is still judged on the one that its name speaks of.
  const stem = program.file.replace(/^.*[\\/]/, '').replace(/\.[^.]*$/, '');
  const laidBoard =
    laid.boards.find((b) => b.board.id === id) ??
    laid.boards.find((b) => b.board.id === stem) ??
    (laid.boards.length === 1 ? laid.boards[0] : undefined);
  if (!laidBoard)
    return fail(
      // What the reader could not make out is the likeliest reason.
      ...reading.diagnostics.filter((d) => d.level === 'error').slice(0, 8),
      noBoardMatches(
        program.file,
        laid.boards.map((b) => b.board.id),
      ),
    );
  const proved = proveOnBoard({ job, laid }, laidBoard, { ...program, ...meaning }, await loadClip());
  if (!proved.ok) return proved;
  const all = [...prepared.diagnostics, ...proved.diagnostics];
  return ok(resultOf(program, input.file, proved.value, all), all);
}

const around = (parts: readonly Part[]): Box =>
  parts
    .map((p) => ringBounds(p.outline.ring))
    .reduce((a, b) => ({
      minX: Math.min(a.minX, b.minX),
      minY: Math.min(a.minY, b.minY),
      maxX: Math.max(a.maxX, b.maxX),
      maxY: Math.max(a.maxY, b.maxY),
    }));

/** Rules whose facts (reach, keep-outs, mates, limits, the cutter's passes and ramp) no drawing holds. */
const UNKNOWN_TO_A_DRAWING: ReadonlySet<string> = new Set(['P05', 'P07', 'P13', 'P14', 'P18', 'P19', 'P20']);

/** Room left round the parts of a drawing that shows no board, mm: wider than any cutter. */
const ROOM = 100;

/**
 * Proves a program against a layout drawing in machine coordinates. Which part enters which slot is not in a
 * drawing, so joints stay unknown; everything else is judged.
 */
export async function proveAgainstDrawing(
  program: ProgramText,
  drawing: { readonly content: string | Uint8Array; readonly file: string },
  facts: DrawingFacts,
): Promise<Outcome<ProveResult>> {
  const read = readDxf(drawing.content, { file: drawing.file });
  if (!read.ok) return read;
  const found = findParts(read.value, facts.thickness === undefined ? {} : { thickness: facts.thickness });
  if (!found.ok) return found;
  const parts = found.value;
  const thickness = facts.thickness ?? parts.find((p) => p.thickness !== null)?.thickness;
  if (thickness === undefined || thickness === null) return fail(noThickness(parts[0]!.id, drawing.file));
  const reading = readProgram(program.text, { file: program.file });
  const numbers = [
    ...new Set(reading.moves.flatMap((m) => ('tool' in m && m.tool !== null ? [m.tool] : []))),
  ].sort((a, b) => a - b);
  const sizes = numbers.length === 0 ? [1] : numbers;
  const unknown = sizes.filter((n) => !facts.cutters.has(n) && !facts.cutters.has('any'));
  if (unknown.length > 0) return fail(noTools(program.file, unknown));
  const defaults = JobMachineSchema.parse({});
  const said: Diagnostic[] = [];
  let zZero = facts.zZero;
  if (zZero === undefined) {
    // A cut through the sheet ends near −thickness from the top, near 0 from the bed.
    const deepest = Math.min(0, ...reading.moves.flatMap((m) => ('to' in m ? [m.to.z] : [])));
    zZero = deepest < -thickness / 2 ? 'top' : 'bed';
    said.push(zZeroTaken(program.file, zZero, deepest));
  }
  const { post: _post, postOptions: _options, ...usual } = defaults;
  const box = around(parts);
  const machine: Machine = {
    ...usual,
    zZero,
    envelope: { x: [-1e5, 1e5], y: [-1e5, 1e5], z: [-thickness - 50, 1e4] },
  };
  const board: Board = {
    id: drawing.file,
    stock: drawing.file,
    outline: rectangleRing(box.minX - ROOM, box.minY - ROOM, box.maxX + ROOM, box.maxY + ROOM),
    thickness,
    readings: [{ thickness }],
    grain: null,
    keepOuts: [],
  };
  const cutters = sizes.map(
    (number): Cutter => ({
      id: `T${number}`,
      number,
      kind: 'router',
      diameter: facts.cutters.get(number) ?? facts.cutters.get('any')!,
      flutes: 2,
      fluteLength: thickness + 50,
      upCutLength: null,
      rpm: 1,
      chipLoad: 1,
      depthPerPass: thickness,
      rampAngle: Math.PI / 2,
    }),
  );
  const holding: Holding = JobHoldingSchema.parse({});
  const proved = proveProgram({
    text: program.text,
    file: program.file,
    board,
    items: parts.map((part) => ({ item: part.id, piece: 1, part })),
    joints: [],
    thicknesses: {},
    cutters,
    machine,
    holding,
    clip: await loadClip(),
  });
  if (!proved.ok) return proved;
  const all = [...read.diagnostics, ...found.diagnostics, ...said, ...proved.diagnostics];
  const result = resultOf(program, drawing.file, proved.value, all);
  return ok(
    {
      ...result,
      pass: result.rules.every((r) => r.verdict !== 'fail' || UNKNOWN_TO_A_DRAWING.has(r.rule)),
      rules: result.rules.map((r) =>
        UNKNOWN_TO_A_DRAWING.has(r.rule)
          ? { ...r, verdict: 'not judged' as const, margin: null, findings: [] }
          : r,
      ),
    },
    all,
  );
}
