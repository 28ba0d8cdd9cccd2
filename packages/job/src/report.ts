import { LOAD_LIMIT, loadLimit } from '@haunch/gauge';
import { ringArea, ringBounds, snap } from '@haunch/geometry';
import { type Board, thicknessAt, type Workingstep } from '@haunch/model';
import { checkedAt } from './board-outline.js';
import { CAUTIONS } from './cautions.js';
import { cutterRuns } from './cutter-runs.js';
import { fitExtras } from './fit-extras.js';
import { fitCell } from './fit-table.js';
import { aimWords, ladderWords } from './fit-words.js';
import type { Job } from './job.js';
import { machineEffects } from './machine-effects.js';
import { machineWords } from './machine-words.js';
import type { Made, MadeBoard } from './make.js';
import { boardThicknessAt, thicknessRange } from './placed-thickness.js';
import { firstLineOf, type MadeProgram } from './programs/write-programs.js';
import type { Report } from './report-schema.js';

/** Where a board's program goes, below the output folder. */
export const programPath = (board: string, extension: string): string => `programs/${board}.${extension}`;
/** Where a board's layout drawing goes. */
export const layoutPath = (board: string, ending: 'dxf' | 'svg'): string => `layouts/${board}.${ending}`;
/** Where the picture of a board's order of work goes. */
export const orderPath = (board: string): string => `layouts/${board}.order.svg`;
/** Where a part's drawing goes; copies such as `EL/2` become `EL-2`. */
export const partPath = (part: string): string => `parts/${part.replaceAll('/', '-')}.dxf`;

const tenth = (n: number): number => Math.round(n * 10) / 10;
const micron = (n: number): number => snap(n);

function summaryOf(made: Made): string {
  const joints = made.joints.length;
  const off = made.joints.filter((j) => j.verdict !== 'as wanted').length;
  const rules = made.boards.flatMap((b) =>
    b.proof.rules.filter((r) => r.verdict === 'fail').map((r) => `${r.rule} on ${b.board.id}`),
  );
  const head = `${made.boards.reduce((n, b) => n + b.items.length, 0)} parts from ${made.boards.length} board${made.boards.length === 1 ? '' : 's'}`;
  const middle =
    joints === 0
      ? 'joints unknown (no mates given)'
      : off === 0
        ? `all ${joints} joints as wanted`
        : `${off} of ${joints} joints not as wanted`;
  const end = rules.length === 0 ? 'every rule passed' : `rules broken: ${rules.join(', ')}`;
  return `${head}; ${middle}; ${end}.`;
}

const thousandth = (n: number): number => Math.round(n * 1000) / 1000;

function forecastData({ forecast }: Made): Report['forecast'] {
  const pair = ([a, b]: readonly [number, number]): [number, number] => [micron(a), micron(b)];
  return {
    tight: thousandth(forecast.expected.tight),
    wanted: thousandth(forecast.expected.wanted),
    slack: thousandth(forecast.expected.slack),
    allWanted: thousandth(forecast.simulated.allWanted),
    tightRange: [...forecast.simulated.tightRange],
    fits: forecast.fits.map((f) => ({
      fit: f.id,
      clearance: micron(f.clearance),
      u: micron(f.u),
      tight: thousandth(f.tight),
      wanted: thousandth(f.wanted),
      slack: thousandth(f.slack),
      worstCase: pair(f.worstCase),
      rootSumSquare: pair(f.rootSumSquare),
      monteCarlo: pair(f.monteCarlo),
    })),
    joints: forecast.simulated.joints.map(({ id, tight, wanted, slack }) => ({
      joint: id,
      tight: thousandth(tight),
      wanted: thousandth(wanted),
      slack: thousandth(slack),
    })),
    jointsTight: thousandth(forecast.simulated.jointsTight),
    jointsTightRange: [...forecast.simulated.jointsTightRange],
    remedies: forecast.remedies.map(({ what, expectedOff, saved }) => ({
      what,
      expectedOff: thousandth(expectedOff),
      saved: thousandth(saved),
    })),
  };
}

function mapData(board: Board): Report['boards'][number]['map'] {
  const [least, most] = thicknessRange(board);
  const middle = checkedAt(board);
  const there = boardThicknessAt(board, middle);
  const limit = board.map ? loadLimit(board.map, middle) : LOAD_LIMIT;
  return {
    surface: board.map?.surface ?? 'level',
    least,
    most,
    u: micron(board.map ? thicknessAt(board.map, middle).u : 0),
    goAt: [micron(there - limit), micron(there + limit)],
  };
}

function machineData({ job, laid }: Made): Report['machine'] {
  const programs = job.settings.machine.calibration?.programs;
  const effects = machineEffects(job, laid);
  return {
    programs: programs ?? null,
    words: machineWords(job.calibration, programs, effects),
    mates: effects.map((e) => ({
      joint: e.joint,
      turned: micron(e.turned),
      length: micron(e.length),
      along: micron(e.along),
      across: micron(e.across),
      askew: micron(e.askew),
      backlash: micron(e.backlash),
    })),
  };
}

/** Where a step's seconds go, to the tenth. */
function spentOf({ seconds, spent }: Workingstep): Report['boards'][number]['steps'][number]['spent'] {
  const {
    cutting,
    entering,
    air,
    change = 0,
    dwell = 0,
  } = spent ?? { cutting: seconds, entering: 0, air: 0 };
  return {
    cutting: tenth(cutting),
    entering: tenth(entering),
    air: tenth(air),
    change: tenth(change),
    dwell: tenth(dwell),
  };
}

/** In which of a board's programs, from 1, and at which of its lines a step begins. */
function lineOf(programs: readonly MadeProgram[], step: string): { program: number; line: number } {
  const at = Math.max(
    0,
    programs.findIndex((p) => p.steps.includes(step)),
  );
  return { program: at + 1, line: firstLineOf(programs[at]!, step) };
}

/** One board as a report has it, with where its programs and its layout lie below the report's folder. */
export function boardOfReport(
  b: MadeBoard,
  paths: { readonly programs: readonly string[]; readonly layout: string },
  materials: Job['materials'],
): Report['boards'][number] {
  const box = ringBounds(b.board.outline);
  return {
    id: b.board.id,
    stock: b.board.stock,
    material: materials.get(b.board.stock) ?? b.board.stock,
    width: box.maxX,
    height: box.maxY,
    thickness: b.board.thickness,
    map: mapData(b.board),
    use: Math.round(b.use * 10_000) / 10_000,
    program: paths.programs[0]!,
    programs: b.programs.map((p, i) => ({
      file: paths.programs[i]!,
      cutter: p.cutter?.id ?? null,
      setup: [...p.setup],
      pauses: p.toolpath.moves.flatMap((m) => (m.kind === 'pause' ? [m.text] : [])),
    })),
    layout: paths.layout,
    blocks: b.proof.blocks,
    seconds: tenth(b.proof.seconds),
    plannedSeconds: tenth(b.plan.workplan.seconds + (b.under?.plan.workplan.seconds ?? 0)),
    runs: cutterRuns({
      ...b.plan.toolpath,
      moves: [...(b.under?.plan.toolpath.moves ?? []), ...b.plan.toolpath.moves],
    }),
    pass: b.proof.pass,
    steps: [...(b.under?.plan.workplan.steps ?? []), ...b.plan.workplan.steps].map((s) => ({
      id: s.id,
      kind: s.kind,
      part: s.item,
      feature: s.feature,
      cutter: s.cutter,
      depth: micron(s.depths.at(-1) ?? 0),
      passes: s.depths.length,
      tabs: s.tabs.length,
      slug: s.slug,
      seconds: tenth(s.seconds),
      spent: spentOf(s),
      ...lineOf(b.programs, s.id),
    })),
    rules: b.proof.rules.map((r) => ({ ...r, findings: [...r.findings] })),
  };
}

/** A job's cutters as a report has them. */
export const cuttersOfReport = ({ cutters }: Job): Report['cutters'] =>
  cutters.map(({ id, number, kind, diameter, rpm }) => ({ id, number, kind, diameter, rpm }));

/** What slots were widened for beyond the feel, said once for each way in which it differs from material to material. */
function extrasOf({ job, laid }: Made): string[] {
  const thickness = laid.fitted.master?.designThickness ?? 18;
  const materials = [...new Set(laid.boards.map((b) => job.materials.get(b.board.stock) ?? null))];
  return [
    ...new Set(
      materials.flatMap((m) => [
        ...fitExtras(job.settings.fit, thickness, fitCell(job.fits, 'swelling', m, null).value).reasons,
      ]),
    ),
  ];
}

/** A made job as plain data for `report.json` and the report page: no date, no machine, so the same job gives the same bytes. */
export function reportOf(made: Made): Report {
  const parts = made.boards.flatMap((b) =>
    b.items.map((i) => {
      const part = made.laid.fitted.parts.find((p) => p.id === i.part.id)!;
      const box = ringBounds(part.outline.ring);
      const cut = b.proof.parts.find((p) => p.item === i.item);
      const area = ringArea(part.outline.ring) - part.through.reduce((sum, t) => sum + ringArea(t.ring), 0);
      return {
        id: part.id,
        name: part.name,
        board: b.board.id,
        thickness: made.laid.thicknesses[i.part.id] ?? b.board.thickness,
        size: [snap(box.maxX - box.minX), snap(box.maxY - box.minY)] as [number, number],
        area: tenth(area),
        file: partPath(part.id),
        reliefs: [part.outline, ...part.through, ...part.pockets].reduce((n, c) => n + c.reliefs.length, 0),
        gouge: micron(cut?.gouge ?? 0),
        excess: micron(cut?.excess ?? 0),
        tabs: cut?.tabs ?? 0,
        tabsWanted: cut?.tabsWanted ?? 0,
      };
    }),
  );
  const fits = made.laid.fitted.joinery.joints.flatMap((j) => j.fits);
  const grips = new Map(fits.map((f) => [f.id, f.local === undefined ? undefined : snap(f.local)]));
  const wanted = (kind: string): number =>
    fits.find((f) => f.kind === kind && (kind !== 'thickness' || f.walls.length === 2))?.wanted ?? 0;
  return {
    format: 'haunch-report',
    version: 1,
    title: made.job.settings.title,
    pass: made.pass,
    summary: summaryOf(made),
    seconds: tenth(made.boards.reduce((sum, b) => sum + b.proof.seconds, 0)),
    parts,
    boards: made.boards.map((b) =>
      boardOfReport(
        b,
        {
          programs: b.programs.map((p) => programPath(p.name, p.program.extension)),
          layout: layoutPath(b.board.id, 'dxf'),
        },
        made.job.materials,
      ),
    ),
    joints: made.joints.map((j) => ({
      ...j,
      fits: j.fits.map((f) => {
        const grip = grips.get(f.fit);
        return { ...f, ...(grip === undefined ? {} : { grip }), lines: [...f.lines] };
      }),
    })),
    cutters: cuttersOfReport(made.job),
    fit: {
      family: made.job.settings.fit.family,
      thickness: wanted('thickness'),
      ends: wanted('ends'),
      seat: wanted('seat'),
    },
    ladder: ladderWords(made.job.ladders),
    machine: machineData(made),
    aims: made.laid.aims.map((a) => ({ ...a })),
    aimed: aimWords(made.laid.aims, made.job.settings.fit.family),
    forecast: forecastData(made),
    extras: extrasOf(made),
    diagnostics: made.diagnostics.map((d) => ({ ...d, locus: { ...d.locus } })),
    cautions: [...CAUTIONS],
  };
}
