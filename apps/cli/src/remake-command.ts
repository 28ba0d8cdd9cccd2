import { remakePart } from '@haunch/job';
import { Command } from 'commander';
import { readReport } from './book/made-folder.js';
import { DONE, exitCodeOf, REFUSED, say } from './exit.js';
import { besideFile, readInput, writeFolder } from './files.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';

interface RemakeOptions {
  readonly part: string;
  readonly asCut: string;
  readonly board?: string;
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
    .requiredOption('--out <folder>', 'folder for its program and drawing')
    .option('--replace', 'overwrite what is there')
    .action(async (file: string, options: RemakeOptions) => {
      const text = new TextDecoder().decode(readInput(file));
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
      line('  joint         clearance with the new part      wanted');
      for (const f of fits)
        line(
          `  ${f.joint.padEnd(13)} ${`${f.clearance[0].toFixed(3)} … ${f.clearance[1].toFixed(3)}`.padStart(20)} mm   ${f.window[0].toFixed(3)} … ${f.window[1].toFixed(3)} mm`,
        );
      line();
      line(`${files.size} files written to ${options.out}`);
      exit(DONE);
    });
