import { printChainTimes } from './drawing-chain-bench.js';
import { dryfitSeconds } from './dryfit-bench.js';
import { forecastSeconds } from './gauge-bench.js';
import { makeRun } from './make-bench.js';
import { refitByFeaturesMilliseconds, refitMilliseconds } from './refit-bench.js';

const bound = (what: string, value: number, most: number, unit: string): void => {
  const met = value <= most;
  process.stdout.write(
    `${met ? 'met   ' : 'MISSED'} ${what}: ${value.toFixed(2)} ${unit} (bound ${most} ${unit})\n`,
  );
  if (!met) process.exitCode = 1;
};

const runs = Array.from({ length: 5 }, makeRun);
const worst = runs.reduce((a, b) => (b.seconds > a.seconds ? b : a));
const stage = (name: string): number =>
  Number(new RegExp(`${name} ([\\d.]+) s`).exec(worst.stages)?.[1] ?? Number.NaN);
process.stdout.write(`slowest of ${runs.length} cold runs, ${worst.stages}\n`);
bound('make, cold, start-up included', worst.seconds, 5, 's');
bound('  of which layout', stage('lay'), 2, 's');
bound('  of which plan', stage('plan'), 0.5, 's');
bound('  of which proof', stage('prove'), 1, 's');
bound('memory of make', Math.max(...runs.map((r) => r.megabytes)), 400, 'MB');
bound('forecast of 40 joints, 20,000 pieces', forecastSeconds(), 1, 's');
bound('refit of 11 parts', refitMilliseconds(200), 5, 'ms');
bound('refit by recognition of 12 parts', refitByFeaturesMilliseconds(12, 100), 5, 'ms');
bound('refit by recognition of 200 parts', refitByFeaturesMilliseconds(200, 30), 100, 'ms');
printChainTimes(bound);
bound('dry assembly with sweeps, 11 parts, cold', dryfitSeconds(5), 1, 's');
