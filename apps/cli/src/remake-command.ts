import { boardsOfBook } from '@haunch/gauge';
import { remakePart } from '@haunch/job';
import { Command } from 'commander';
import { readReport } from './book/made-folder.js';
import { openKeptDayBook } from './day-book-file.js';
import { DONE, exitCodeOf, REFUSED, say } from './exit.js';
import { assertWritable, besideFile, readInput, writeFolder } from './files.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';
import { remadeFitLines } from './remade-fit-lines.js';

interface RemakeOptions {
  readonly part: string;
  readonly asCut: string;
  readonly board?: string;
  readonly book?: string;
  readonly out: string;
  readonly replace?: boolean;
}

const line = (text = ''): void => void process.stdout.write(`${text}\n`);

/** `haunch remake <job.json> --part BR --as-cut made/report.json --out <folder>`: one lost part again. */
export const remakeCommand = (exit: (code: number) => void): Command =>
  new Command('remake')
    .description('make one lost part again, against the record of its partners as they were cut')
    .argument('<job>', 'job file (.json)')
    .requiredOption('--part <id>', 'the part that is lost')
    .requiredOption('--as-cut <report>', 'report.json of the make by which its partners were cut')
    .option('--board <id>', 'the board to cut it from; the smallest that does when left out')
    .option(
      '--book <file>',
      "the shop's day book (.jsonl): its boards and off-cuts are looked through as well",
    )
    .requiredOption('--out <folder>', 'folder for its program and drawing')
    .option('--replace', 'overwrite what is there')
    .action(async (file: string, options: RemakeOptions) => {
      const text = new TextDecoder().decode(readInput(file));
      assertWritable(options.out);
      const report = readReport(options.asCut);
      const progress = new Progress(false);
      const remade = await remakePart(
        {
          text,
          file,
          source: besideFile(file),
          posts: await postsFor(text, file),
          progress: (stage, board) => progress.enter(stage, board),
        },
        {
          part: options.part,
          report,
          ...(options.board === undefined ? {} : { board: options.board }),
          ...(options.book === undefined
            ? {}
            : {
                kept: {
                  file: options.book,
                  boards: [...boardsOfBook(openKeptDayBook(options.book).entries).values()],
                },
              }),
        },
      );
      say(remade.diagnostics);
      if (!remade.ok || !remade.value.pass) {
        process.stderr.write('nothing was written\n');
        return exit(remade.ok ? REFUSED : exitCodeOf(remade.diagnostics));
      }
      const { board, part, fits, passedOver, files } = remade.value;
      say(passedOver);
      writeFolder(options.out, files, options.replace === true);
      line(`${part} again, from ${board}; its partners stay as they were cut`);
      line();
      for (const text of remadeFitLines(fits)) line(text);
      line();
      line(`${files.size} files written to ${options.out}`);
      const record = [...files.keys()].find((f) => f.endsWith('.report.json'))!;
      line(
        `the record with the new part, for the next one that is lost: --as-cut ${options.out}/${record}; once it is cut: haunch book cut ${options.out}/${record} --book <file>`,
      );
      exit(DONE);
    });
