// Runs every package's tests in one process and closes with one line: `N passed, N failed`.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const results = `${root}.vitest-results.json`;
rmSync(results, { force: true });
const run = spawnSync(
  process.execPath,
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${results}`,
    ...process.argv.slice(2),
  ],
  { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] },
);
if (!existsSync(results)) {
  console.log('The test runner left no results.\n0 passed, 1 failed');
  process.exit(1);
}
const { numPassedTests, numFailedTests, numFailedTestSuites, numPendingTests, success } = JSON.parse(
  readFileSync(results, 'utf8'),
);
// A file that cannot even be loaded has no tests to fail: it counts as one.
const failed = numFailedTests > 0 ? numFailedTests : success ? 0 : Math.max(1, numFailedTestSuites);
console.log(
  `${numPassedTests} passed, ${failed} failed${numPendingTests > 0 ? `, ${numPendingTests} skipped` : ''}`,
);
process.exit(run.status === 0 && failed === 0 ? 0 : 1);
