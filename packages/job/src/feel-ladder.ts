import { plugUnplaced } from '@haunch/gauge';
import { type Point, snap } from '@haunch/geometry';
import { fail, type Outcome, ok } from '@haunch/model';
import { notInLadder } from './diagnostics.js';
import { fittedParts } from './fitted-parts.js';
import { housingDepthOf } from './housing-depth.js';
import { type Job, readJob } from './job.js';
import type { JobFeltLadder } from './job-ladder-schema.js';
import { ladderEntries, ladderSteps } from './ladder-of-job.js';
import { loadPieces } from './load-pieces.js';
import { boardThicknessAt } from './placed-thickness.js';
import type { SourceReader } from './source-reader.js';

/** A job with what was felt in its ladder typed in. */
export interface FeltJob {
  readonly kind: 'felt-job';
  readonly job: Job;
  /** The job file's text with its `ladder`; everything else as it was. */
  readonly text: string;
}

/** An entry of a job's `ladder` as it was typed, before any schema has read it. */
interface Typed {
  readonly board?: string;
  readonly stock?: string;
  readonly without?: string;
  readonly steps?: object;
  readonly answers?: unknown;
  /** An answer alone, or with the relief that it was cut with. */
  readonly corner?: unknown;
  /** A depth alone, or with that of the program. */
  readonly housing?: unknown;
}

/** How deep the job's housings are in the program; undefined where it has none, or its pieces cannot be read. mm */
function depthOfHousings(job: Job, source: SourceReader | undefined): number | undefined {
  const pieces = source && loadPieces(job, source);
  const master = pieces?.ok ? pieces.value.master : null;
  if (!pieces?.ok || !master) return undefined;
  const drawn = Object.fromEntries(master.parts.map((p) => [p.id, p.thickness]));
  const fitted = fittedParts(job, pieces.value, drawn, { basis: 'usual' });
  return fitted.ok ? housingDepthOf(fitted.value.parts) : undefined;
}

/**
 * Types what was felt in a ladder into a job's text, and reads the job so; contradictions and strangers are refused. It takes
 * the place of what the job said of ladders in that board's material, and of a reason that was given for all; what was felt in
 * other materials stays. `corner` may be the answer alone and `housing` the depth alone: the job's relief and the depth of its program are
 * written down with them. `source` gives the shop's fits and the pieces, where the job has them; `plug` is where the ladder's plug was cut on
 * its board (see `plugPlace`), whose thickness there the rungs were stepped about: the board's mean where it is left out.
 */
export function feelLadder(
  text: string,
  file: string,
  ladder: JobFeltLadder | Readonly<Record<string, unknown>>,
  source?: SourceReader,
  plug?: Point,
): Outcome<FeltJob> {
  const beside = source ? { source } : {};
  const plain = readJob(text, file, { ladder: 'not yet', ...beside });
  if (!plain.ok) return plain;
  const job = plain.value;
  const before = JSON.parse(text) as { ladder?: Typed | Typed[] };
  const typed =
    before.ladder === undefined ? [] : Array.isArray(before.ladder) ? before.ladder : [before.ladder];
  const boardOf = (id: unknown) => job.boards.find((b) => b.id === id);
  const materialOf = (id: unknown): string | undefined => {
    const stock = boardOf(id)?.stock;
    return stock === undefined ? undefined : job.materials.get(stock);
  };
  const board = boardOf((ladder as Typed).board);
  const material = materialOf((ladder as Typed).board) ?? null;
  const others = typed.filter((t) => {
    if (t.without !== undefined)
      return t.stock !== undefined && (job.materials.get(t.stock) ?? t.stock) !== material;
    return t.board !== undefined && materialOf(t.board) !== material;
  });
  const planned = ladderEntries(job.settings).find(
    (e) => 'steps' in e && (e.board === undefined || materialOf(e.board) === material),
  );
  const steps = (ladder as Typed).steps ?? (planned && 'steps' in planned ? planned.steps : {});
  const { form, surplus } = job.settings.relief;
  const { corner, housing, ...rest } = ladder as Typed;
  if (corner !== undefined && form === 'none') return fail(notInLadder('r1', file));
  const depth = housing === undefined ? undefined : depthOfHousings(job, source);
  if (housing !== undefined && depth === undefined) return fail(notInLadder('h1', file));
  // What a rung meant is written down: settings may change after it was cut.
  const whole = {
    ...rest,
    ...(corner === undefined
      ? {}
      : { corner: typeof corner === 'string' ? { felt: corner, form, surplus } : corner }),
    ...(housing === undefined
      ? {}
      : { housing: typeof housing === 'string' ? { cut: depth, measured: housing } : housing }),
    steps: ladderSteps(job, material, steps),
    ...(board
      ? {
          cutFor: {
            thickness: snap(plug ? boardThicknessAt(board, plug) : board.thickness),
            diameter: job.router.diameter,
            ...(plug ? { plug: [plug.x, plug.y] } : {}),
          },
        }
      : {}),
  };
  const written = `${JSON.stringify({ ...before, ladder: others.length > 0 ? [...others, whole] : whole }, null, 2)}\n`;
  const felt = readJob(written, file, beside);
  if (!felt.ok) return felt;
  const noted = board && !plug ? [plugUnplaced(board.id, board.thickness, { file, board: board.id })] : [];
  return ok({ kind: 'felt-job', job: felt.value, text: written }, [...felt.diagnostics, ...noted]);
}
