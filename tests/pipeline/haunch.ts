import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT } from '../architecture/source-file.js';

/** What a command left: its exit code and all that it said. */
export interface Ran {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

const BUILT = pathToFileURL(join(ROOT, 'apps/cli/dist/haunch.js')).href;

/**
 * Runs one command of the built command line within this process, from a folder. A process of its own would read and
 * compile the whole chain anew, which for a `make` is half of the time; that one works as well, with its exit codes, is held by
 * `command-line.test.ts` and `hostile/bad-input.test.ts`, which start it.
 */
export async function runHaunch(folder: string, words: readonly string[]): Promise<Ran> {
  const { haunch } = (await import(BUILT)) as {
    haunch: (words: readonly string[], exit: (code: number) => void) => Promise<void>;
  };
  const ran = { status: 0, stdout: '', stderr: '' };
  const streams = ['stdout', 'stderr'] as const;
  const writes = streams.map((name) => process[name].write);
  const home = process.cwd();
  process.chdir(folder);
  for (const name of streams)
    process[name].write = (text: string | Uint8Array): boolean => {
      ran[name] += typeof text === 'string' ? text : Buffer.from(text).toString('utf8');
      return true;
    };
  try {
    await haunch(words, (code) => {
      ran.status = code;
    });
    return ran;
  } finally {
    for (const [i, name] of streams.entries()) process[name].write = writes[i]!;
    process.chdir(home);
  }
}
