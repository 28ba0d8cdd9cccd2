import { existsSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { loadClip } from '@haunch/geometry';
import { makeJob, reportOf } from '@haunch/job';
import {
  labelProblems,
  lettersWithoutType,
  PAPER_DATA_FILE,
  type PaperData,
  paperFiles,
  paperOf,
  readPaperData,
} from '@haunch/job/paper';
import { type Outcome, ok } from '@haunch/model';
import { Command } from 'commander';
import { DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { assertWritable, besideFile, readInput, writeFolder } from './files.js';
import { postsFor } from './load-post.js';
import { fontOf, type PaperChoices, withPaperOptions } from './paper-options.js';
import { Progress } from './progress.js';

interface PaperCommandOptions extends PaperChoices {
  readonly out?: string;
  readonly unit?: 'mm' | 'inch';
  readonly replace?: boolean;
}

const isFolder = (path: string): boolean => existsSync(path) && statSync(path).isDirectory();

/** The data of a folder that was made, or of a job, which is made for it. */
async function dataOf(from: string): Promise<Outcome<PaperData>> {
  const text = (path: string): string => new TextDecoder().decode(readInput(path));
  if (isFolder(from)) {
    const file = join(from, PAPER_DATA_FILE);
    if (!existsSync(file))
      throw new UsageError(
        `${from} holds no ${PAPER_DATA_FILE}: give a folder that haunch make wrote, or a job`,
      );
    return readPaperData(text(file), file);
  }
  if (basename(from) === basename(PAPER_DATA_FILE)) return readPaperData(text(from), from);
  const job = text(from);
  const progress = new Progress(false);
  const made = await makeJob({
    text: job,
    file: from,
    source: besideFile(from),
    posts: await postsFor(job, from),
    progress: (stage, board) => progress.enter(stage, board),
  });
  return made.ok ? ok(paperOf(made.value, reportOf(made.value)), made.diagnostics) : made;
}

/** `haunch paper <job.json | made folder>`: setup sheets, tickets, assembly sheet, lists. */
export const paperCommand = (exit: (code: number) => void): Command =>
  withPaperOptions(
    new Command('paper')
      .description(
        'print setup sheets, unload maps, tickets, assembly sheet, parts and cut list, and a quote',
      )
      .argument('<from>', 'a folder that haunch make wrote, or a job file, which is made for it')
      .option('--out <folder>', 'where to write paper/; the made folder itself if nothing is said')
      .option('--unit <unit>', 'mm or inch, for all lengths on paper; as the job says if nothing is said')
      .option('--replace', 'overwrite what is there'),
  ).action(async (from: string, options: PaperCommandOptions) => {
    if (options.unit !== undefined && !['mm', 'inch'].includes(options.unit))
      throw new UsageError(`there is no unit '${String(options.unit)}'; give mm or inch`);
    const out = options.out ?? (isFolder(from) ? from : undefined);
    if (out === undefined) throw new UsageError('say where to write with --out');
    assertWritable(out);
    const outline = fontOf(options);
    const read = await dataOf(from);
    say(read.diagnostics);
    if (!read.ok) {
      process.stderr.write('nothing was written\n');
      return exit(exitCodeOf(read.diagnostics));
    }
    const { value } = read;
    if (!value.report.pass) {
      process.stderr.write(
        `error: the programs of '${value.report.title}' are not proved, so no paper is printed for them\n  hint: haunch make says what is wrong\nnothing was written\n`,
      );
      return exit(REFUSED);
    }
    const data: PaperData = {
      ...value,
      paper: {
        ...value.paper,
        ...(options.page === undefined ? {} : { page: options.page }),
        ...(options.unit === undefined ? {} : { unit: options.unit }),
      },
    };
    const problems = labelProblems(data.paper);
    if (problems.length > 0) {
      say(problems);
      process.stderr.write('nothing was written\n');
      return exit(exitCodeOf(problems));
    }
    say(lettersWithoutType(data, outline));
    const files = await paperFiles(data, await loadClip(), {
      ...(options.only === undefined ? {} : { only: options.only }),
      ...(outline === undefined ? {} : { outline }),
    });
    writeFolder(out, files, options.replace === true || out === from, { alone: true });
    for (const name of files.keys()) process.stdout.write(`  ${join(out, name)}\n`);
    process.stdout.write(`${files.size} files written; print at full size (100 %)\n`);
    exit(DONE);
  });
