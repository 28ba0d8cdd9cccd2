import { Command, CommanderError } from 'commander';
import { benchCommand } from './bench-command.js';
import { bookCommand } from './book-command.js';
import { DayBookError } from './day-book-file.js';
import { dryfitCommand } from './dryfit-command.js';
import { BAD_INPUT, UsageError } from './exit.js';
import { gaugeCommand } from './gauge-command.js';
import { ladderCommand } from './ladder-command.js';
import { layCommand } from './lay-command.js';
import { makeCommand } from './make-command.js';
import { matesCommand } from './mates-command.js';
import { paperCommand } from './paper-command.js';
import { proveCommand } from './prove-command.js';
import { readCommand } from './read-command.js';
import { refitCommand } from './refit-command.js';
import { remakeCommand } from './remake-command.js';
import { resumeCommand } from './resume-command.js';

/**
 * Runs one command in this process: files are read and written below the working folder, and what is said goes to
 * standard output and error.
 * @param words what is typed after `haunch`.
 * @param exit takes the exit code as soon as it is known; it is 0 until then. Nothing is thrown: a fault of ours is said
 * and has a code as well.
 */
export async function haunch(words: readonly string[], exit: (code: number) => void): Promise<void> {
  const program = new Command('haunch')
    .description(
      'one master drawing, refitted to the sheet you have and the cutter you have, and proved before it is cut',
    )
    .version('0.0.0');
  for (const command of [
    readCommand(exit),
    gaugeCommand(exit),
    ladderCommand(exit),
    refitCommand(exit),
    matesCommand(exit),
    dryfitCommand(exit),
    layCommand(exit),
    makeCommand(exit),
    paperCommand(exit),
    proveCommand(exit),
    remakeCommand(exit),
    resumeCommand(exit),
    bookCommand(exit),
    benchCommand(exit),
  ]) {
    command.exitOverride();
    program.addCommand(command);
  }
  program.exitOverride();
  try {
    await program.parseAsync(words, { from: 'user' });
  } catch (e) {
    if (e instanceof DayBookError) exit(e.code);
    else if (e instanceof CommanderError) exit(e.exitCode === 0 ? 0 : BAD_INPUT);
    else if (e instanceof UsageError) {
      process.stderr.write(`error: ${e.message}\n`);
      exit(BAD_INPUT);
    } else {
      // A fault of ours: say so in one line, with the trace only on request.
      process.stderr.write(`error: a fault inside haunch: ${e instanceof Error ? e.message : String(e)}\n`);
      process.stderr.write(
        '  hint: please report it with the files that led to it; HAUNCH_TRACE=1 prints where it happened\n',
      );
      if (process.env.HAUNCH_TRACE && e instanceof Error) process.stderr.write(`${e.stack}\n`);
      exit(70);
    }
  }
}
