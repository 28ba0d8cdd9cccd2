import { bound } from './bound.js';
import { firstLayoutSeconds, layoutGrowth, manyParts, sideboardLayoutSeconds } from './layout-bench.js';

// Processor time throughout: what else runs on the machine counts for less.
bound('layout of the sideboard with the default budget, cold', sideboardLayoutSeconds(), 2, 's');
bound('first layout of 100 furniture parts', firstLayoutSeconds(100), 0.3, 's');
const many = manyParts(300, 20_000, 20_000);
bound(
  `sheets of 300 furniture parts, ${many.unplaced} unplaced, over the area bound of ${many.bound.toFixed(2)}`,
  many.sheets - Math.ceil(many.bound) + many.unplaced,
  1,
  '',
);
bound('  in', many.seconds, 60, 's');
process.stdout.write(`       ${many.sheets} sheets\n`);
for (const parts of [50, 150, 500, 1500]) {
  const { movesPerSecond, megabytes } = layoutGrowth(parts, 3000);
  process.stdout.write(
    `       ${parts} parts: ${movesPerSecond.toFixed(0)} moves a second, tables included; ${megabytes.toFixed(0)} MB\n`,
  );
}
