import { formatDxf, formatSvg, sheetOfParts } from '@haunch/drawing';
import { type Ladder, ladderNoRoom, ladderParts } from '@haunch/gauge';
import { loadClip, offsetRing, type Point, type Ring, ringBounds, snap } from '@haunch/geometry';
import {
  type Board,
  fail,
  type Layout,
  type NestingInstance,
  type Outcome,
  ok,
  type Part,
  type Program,
  type Proof,
  placePart,
} from '@haunch/model';
import { constructive, runNesting, seededRandom, ticks } from '@haunch/nesting';
import { type Plan, planBoard } from '@haunch/planner';
import { proveSequence } from '@haunch/proof';
import { wallsOf } from './cutting-of-job.js';
import { unknownName } from './diagnostics.js';
import { housingDepthOf } from './housing-depth.js';
import type { Job } from './job.js';
import { keptFree, withoutTrims } from './kept-free.js';
import { ladderEntries, ladderSteps } from './ladder-of-job.js';
import type { LaidJob, PlacedItem } from './lay-job.js';
import { layoutPicture } from './layout-picture.js';
import { type MakeInput, meaningOf, postOf, prepareJob } from './make.js';
import { boardThicknessAt } from './placed-thickness.js';
import { POSTS } from './posts.js';
import { inSequence } from './programs/prove-programs.js';
import { type MadeProgram, writePrograms } from './programs/write-programs.js';
import { rungsPicture } from './rungs-picture.js';

/** A ladder laid in the waste of a job's layout, with its proved program. */
export interface MadeLadder {
  readonly kind: 'made-ladder';
  readonly board: Board;
  readonly ladder: Ladder;
  readonly items: readonly PlacedItem[];
  readonly plan: Plan;
  readonly program: Program;
  readonly proof: Proof;
  readonly pass: boolean;
  /** Paths below the output folder and their text. */
  readonly files: ReadonlyMap<string, string>;
}

/** The largest piece of a ring grown by a distance, mm. */
const grown = (r: Ring, by: number): Ring[] => offsetRing(r, { by });

/** Where the ladder's parts may lie: in what the layout left of the board, unturned. */
function roomFor(board: Board, taken: readonly Part[], parts: readonly Part[], job: Job): NestingInstance {
  const spacing = 2 * job.router.diameter + job.settings.lay.web;
  return {
    items: parts.map((p) => ({ id: p.id, outline: p.outline.ring, turns: [0], boards: [board.id] })),
    boards: [
      {
        id: board.id,
        outline: board.outline,
        // A keep-out is kept clear by the edge margin; what was laid needs the spacing of parts.
        keepOuts: [
          ...keptFree(board, job),
          ...taken.flatMap((p) =>
            grown(p.outline.ring, Math.max(0.1, spacing - job.settings.lay.edgeMargin)),
          ),
        ],
      },
    ],
    spacing,
    edgeMargin: job.settings.lay.edgeMargin,
  };
}

/** Where the ladder will lie decides which thickness its rungs are stepped about: laid for the board's mean first, then drawn anew. */
function laid(
  job: Job,
  board: Board,
  taken: readonly Part[],
  housingDepth: number | undefined,
): Outcome<{ ladder: Ladder; layout: Layout; plug: Point }> {
  const entry = ladderEntries(job.settings).find(
    (e) => 'steps' in e && (e.board === undefined || e.board === board.id),
  );
  const material = job.materials.get(board.stock) ?? board.stock;
  const steps = ladderSteps(job, material, entry && 'steps' in entry ? entry.steps : {});
  const { form, surplus } = job.settings.relief;
  const cut = (thickness: number): Ladder =>
    ladderParts({
      steps,
      thickness: snap(thickness),
      cutterDiameter: job.router.diameter,
      ...(form === 'none' ? {} : { relief: { form, surplus, radius: job.router.diameter / 2 } }),
      ...(housingDepth === undefined ? {} : { housingDepth }),
    });
  const first = cut(board.thickness);
  const instance = roomFor(board, taken, first.parts, job);
  const budget = ticks(job.settings.lay.effort);
  const run = { random: seededRandom(job.settings.seed), tick: budget };
  const { layout } = runNesting(constructive, instance, constructive.defaults, run);
  if (layout.unplaced.length > 0) {
    const box = ringBounds(first.parts[0]!.outline.ring);
    return fail(ladderNoRoom(board.id, Math.ceil(box.maxX), Math.ceil(box.maxY), { board: board.id }));
  }
  const plug = layout.placements.find((p) => p.item === 'ladder-plug')!;
  const { minX, minY, maxX, maxY } = ringBounds(placePart(first.parts[1]!, plug).outline.ring);
  const middle = { x: snap((minX + maxX) / 2), y: snap((minY + maxY) / 2) };
  return ok({ ladder: cut(boardThicknessAt(board, middle)), layout, plug: middle });
}

/** The board that a ladder is cut from: that named, or the one with the most parts. */
const boardOf = (job: Job, laidJob: LaidJob, id: string | undefined): Board | undefined =>
  id === undefined
    ? [...laidJob.boards].sort((a, b) => b.items.length - a.items.length)[0]?.board
    : job.boards.find((b) => b.id === id);

/** The ladder drawn for a board and laid in what the job's layout left of it. */
const laidOn = (job: Job, laidJob: LaidJob, board: Board) =>
  laid(
    job,
    board,
    laidJob.boards.find((b) => b.board.id === board.id)?.items.map((i) => i.part) ?? [],
    housingDepthOf(laidJob.fitted.parts),
  );

/** Outlines that were asked for, by layout and board: laying a ladder is worth doing once. */
const outlined = new WeakMap<LaidJob, Map<string, readonly Ring[]>>();

/** The outlines of a ladder as it lies on a board between the parts of a job; none where it has no room. Board coordinates, mm. */
export function ladderOutlines(job: Job, laidJob: LaidJob, board: Board): readonly Ring[] {
  const known = outlined.get(laidJob) ?? new Map<string, readonly Ring[]>();
  outlined.set(laidJob, known);
  const found = known.get(board.id);
  if (found) return found;
  const drawn = laidOn(job, laidJob, board);
  const rings = drawn.ok
    ? drawn.value.layout.placements.map(
        (p) => placePart(drawn.value.ladder.parts.find((q) => q.id === p.item)!, p).outline.ring,
      )
    : [];
  known.set(board.id, rings);
  return rings;
}

/** Where the plug of a job's ladder is cut: the middle of it on its board, mm; see `makeLadder`, which cuts it there. */
export async function plugPlace(input: MakeInput, boardId?: string): Promise<Outcome<Point>> {
  const prepared = await prepareJob(input, { ladder: 'not yet' });
  if (!prepared.ok) return prepared;
  const { job, laid: laidJob } = prepared.value;
  const board = boardOf(job, laidJob, boardId);
  if (!board) return fail(unknownName('board', boardId ?? '', 'boards', job.file, job.lineOf(['boards'])));
  const drawn = laidOn(job, laidJob, board);
  return drawn.ok ? ok(drawn.value.plug) : drawn;
}

/**
 * The ladder of a job: drawn for its board and its router, laid in the waste of the very layout that the joints will be cut
 * in, planned with the same passes, written and proved as a program of its own. The board's first when left out is that with
 * the most parts.
 */
export async function makeLadder(input: MakeInput, boardId?: string): Promise<Outcome<MadeLadder>> {
  const prepared = await prepareJob(input, { ladder: 'not yet' });
  if (!prepared.ok) return prepared;
  const { job, laid: laidJob } = prepared.value;
  const post = postOf(job, input.posts ?? POSTS);
  if (!post.ok) return post;
  const chosen = boardOf(job, laidJob, boardId);
  if (!chosen) return fail(unknownName('board', boardId ?? '', 'boards', job.file, job.lineOf(['boards'])));
  const taken = laidJob.boards.find((b) => b.board.id === chosen.id)?.items.map((i) => i.part) ?? [];
  const drawn = laidOn(job, laidJob, chosen);
  if (!drawn.ok) return drawn;
  const { ladder, layout } = drawn.value;
  const items = layout.placements.map(
    (p): PlacedItem => ({
      item: p.item,
      piece: 1,
      part: placePart(ladder.parts.find((q) => q.id === p.item)!, p),
    }),
  );
  // What frees an off-cut waits until the parts are cut.
  const uncut = withoutTrims(chosen);
  const shared = { board: uncut, items, cutters: job.cutters, machine: job.machine, holding: job.holding };
  const plan = planBoard({ ...shared, ...wallsOf(job), mating: new Set(ladder.mating) });
  if (!plan.ok) return plan;
  const title = `${job.settings.title}: ladder`;
  const programs = writePrograms(job, plan.value, post.value, title);
  if (!programs.ok) return programs;
  const proved = proveSequence({
    ...shared,
    programs: programs.value.map(inSequence),
    joints: [],
    thicknesses: {},
    clip: await loadClip(),
    ...meaningOf(post.value),
  });
  if (!proved.ok) return proved;
  const [{ program }] = programs.value as [MadeProgram];
  const made = { board: chosen, items, use: 0, plan: plan.value, program, ...proved.value };
  const files = new Map<string, string>([
    ...programs.value.map(
      (p) =>
        [
          `ladder/${p.name.replace(chosen.id, `${chosen.id}-ladder`)}.${p.program.extension}`,
          p.program.text,
        ] as const,
    ),
    [
      `ladder/${chosen.id}-ladder.svg`,
      formatSvg(
        layoutPicture({
          ...made,
          items: [...items, ...taken.map((part): PlacedItem => ({ item: part.id, piece: 1, part }))],
        }),
      ),
    ],
    [`ladder/${chosen.id}-rungs.svg`, formatSvg(rungsPicture(ladder))],
    [
      `ladder/${chosen.id}-ladder.dxf`,
      formatDxf(
        sheetOfParts(
          items.map((i) => i.part),
          { title, placed: true },
        ),
      ),
    ],
  ]);
  const said = [...prepared.diagnostics, ...plan.diagnostics, ...programs.diagnostics, ...proved.diagnostics];
  return ok(
    {
      kind: 'made-ladder',
      board: chosen,
      ladder,
      items,
      plan: plan.value,
      program,
      proof: proved.value.proof,
      pass: proved.value.proof.pass,
      files,
    },
    said,
  );
}
