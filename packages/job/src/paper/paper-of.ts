import { curvesOfPart, labelPlace } from '@haunch/drawing';
import { flattenRing, type Point, type Ring, ringArea, ringBounds, snap } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { checkedAt, isWhole } from '../board-outline.js';
import { copiesOf } from '../boards-of-job.js';
import type { Job } from '../job.js';
import type { LaidJob, PlacedItem } from '../lay-job.js';
import type { Made, MadeBoard } from '../make.js';
import { ladderOutlines } from '../make-ladder.js';
import { offCutsLeft } from '../off-cuts-left.js';
import { firstLineOf, type MadeProgram } from '../programs/write-programs.js';
import { programPath } from '../report.js';
import type { Report } from '../report-schema.js';
import type { PaperCurve, PaperData, PaperItem, PaperSide, PaperStep } from './paper-data.js';
import { piecesOf } from './pieces-of.js';

/** Curves are drawn on paper in chords that keep so near, mm: at a tenth of its size no one sees it. */
const CHORD = 0.3;

const points = (ring: Ring): Point[] =>
  flattenRing(ring, { tolerance: CHORD }).map(({ x, y }) => ({
    x: Math.round(x * 100) / 100,
    y: Math.round(y * 100) / 100,
  }));

/** What is seen of a part from above: recesses of its under side are not. */
function curvesOf(whole: Part): PaperCurve[] {
  const part = {
    ...whole,
    pockets: whole.pockets.filter((p) => p.face === whole.cutFace),
    holes: whole.holes.filter((h) => h.depth === 'through' || h.face === whole.cutFace),
  };
  const kinds: Readonly<Record<string, PaperCurve['kind']>> = {
    outline: 'outline',
    cut: 'cut',
    pocket: 'pocket',
    hole: 'hole',
  };
  return curvesOfPart(part).flatMap((c) => {
    const kind = kinds[c.style];
    return kind === undefined ? [] : [{ points: points(c.ring), kind }];
  });
}

const itemOf = ({ item, part }: PlacedItem, master: string): PaperItem => {
  const { at, room } = labelPlace(part);
  return {
    item,
    part: master,
    curves: curvesOf(part),
    label: { at: { x: snap(at.x), y: snap(at.y) }, room: snap(room) },
    cutFace: part.cutFace,
    showFace: part.showFace,
  };
};

/** `sheet-1/003 EL.m1` is step 003. */
const numberOf = (id: string): string => /\/(\d+)(?: |$)/.exec(id)?.[1] ?? id;

function stepsOf(
  steps: MadeBoard['plan']['workplan']['steps'],
  programs: readonly MadeProgram[],
): PaperStep[] {
  return steps.map((s) => {
    const at = Math.max(
      0,
      programs.findIndex((p) => p.steps.includes(s.id)),
    );
    const { moves } = programs[at]!.toolpath;
    return {
      number: numberOf(s.id),
      kind: s.kind,
      part: s.item,
      feature: s.feature,
      cutter: s.cutter,
      depth: snap(s.depths.at(-1) ?? 0),
      firstDepth: snap(s.depths[0] ?? 0),
      passes: s.depths.length,
      seconds: Math.round(s.seconds * 10) / 10,
      program: at + 1,
      line: firstLineOf(programs[at]!, s.id),
      waits: moves.flatMap((m) => (m.kind === 'pause' && m.from === s.id ? [m.text] : [])),
    };
  });
}

/** What one side of a board needs beside its report. */
interface SideInput {
  readonly job: Job;
  readonly laid: LaidJob;
  readonly report: Report['boards'][number];
  readonly side: PaperSide['side'];
  readonly part: Pick<MadeBoard, 'board' | 'items' | 'plan' | 'programs'>;
  /** How long it runs, by the proof. */
  readonly runs: number;
  /** The parts of the job. */
  readonly known: ReadonlySet<string>;
}

function sideOf({
  job,
  laid,
  report,
  side,
  part: { board, items: placed, plan, programs },
  runs,
  known,
}: SideInput): PaperSide {
  // Pins have holes of their own, which are items of the plan but no parts.
  const items = placed.filter((i) => known.has(i.item));
  const set = job.settings.boards.find((b) => copiesOf(b).includes(report.id))!;
  const box = ringBounds(board.outline);
  const pins = set.turnOver?.pins?.map(([x, y]) => ({ x, y })) ?? [];
  const first = side === 'first';
  const felt = job.ladders.some((l) => l.kind === 'felt' && l.board === board.id);
  const areas = job.holding.vacuum?.areas ?? [];
  const { steps } = plan.workplan;
  // Paper states the proof's time, as report and quote do; programs share it as the plan has them, without changes of cutter.
  const planned = (own: readonly string[]): number =>
    steps.filter((s) => own.includes(s.id)).reduce((sum, s) => sum + s.seconds - (s.spent?.change ?? 0), 0);
  const all = planned(steps.map((s) => s.id));
  const seconds = ({ steps: own }: MadeProgram): number => (all === 0 ? 0 : (runs * planned(own)) / all);
  return {
    board: report.id,
    name: board.id,
    side,
    width: box.maxX,
    height: box.maxY,
    ...(isWhole(board)
      ? {}
      : {
          edge: {
            points: points(board.outline),
            area: Math.abs(ringArea(board.outline)),
            checkedAt: checkedAt(board),
          },
        }),
    stock: report.stock,
    material: report.material,
    grain: board.grain,
    thickness: board.thickness,
    measured: [report.map.least, report.map.most],
    goAt: report.map.goAt,
    use: report.use,
    offCuts: first ? [] : offCutsLeft(job, laid, { board, items: placed, use: report.use }),
    ladder: !first && felt ? ladderOutlines(job, laid, board).map(points) : [],
    keepOuts: [...set.keepOuts, ...set.zones].map(([x0, y0, x1, y1]) => [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ]),
    ...(board.defects
      ? { defects: board.defects.map(({ outline, face }) => ({ points: points(outline), face })) }
      : {}),
    screws: set.screws.map(({ at: [x, y], head }) => ({ at: { x, y }, head })),
    vacuumAreas: areas.map((a) => [...a] as [number, number, number, number]),
    pins,
    stops: set.turnOver?.stops?.map(([x, y]) => ({ x, y })) ?? [],
    pinDiameter: set.turnOver?.diameter ?? null,
    turnAxis: set.turnOver?.axis ?? null,
    items: items.map((i) => itemOf(i, i.item)),
    // They are cut last of all.
    trims: first ? [] : [...(board.trims ?? [])],
    tabs: steps.flatMap((s) => s.tabs.map(({ at, width, height }) => ({ at, width, height }))),
    steps: stepsOf(steps, programs),
    programs: programs.map((p) => ({
      file: programPath(p.name, p.program.extension),
      setup: [...p.setup],
      seconds: Math.round(seconds(p) * 10) / 10,
    })),
    seconds: Math.round(runs * 10) / 10,
  };
}

/** By how much a slot may come out wider or narrower until a fit leaves its window: as much as the cutter may differ. mm */
function cutterLimitOf({ laid }: Made): number | null {
  const fits = laid.fitted.joinery.joints.flatMap((j) => j.fits).filter((f) => f.walls.length === 2);
  const rooms = fits.map((f) => Math.min(f.wanted - f.window[0], f.window[1] - f.wanted));
  return rooms.length === 0 ? null : Math.max(0, snap(Math.min(...rooms)));
}

/**
 * What is printed for the shop of a made job, as plain data: its report, every side of every board as it lies on the machine, its pieces. No
 * date, no machine: the same job gives the same data.
 */
export function paperOf(made: Made, report: Report): PaperData {
  const { job, laid } = made;
  const known = new Set(report.parts.map((p) => p.id));
  const sides = made.boards.flatMap((b): PaperSide[] => {
    const own = report.boards.find((r) => r.id === b.board.id)!;
    const { under } = b;
    const programs = b.programs.filter((p) => !under?.programs.includes(p));
    const upper = sideOf({
      job,
      laid,
      report: own,
      side: under ? 'second' : 'only',
      part: { ...b, programs },
      runs: b.proof.seconds - (under?.proof.seconds ?? 0),
      known,
    });
    if (!under) return [upper];
    const runs = under.proof.seconds;
    return [sideOf({ job, laid, report: own, side: 'first', part: under, runs, known }), upper];
  });
  return {
    format: 'haunch-paper',
    version: 2,
    paper: job.settings.paper,
    report,
    sides,
    pieces: laid.fitted.master ? piecesOf(laid.fitted.master) : [],
    cutters: job.cutters,
    machine: job.machine,
    toolLength: job.settings.machine.toolLength,
    holding: job.holding,
    cutterLimit: cutterLimitOf(made),
    engraved: job.settings.engraving !== undefined,
  };
}
