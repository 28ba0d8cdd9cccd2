import { loadLimit, unmeasuredBy } from '@haunch/gauge';
import { pointInRing, ringBounds } from '@haunch/geometry';
import { checkedAt, type Job, type JobFile, JobSchema, readingsToTake, readJob } from '@haunch/job';
import { type Board, type Diagnostic, readJson, thicknessAt } from '@haunch/model';
import { JOB_FILE, sourcesOf } from './sources.js';
import type { BoardView, FitView, JobView, MachineView, WireDocument } from './wire.js';

const COLUMNS = 8;

/** A board with its map, drawn out in fields. */
function boardView(board: Board, of: string): BoardView | null {
  const { map } = board;
  if (!map) return null;
  const { maxX: w, maxY: h } = ringBounds(board.outline);
  const columns = w >= h ? COLUMNS : Math.max(3, Math.round((COLUMNS * w) / h));
  const rows = w >= h ? Math.max(3, Math.round((COLUMNS * h) / w)) : COLUMNS;
  const fields = Array.from({ length: rows * columns }, (_, k) => {
    const at = { x: (((k % columns) + 0.5) * w) / columns, y: ((Math.floor(k / columns) + 0.5) * h) / rows };
    const { thickness, u } = thicknessAt(map, at);
    return { ...at, t: thickness, u };
  }).filter((f) => pointInRing(board.outline, f) === 'inside');
  const checked = checkedAt(board);
  const middle = thicknessAt(map, checked);
  const limit = loadLimit(map, checked);
  return {
    board,
    of,
    fields,
    fieldSize: [w / columns, h / rows],
    least: Math.min(...fields.map((f) => f.t)),
    most: Math.max(...fields.map((f) => f.t)),
    middle: middle.thickness,
    doubt: 2 * Math.max(...fields.map((f) => f.u)),
    goAt: [middle.thickness - limit, middle.thickness + limit],
    next: readingsToTake(board).map(({ at, before, after }) => ({
      ...at,
      before: 2 * before,
      after: 2 * after,
    })),
  };
}

/** The fits as far as ladders tell. */
function fitView(job: Job): FitView {
  const measured = job.ladders.flatMap((l) => (l.kind === 'felt' && l.measured ? [l.measured.u] : []));
  return {
    diameter: job.router.diameter,
    diameterU: measured[0] ?? null,
    ladders: job.ladders.map((l) =>
      l.kind === 'without'
        ? l
        : {
            kind: 'felt',
            material: l.material,
            board: l.board,
            drive: l.reading.drive,
            snug: l.reading.snug,
            slip: l.reading.slip,
            driveU: 2 * l.reading.driveU,
            snugU: 2 * l.reading.u,
            slipU: 2 * l.reading.slipU,
          },
    ),
  };
}

/** What the calibration cut shows, without what it leaves open. */
function machineView({ calibration: c }: Job): MachineView | null {
  if (!c) return null;
  const open = unmeasuredBy(c);
  const known = <K extends 'shear' | 'backlashX' | 'backlashY'>(what: K) =>
    open.includes(what) ? null : c[what];
  return {
    scaleX: c.scaleX,
    scaleY: c.scaleY,
    shear: known('shear'),
    backlashX: known('backlashX'),
    backlashY: known('backlashY'),
  };
}

/** Boards one by one, where the job as a whole cannot be read: those that are sound still have their maps. */
function boardsAlone(text: string, settings: JobFile): Board[] {
  const whole = JSON.parse(text) as { boards: unknown[] };
  return settings.boards.flatMap((_, i) => {
    const alone = readJob(JSON.stringify({ ...whole, boards: [whole.boards[i]] }), JOB_FILE, {
      ladder: 'not yet',
    });
    return alone.ok ? alone.value.boards : [];
  });
}

/** Reads a job without making anything of it: settings, maps, ladders, and all that is wrong with it. */
export async function checkJob(document: WireDocument): Promise<JobView> {
  const { text, id } = document;
  const json = readJson(text);
  const parsed = 'problem' in json ? null : JobSchema.safeParse(json.value);
  const source = await sourcesOf(document, (name) => /fits?.*\.json$/i.test(name));
  const job = readJob(text, JOB_FILE, { source });
  const settings = parsed?.success ? parsed.data : null;
  const boards = job.ok ? job.value.boards : settings ? boardsAlone(text, settings) : [];
  const nameOf = (b: Board): string =>
    settings?.boards.find((s) => s.id === b.id || b.id.startsWith(`${s.id}-`))?.id ?? b.id;
  const diagnostics: Diagnostic[] = [...job.diagnostics];
  return {
    document: id,
    settings,
    boards: boards.flatMap((b) => boardView(b, nameOf(b)) ?? []),
    fit: job.ok ? fitView(job.value) : null,
    machine: job.ok ? machineView(job.value) : null,
    diagnostics,
  };
}
