import { cornerStands } from '@haunch/gauge';
import {
  type Board,
  type Diagnostic,
  fail,
  type Layout,
  type Locus,
  type NestingInstance,
  type NestingItem,
  type Outcome,
  ok,
  type Part,
  partOnTable,
  placePart,
} from '@haunch/model';
import {
  checkLayout,
  constructive,
  instanceProblems,
  type RefereeReport,
  runNesting,
  seededRandom,
  ticks,
  type Violation,
} from '@haunch/nesting';
import {
  drawnForOther,
  knockWithoutSteps,
  layoutInvalid,
  machineLeftOver,
  matesUnlike,
  noBoardForStock,
  noLadderForMaterial,
  noRoom,
  refitSpacing,
} from './diagnostics.js';
import { type FittedParts, fittedParts } from './fitted-parts.js';
import { improveStocks, type LayoutStep } from './improve-stocks.js';
import type { Job } from './job.js';
import { type JointAim, jointAims, type MaterialOf } from './job-allowances.js';
import type { JobPlacement } from './job-schema.js';
import { keptFree, takingRoom } from './kept-free.js';
import { ladderFor, standsBy } from './ladder-of-job.js';
import { ALIKE, type MatesAlike, withLikeMates } from './like-thickness.js';
import type { Pieces } from './load-pieces.js';
import { asItIs } from './machine-as-it-is.js';
import { machineEffects } from './machine-effects.js';
import { leftOver } from './machine-words.js';
import { around, byHandOr, placedByHand, together, writtenLayout } from './placed-by-hand.js';
import { boardThicknessAt, meanThickness, onBoard, thicknessRange } from './placed-thickness.js';
import { lockTurns, type TurnLock } from './turn-lock.js';

/** A part where it lies on its board, as it is cut. Board coordinates, mm. */
export interface PlacedItem {
  readonly item: string;
  readonly piece: number;
  readonly part: Part;
}

/** One board with what is cut from it. */
export interface LaidBoard {
  readonly board: Board;
  readonly items: readonly PlacedItem[];
  /** Share of the board's area that the parts' outlines cover. */
  readonly use: number;
}

/** A job laid out: parts fitted to the very boards that they lie on. */
export interface LaidJob {
  readonly fitted: FittedParts;
  readonly layout: Layout;
  /** The parts as they are cut, and the rules by which the referee judged the layout. */
  readonly instance: NestingInstance;
  readonly referee: RefereeReport;
  /** How a job file says where each part lies, by part id. */
  readonly written: Readonly<Record<string, JobPlacement>>;
  readonly boards: readonly LaidBoard[];
  /** How the clearance of each joint came about; none for drawings. */
  readonly aims: readonly JointAim[];
  /** Real thickness of each part: its mean where it lies on its board. */
  readonly thicknesses: Readonly<Record<string, number>>;
  /** Moves by which the layout was improved: with them as `lay.stopAfter` the same is made again. */
  readonly moves: number;
  /** How alike mates lie in thickness; null where there are none. */
  readonly alike: MatesAlike | null;
}

/** How somebody who waits for a layout takes part in it. */
export interface LayWatch {
  /** True stops the work as soon as there is a layout. */
  readonly stop?: (() => boolean) | undefined;
  /** Asked while the layout is improved; true takes what was found so far. */
  readonly enough?: (() => boolean) | undefined;
  /** Told of each better layout, to be shown. */
  readonly found?: ((step: LayoutStep) => void) | undefined;
}

/** The boards that a part may be cut from. */
const boardsFor = (job: Job, pieces: Pieces, part: string): Board[] => {
  const stock = pieces.stock.get(part);
  return job.boards.filter((b) => stock === undefined || b.stock === stock);
};

const idsOf = (pieces: Pieces): string[] => [
  ...(pieces.master?.parts.map((p) => p.id) ?? []),
  ...pieces.loose.map((p) => p.id),
];

/** What is said of parts that found no room: which, and on which boards. */
export const withoutRoom = (job: Job, pieces: Pieces, parts: readonly string[]): Diagnostic[] =>
  parts.map((id) => {
    const boards = boardsFor(job, pieces, id);
    return noRoom(
      id,
      boards.map((b) => b.id),
      false,
      takingRoom(boards, job.machine),
    );
  });

const placeOf = (v: Violation): Locus => ({
  ...(v.board === undefined ? {} : { board: v.board }),
  ...(v.items[0] === undefined ? {} : { part: v.items[0] }),
});

const QUARTER = Math.PI / 2;

/** The turns that bring a part's grain along a board's; any quarter turn where either has none. */
function turnsFor(part: Part, board: Board): number[] {
  if (part.grain === null || board.grain === null) return [0, QUARTER, 2 * QUARTER, 3 * QUARTER];
  const along = (part.grain === 'u') === (board.grain === 'x');
  return along ? [0, 2 * QUARTER] : [QUARTER, 3 * QUARTER];
}

/** Which faces of a part will be seen, as it lies on the table: either may be, where nothing says which. */
const facesShown = ({ showFace, cutFace }: Part): NonNullable<NestingItem['shows']> =>
  showFace === null ? ['up', 'down'] : showFace === cutFace ? ['up'] : ['down'];

/** A part as an item of a layout: as it lies on the table, with the turns that its grain allows; of these only odd or even quarters, if `odd` says which. */
export function itemFor(part: Part, boards: readonly Board[], odd?: boolean): NestingItem {
  // The contract's turns belong to the item, so boards of another grain than the first are left out.
  const same = boards.filter((b) => b.grain === boards[0]!.grain);
  const turns = turnsFor(part, boards[0]!);
  return {
    id: part.id,
    outline: partOnTable(part).outline.ring,
    turns: odd === undefined ? turns : turns.filter((t) => (Math.round(t / QUARTER) % 2 === 1) === odd),
    boards: same.map((b) => b.id),
    ...(boards.some((b) => b.defects) ? { shows: facesShown(part) } : {}),
  };
}

/** With `slack`, as a strategy is asked: that is added where parts may still grow a little before they are cut, and kerfs of trimming cuts and the hood have room. */
function instanceOf(
  job: Job,
  pieces: Pieces,
  parts: readonly Part[],
  lock: TurnLock,
  slack?: number,
): NestingInstance {
  const boards = job.boards.map((board) => ({
    id: board.id,
    outline: board.outline,
    keepOuts: slack === undefined ? board.keepOuts : keptFree(board, job),
    ...(board.defects ? { defects: board.defects } : {}),
    cost: job.costs.get(board.id) ?? 1,
  }));
  return {
    items: parts.map((part) => itemFor(part, boardsFor(job, pieces, part.id), lock.get(part.id))),
    // The cheapest are filled first.
    boards: boards.sort((a, b) => a.cost - b.cost),
    spacing: 2 * job.written.diameter + job.settings.lay.web + 2 * (slack ?? 0),
    edgeMargin: job.settings.lay.edgeMargin + (slack ?? 0),
  };
}

/** Beyond this a mate notices what the machine does to it, mm; common practice, no source. */
const NOTICED = 0.03;

/** What the machine still does to mates where its programs are left as they are and no mate is turned. */
function stillOff(job: Job, laid: LaidJob): Diagnostic[] {
  if (job.settings.machine.calibration?.programs !== 'no turned mates') return [];
  const effects = machineEffects(job, laid);
  const by = leftOver(effects);
  const worst = effects.find((e) => leftOver([e]) === by);
  if (!worst || by <= NOTICED) return [];
  return [machineLeftOver(by, worst.joint, job.file, job.lineOf(['machine', 'calibration']))];
}

/** Materials with slots for which the job has neither a ladder nor a reason. */
function withoutLadder(job: Job, pieces: Pieces, materialOf: MaterialOf): Diagnostic[] {
  const slots = new Map<string, string[]>();
  for (const m of pieces.master?.mates ?? []) {
    const material = materialOf(m.slotPart);
    if (material !== null && !ladderFor(job.ladders, material))
      slots.set(material, [...(slots.get(material) ?? []), m.id]);
  }
  return [...slots].map(([material, joints]) => noLadderForMaterial(material, joints, job.file));
}

/** What is asked of a strategy: the parts at the thickest place of their stock, and the boards. */
export interface LayoutQuestion {
  /** Parts as they are laid out: refitted to the thickest place of their stock, with the usual clearances. */
  readonly first: FittedParts;
  readonly lock: TurnLock;
  /** What the referee holds a layout to. */
  readonly instance: NestingInstance;
  /** The same with some more spacing, since a part refitted to a thinner board can still grow, and with room for trimming cuts and the hood; what a strategy is given. */
  readonly roomy: NestingInstance;
}

/** The layout problem of a job. Fails where a part has no board of its stock, or cannot be refitted. */
export function layoutQuestion(job: Job, pieces: Pieces): Outcome<LayoutQuestion> {
  const ids = idsOf(pieces);
  const homeless = ids.filter((id) => boardsFor(job, pieces, id).length === 0);
  if (homeless.length > 0)
    return fail(
      ...homeless.map((id) =>
        noBoardForStock(id, pieces.stock.get(id) ?? '', [...new Set(job.boards.map((b) => b.stock))]),
      ),
    );
  const thickest = Object.fromEntries(
    ids.map((id) => [id, Math.max(...boardsFor(job, pieces, id).map((b) => thicknessRange(b)[1]))]),
  );
  // Laid out with the usual clearances, so that what is felt in a ladder moves no placement.
  const first = fittedParts(job, pieces, thickest, { basis: 'usual' });
  if (!first.ok) return first;
  // A part refitted to a thinner board of its stock can grow on a side by their difference at the most.
  const slack = Math.max(
    ...ids.map(
      (id) => thickest[id]! - Math.min(...boardsFor(job, pieces, id).map((b) => thicknessRange(b)[0])),
    ),
  );
  const locked: Outcome<TurnLock> =
    pieces.master && job.settings.machine.calibration?.programs === 'no turned mates'
      ? lockTurns(job, pieces.master, (id) => boardsFor(job, pieces, id))
      : ok(new Map());
  if (!locked.ok) return locked;
  const lock = locked.value;
  const instance = (more?: number) => instanceOf(job, pieces, first.value.parts, lock, more);
  return ok({ first: first.value, lock, instance: instance(), roomy: instance(slack) });
}

/**
 * Lays the job out: parts are refitted to the thickest place of their stock's boards and placed, round those that a person has laid; then,
 * with placements frozen, each is refitted to its mean thickness where it lies and every slot to the spot that enters it, and the
 * referee looks once more. Deterministic for the job's seed, unless it is stopped; where it was enough, `moves` as
 * `lay.stopAfter` gives the same.
 */
export function layJob(job: Job, pieces: Pieces, watch: LayWatch = {}): Outcome<LaidJob> {
  const asked = layoutQuestion(job, pieces);
  if (!asked.ok) return asked;
  const { first, lock, instance, roomy } = asked.value;
  const ids = idsOf(pieces);
  const problems = instanceProblems(roomy);
  if (problems.some((p) => p.level === 'error')) return fail(...problems);
  const laidByHand = placedByHand(job, first.parts, instance);
  if (!laidByHand.ok) return laidByHand;
  const fixed = laidByHand.value;
  const open = around(roomy, fixed);
  const { seed, lay } = job.settings;
  const stop = watch.stop ?? (() => false);
  const budget = ticks(lay.effort);
  const run = { random: seededRandom(seed), tick: () => !stop() && budget() };
  const all = (l: Layout): Layout => together(instance, fixed, l);
  const started = runNesting(constructive, open, constructive.defaults, run);
  const { layout: improved, moves } = improveStocks(open, started.layout, {
    seed,
    moves: lay.improve,
    stopAfter: lay.stopAfter,
    found: (step) => watch.found?.({ ...step, layout: all(step.layout) }),
    enough: () => stop() || (watch.enough?.() ?? false),
  });
  const { layout: rest, alike } = withLikeMates(
    { job, master: pieces.master, parts: first.parts, instance, open, whole: all },
    improved,
  );
  const report = checkLayout(open, rest);
  if (!report.valid) return fail(...report.violations.map((v) => layoutInvalid(v.message, placeOf(v))));
  if (rest.unplaced.length > 0) return fail(...withoutRoom(job, pieces, rest.unplaced));
  const layout = all(rest);

  const boardOf = new Map(layout.placements.map((p) => [p.item, job.boards.find((b) => b.id === p.board)!]));
  const placements = new Map(layout.placements.map((p) => [p.item, p]));
  const drawn = new Map(first.parts.map((p) => [p.id, p]));
  // A plate's own planes follow its mean where it lies; a slot follows the very spot that enters it.
  const thicknesses = Object.fromEntries(
    ids.map((id) => [id, meanThickness(drawn.get(id)!, placements.get(id)!, boardOf.get(id)!)]),
  );
  const materialOf = (id: string): string | null => job.materials.get(boardOf.get(id)!.stock) ?? null;
  const untried = withoutLadder(job, pieces, materialOf);
  if (untried.length > 0) return fail(...untried);
  const standing = job.ladders.flatMap((l) =>
    l.kind === 'felt' && l.corner && standsBy(l.corner, job.settings.relief)
      ? [
          cornerStands(l.corner.form, l.corner.surplus, l.board, 'error', {
            file: job.file,
            line: job.lineOf(['ladder']),
          }),
        ]
      : [],
  );
  if (standing.length > 0) return fail(...standing);
  const again = fittedParts(job, pieces, thicknesses, {
    basis: 'ladder',
    materialOf,
    local: (id, at) => boardThicknessAt(boardOf.get(id)!, onBoard(drawn.get(id)!, placements.get(id)!, at)),
  });
  if (!again.ok) return again;
  const refitted = instanceOf(job, pieces, again.value.parts, lock);
  const referee = checkLayout(refitted, layout);
  if (!referee.valid)
    return fail(...referee.violations.map((v) => byHandOr(job, v) ?? refitSpacing(v.message, placeOf(v))));

  const parts = new Map(again.value.parts.map((p) => [p.id, p]));
  const boards = job.boards
    .map(
      (board): LaidBoard => ({
        board,
        items: layout.placements
          .filter((p) => p.board === board.id)
          .map((p) => ({ item: p.item, piece: 1, part: placePart(parts.get(p.item)!, p) })),
        use: referee.use.find((u) => u.board === board.id)?.share ?? 0,
      }),
    )
    .filter((b) => b.items.length > 0);
  const warnings: Diagnostic[] = pieces.loose
    .filter((p) => p.thickness !== null && p.thickness !== thicknesses[p.id])
    .map((p) => drawnForOther(p.id, p.thickness!, thicknesses[p.id]!));
  const aims = pieces.master ? jointAims(job, 'ladder', pieces.master, materialOf) : [];
  if (job.settings.fit.knock === 'equal' && aims.every((a) => a.together === 1))
    warnings.push(knockWithoutSteps(job.file, job.lineOf(['fit', 'knock'])));
  const written = writtenLayout(instance, layout);
  const laid = {
    fitted: again.value,
    layout,
    instance: refitted,
    referee,
    written,
    boards,
    thicknesses,
    aims,
    moves,
    alike,
  };
  if (alike && alike.before > 0) warnings.push(matesUnlike(alike, ALIKE, open.items.length === 0, job.file));
  warnings.push(...stillOff(job, laid), ...asItIs(job, laid));
  return ok(laid, [...again.diagnostics, ...problems, ...warnings]);
}
