// npm run fuzz -w packages/drawing -- --count 100000 --seed 1 [--no-parts]
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, resolve } from 'node:path';
import { parseArgs } from 'node:util';

const { values } = parseArgs({
  options: {
    count: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    'no-parts': { type: 'boolean', default: false },
  },
});
for (const name of ['count', 'seed'])
  if (!/^\d{1,9}$/.test(values[name])) {
    console.error(`--${name} must be a whole number, but it is '${values[name]}'.`);
    process.exit(2);
  }
const vitest = resolve(dirname(createRequire(import.meta.url).resolve('vitest/package.json')), 'vitest.mjs');
const run = spawnSync(
  process.execPath,
  [vitest, 'run', 'test/fuzz-run.test.ts', '--disable-console-intercept'],
  {
    cwd: resolve(import.meta.dirname, '..'),
    stdio: 'inherit',
    env: {
      ...process.env,
      FUZZ_COUNT: values.count,
      FUZZ_SEED: values.seed,
      FUZZ_PARTS: values['no-parts'] ? '0' : '1',
    },
  },
);
process.exit(run.status ?? 1);
