import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** One cold run of `haunch make` on the sideboard, start-up included. */
export interface MakeRun {
  readonly seconds: number;
  readonly megabytes: number;
  /** The line in which the command prints its stages' times. */
  readonly stages: string;
}

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));

/** Runs `haunch make` in a process of its own and reads its time, its memory and its stages. */
export function makeRun(): MakeRun {
  const out = mkdtempSync(join(tmpdir(), 'haunch-bench-'));
  const script = `process.argv = [process.argv[0], 'haunch', 'make', 'docs/examples/sideboard/job.json', '--out', ${JSON.stringify(out)}];
process.on('exit', () => console.log('RSS ' + process.resourceUsage().maxRSS));
await import('./apps/cli/dist/cli.js');`;
  const started = performance.now();
  const run = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const seconds = (performance.now() - started) / 1000;
  rmSync(out, { recursive: true, force: true });
  if (run.status !== 0) throw new Error(`haunch make failed: ${run.stderr}`);
  return {
    seconds,
    megabytes: Number(/RSS (\d+)/.exec(run.stdout)?.[1]) / 1024,
    stages: /^stages: .*$/m.exec(run.stdout)?.[0] ?? '',
  };
}
