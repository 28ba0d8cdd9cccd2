import { compareWorkingWays } from '@haunch/gauge';
import { seededRandom } from '@haunch/nesting';
import { Command } from 'commander';
import { benchLayoutCommand } from './bench-layout-command.js';
import { DONE, UsageError } from './exit.js';

/** `haunch bench`: five ways of working compared over simulated shops, and layout strategies compared on problems. */
export const benchCommand = (exit: (code: number) => void): Command => {
  const bench = new Command('bench').description('measure and compare: what is claimed, by one command');
  bench
    .command('ways')
    .description(
      'five ways of working, from the nearest drawing file to a width for every pair, over simulated shops',
    )
    .option('--runs <number>', 'shops to simulate', Number, 500)
    .option('--seed <number>', 'seed of the chances', Number, 1)
    .action(({ runs, seed }: { readonly runs: number; readonly seed: number }) => {
      if (!(Number.isInteger(runs) && runs > 0 && Number.isInteger(seed) && seed >= 0))
        throw new UsageError('runs is a whole number from 1, seed one from 0');
      process.stdout.write(
        'a piece with 29 plates in slots; means over simulated shops, whose figures rest on assumptions of ours\n',
      );
      process.stdout.write(
        '  way                                                            too tight  too loose  all right\n',
      );
      for (const w of compareWorkingWays({ random: seededRandom(seed), runs }))
        process.stdout.write(
          `  ${w.way}) ${w.what.padEnd(60)} ${w.tight.toFixed(1).padStart(8)} ${w.loose.toFixed(1).padStart(10)} ${`${(w.right * 100).toFixed(0)} %`.padStart(10)}\n`,
        );
      exit(DONE);
    });
  bench.addCommand(benchLayoutCommand(exit).exitOverride());
  return bench;
};
