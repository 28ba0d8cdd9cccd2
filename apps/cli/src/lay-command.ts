import { existsSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { type BetterLayout, improveLayout, loadPieces, readJob } from '@haunch/job';
import { Command, InvalidArgumentError } from 'commander';
import { BAD_INPUT, DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { besideFile, readInput, writeOutput } from './files.js';

interface LayOptions {
  readonly out: string;
  readonly effort: number;
  readonly seconds?: number;
  readonly replace?: boolean;
}

/** Reads a number above 0 of an option. */
const above0 = (name: string, most: number) => (text: string) => {
  const n = Number(text);
  if (text.trim() !== '' && n > 0 && n <= most) return n;
  throw new InvalidArgumentError(`'${text}' is no ${name} above 0, and at most ${most}`);
};

const areaText = ({ score }: BetterLayout): string =>
  score.unplacedArea > 0
    ? `${(score.unplacedArea / 1e6).toFixed(3)} m² without room`
    : `${(score.extent / 1e6).toFixed(3)} m² of the boards taken`;

/** `haunch lay <job.json>`: looks longer for a layout and writes a job file that has it. */
export const layCommand = (exit: (code: number) => void): Command =>
  new Command('lay')
    .description(
      "look longer for a layout than make does, and write the job file with the best one's placements in it: make then cuts that",
    )
    .argument('<job>', 'job file (.json)')
    .requiredOption('--out <file>', 'job file to write, in the same folder, as it names files there')
    .option(
      '--effort <times>',
      "so many times the job's own effort and improvement",
      above0('number', 100_000),
      20,
    )
    .option('--seconds <number>', 'take what is there after so long', above0('number of seconds', 1e6))
    .option('--replace', 'write over a file that is there')
    .action((file: string, options: LayOptions) => {
      if (dirname(resolve(file)) !== dirname(resolve(options.out)))
        throw new UsageError(`${options.out} must be in the folder of ${file}: a job names files beside it`);
      if (resolve(file) === resolve(options.out))
        throw new UsageError(`${options.out} is the job itself; give another name, so that you can go back`);
      // Before the work, not after it.
      if (existsSync(options.out) && !options.replace)
        throw new UsageError(`${options.out} is there; --replace writes over it`);
      const text = new TextDecoder().decode(readInput(file));
      const source = besideFile(file);
      const job = readJob(text, file, { source });
      say(job.diagnostics);
      if (!job.ok) return exit(exitCodeOf(job.diagnostics));
      const pieces = loadPieces(job.value, source);
      say(pieces.diagnostics);
      if (!pieces.ok) return exit(exitCodeOf(pieces.diagnostics));
      const { effort, improve } = job.value.settings.lay;
      const until = options.seconds === undefined ? Infinity : Date.now() + 1000 * options.seconds;
      const found = improveLayout(job.value, pieces.value, {
        effort: Math.max(1, Math.round(options.effort * (effort + improve))),
        better: (l) => process.stderr.write(`${String(l.number).padStart(5)}  ${areaText(l)}\n`),
        stop: () => Date.now() >= until,
      });
      say(found.diagnostics);
      if (!found.ok) {
        process.stderr.write('nothing was written\n');
        return exit(exitCodeOf(found.diagnostics));
      }
      if (found.value === null) {
        process.stderr.write(
          'error: not every part found room in that time; give more of it, add a board of its stock, or reduce the web or the edge margin\nnothing was written\n',
        );
        return exit(REFUSED);
      }
      // Read before by the schema: it is an object.
      const said = JSON.parse(text) as Record<string, object | undefined>;
      const laid = { ...said, lay: { ...said.lay, placements: found.value } };
      try {
        writeOutput(options.out, `${JSON.stringify(laid, null, 2)}\n`, options.replace === true);
      } catch (e) {
        if (!(e instanceof UsageError)) throw e;
        process.stderr.write(`error: ${e.message}\n`);
        return exit(BAD_INPUT);
      }
      process.stdout.write(
        `${Object.keys(found.value).length} parts laid; ${options.out} has them: haunch make ${options.out} --out <folder>\n`,
      );
      exit(DONE);
    });
