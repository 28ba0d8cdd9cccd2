import { createHash } from 'node:crypto';
import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { JobBoardSchema, OFF_CUTS_PATH, type Report, ReportSchema } from '@haunch/job';
import { UsageError } from '../exit.js';
import { readInput } from '../files.js';

/** What an earlier make wrote: its report, and each board's program as it lies there, known by the SHA-256 of its text. */
export interface MadeFolder {
  readonly report: Report;
  readonly programs: ReadonlyMap<string, string>;
  /** Tells this piece from others: one SHA-256 over all of its programs. */
  readonly make: string;
  /** What was left of its boards; none where an earlier haunch wrote the folder. */
  readonly left: readonly LeftOver[];
}

/** A rectangle that a make leaves of a board: its size, and where its corner lay in the sheet that it comes from. mm. */
export interface LeftOver {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  readonly at: { readonly x: number; readonly y: number };
}

/** What the folder says is left of its boards. @throws UsageError when the file is none. */
function leftOvers(file: string): LeftOver[] {
  if (!existsSync(file)) return [];
  let boards: unknown;
  try {
    boards = JSON.parse(new TextDecoder().decode(readInput(file)));
  } catch (e) {
    if (e instanceof UsageError) throw e;
    throw new UsageError(`${file} is not JSON`);
  }
  const read = JobBoardSchema.array().safeParse(boards);
  if (!read.success)
    throw new UsageError(`${file} holds no boards of a job: ${read.error.issues[0]?.path.join('.')}`);
  return read.data.flatMap(({ id, width, height, offCutOf }) =>
    offCutOf ? [{ id, width, height, at: { x: offCutOf.at[0], y: offCutOf.at[1] } }] : [],
  );
}

const hash = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');

/** Reads a report of `haunch make`. @throws UsageError when the file is none. */
export function readReport(file: string): Report {
  let record: unknown;
  try {
    record = JSON.parse(new TextDecoder().decode(readInput(file)));
  } catch (e) {
    if (e instanceof UsageError) throw e;
    throw new UsageError(`${file} is not JSON; give the report.json of the earlier make`);
  }
  const report = ReportSchema.safeParse(record);
  if (!report.success)
    throw new UsageError(
      `${file} is not a report of this haunch's make: ${report.error.issues[0]?.path.join('.') || 'nothing of it is there'}`,
    );
  return report.data;
}

/** Reads the folder that `haunch make --out` wrote, or its report.json. @throws UsageError when something is not there. */
export function madeFolder(path: string): MadeFolder {
  const stat = statSync(path, { throwIfNoEntry: false });
  const file = stat?.isDirectory() ? join(path, 'report.json') : path;
  const report = readReport(file);
  const programs = new Map(
    report.boards.map((b) => {
      const texts = b.programs.map((p) => hash(readInput(join(dirname(file), p.file))));
      // A board that is cut by several programs is known by all of them together.
      return [b.id, texts.length === 1 ? texts[0]! : hash(texts.join('\n'))] as const;
    }),
  );
  const left = leftOvers(join(dirname(file), OFF_CUTS_PATH));
  return { report, programs, left, make: hash([...programs.values()].sort().join('\n')) };
}
