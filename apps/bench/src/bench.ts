import { bound } from './bound.js';
import { printChainTimes } from './drawing-chain-bench.js';
import { dryfitSeconds } from './dryfit-bench.js';
import { forecastSeconds } from './gauge-bench.js';
import { makeRun } from './make-bench.js';
import { printMatesTimes } from './mates-bench.js';
import { longProof, readingSpeed, writingSeconds } from './nc-bench.js';
import { contoursSeconds, pigeonholeAir, sideboardPlanSeconds } from './plan-bench.js';
import { readingMemory } from './reading-memory.js';
import { refitByFeaturesMilliseconds, refitMilliseconds } from './refit-bench.js';

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
bound('plan of the sideboard, cold', await sideboardPlanSeconds(), 1, 's');
const quarterOfContours = contoursSeconds(250);
const contours = contoursSeconds(1000);
bound('plan of 1,000 contours, 20,000 segments', contours, 10, 's');
bound('  its growth from 250: exponent', Math.log(contours / quarterOfContours) / Math.log(4), 1.3, '');
const air = await pigeonholeAir();
bound(
  `way between cuts of ${air.parts} parts, of nearest first`,
  (100 * air.length[1]) / air.length[0],
  85,
  '%',
);
const ofNearest = (v: number, [nearest]: readonly [number, number]): string =>
  `${((100 * v) / nearest).toFixed(2)} %`;
process.stdout.write(
  `       in seconds above the sheet, lifts included: ${ofNearest(air.seconds[1], air.seconds)}; proved that no order goes below ${ofNearest(air.least, air.length)} of the length\n`,
);
bound('dry assembly with sweeps, 11 parts, cold', dryfitSeconds(5), 1, 's');
printMatesTimes(bound);

bound('reading 1,000,000 motion blocks, processor time', 1 / readingSpeed(100), 1, 's');
bound('memory of a process that reads 100 MB with a heap of 32 MB', readingMemory(100), 100, 'MB');
bound('writing 1,000,000 motion blocks, processor time', writingSeconds(1_000_000, 3), 1, 's');
const quarter = await longProof(50, 84);
const long = await longProof(200, 84);
bound(`proof of ${long.blocks} blocks`, long.seconds, 30, 's');
bound(`  against ${quarter.blocks} blocks`, long.seconds / quarter.seconds, 8, 'times');
bound('  its memory', long.megabytes, 1500, 'MB');
