import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { JobBoardSchema, OFF_CUTS_PATH, type Report, ReportSchema } from '@haunch/job';
import { type LeftOver, leftOversOf, type MadeRecord, madeRecord } from '@haunch/job/shop-book';
import { UsageError } from '../exit.js';
import { readInput } from '../files.js';

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
  return leftOversOf(read.data);
}

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
export async function madeFolder(path: string): Promise<MadeRecord> {
  const stat = statSync(path, { throwIfNoEntry: false });
  const file = stat?.isDirectory() ? join(path, 'report.json') : path;
  const report = readReport(file);
  const left = leftOvers(join(dirname(file), OFF_CUTS_PATH));
  return madeRecord(report, (p) => readInput(join(dirname(file), p)), left);
}
