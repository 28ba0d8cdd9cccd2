import { join } from 'node:path';
import { fileOf, listReEntries, type Resumed, resumeBoard } from '@haunch/job';
import { Command } from 'commander';
import { DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { besideFile, readInput, writeOutput } from './files.js';
import { positiveLengthOption } from './length-option.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';

interface ResumeOptions {
  readonly board: string;
  readonly from?: string;
  readonly list?: boolean;
  readonly diameter?: number;
  readonly out?: string;
  readonly replace?: boolean;
}

const line = (text = ''): void => void process.stdout.write(`${text}\n`);

function printFindings({ proof, board }: Resumed): void {
  for (const r of proof.rules.filter((x) => x.verdict === 'fail'))
    for (const f of r.findings.slice(0, 8))
      process.stderr.write(
        `${r.rule}: ${[`board ${board}`, f.program && `program ${f.program}`, f.line !== undefined && `line ${f.line}`, f.part && `part ${f.part}`, f.joint && `joint ${f.joint}`].filter(Boolean).join(', ')}: ${f.message}\n`,
      );
}

function printResumed({ board, from, program, after, proof, beside }: Resumed, out: string): void {
  line(`${board} from ${from.name} on, proved after what is cut already`);
  line();
  line(`  ${fileOf(program)}`);
  for (const word of program.setup) line(`    ${word}`);
  if (after.length > 0) line(`  then, as they were made: ${after.map(fileOf).join(', ')}`);
  if (Math.abs(beside) > 5e-4)
    line(
      `  the new cutter is ${beside > 0 ? 'thinner' : 'thicker'}: what it cuts comes out ${Math.abs(beside).toFixed(3)} mm ${beside > 0 ? 'larger' : 'smaller'} at every edge, slots ${(2 * Math.abs(beside)).toFixed(3)} mm ${beside > 0 ? 'narrower' : 'wider'}; every joint was judged so`,
    );
  line();
  line(`  ${(proof.seconds / 60).toFixed(1)} min for the whole board`);
  line(`1 file written to ${out}`);
}

/** `haunch resume <job.json> --board sheet-1 --from 007 --out <folder>`: the rest after a broken cutter. */
export const resumeCommand = (exit: (code: number) => void): Command =>
  new Command('resume')
    .description('write the rest of a board from a re-entry point on, proved after the part already cut')
    .argument('<job>', 'job file (.json), as it was when its programs were made')
    .requiredOption('--board <id>', 'the board on the machine')
    .option('--from <name>', 'the step to go on with: its number or name, as comments and report have them')
    .option('--list', 'show the re-entry points of the board and write nothing')
    .option(
      '--diameter <length>',
      'what the new cutter really cuts, where it is another',
      positiveLengthOption,
    )
    .option('--out <folder>', 'folder for the program')
    .option('--replace', 'overwrite what is there')
    .action(async (file: string, options: ResumeOptions) => {
      const text = new TextDecoder().decode(readInput(file));
      const progress = new Progress(false);
      const input = {
        text,
        file,
        source: besideFile(file),
        posts: await postsFor(text, file),
        progress: (stage: Parameters<Progress['enter']>[0], board?: string) => progress.enter(stage, board),
      };
      if (options.list) {
        const listed = await listReEntries(input, options.board);
        say(listed.diagnostics);
        if (!listed.ok) return exit(exitCodeOf(listed.diagnostics));
        const several = listed.value.some((e) => e.program > 1);
        for (const e of listed.value)
          line(
            `${several ? `program ${e.program}, ` : ''}line ${String(e.line).padStart(6)}  ${e.name.padEnd(20)} ${e.kind}, ${e.cutter}`,
          );
        return exit(DONE);
      }
      if (options.from === undefined || options.out === undefined)
        throw new UsageError('say where to go on with --from and where to write with --out, or give --list');
      const resumed = await resumeBoard(input, {
        board: options.board,
        from: options.from,
        ...(options.diameter === undefined ? {} : { diameter: options.diameter }),
      });
      say(resumed.diagnostics);
      if (!resumed.ok || !resumed.value.proof.pass) {
        if (resumed.ok) printFindings(resumed.value);
        process.stderr.write('nothing was written\n');
        return exit(resumed.ok ? REFUSED : exitCodeOf(resumed.diagnostics));
      }
      const { program } = resumed.value;
      writeOutput(join(options.out, fileOf(program)), program.program.text, options.replace === true);
      printResumed(resumed.value, options.out);
      exit(DONE);
    });
