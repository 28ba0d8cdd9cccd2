import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { bound } from './bound.js';
import { firstLayoutSeconds, type Growth, layoutGrowth, manyParts, sideboardLayout } from './layout-bench.js';

const GROWTH = [50, 150, 500, 1500];
const MOVES = 20_000;

/** Growth at one number of parts, in a process of its own: memory of what was before does not count. */
function measured(parts: number): Growth {
  const self = fileURLToPath(import.meta.url);
  const child = spawnSync(process.execPath, [self, 'growth', String(parts)], { encoding: 'utf8' });
  if (child.status !== 0) throw new Error(`growth at ${parts} parts: ${child.stderr}`);
  return JSON.parse(child.stdout) as Growth;
}

function printGrowth(): void {
  const rows = GROWTH.map(measured);
  process.stdout.write('parts  first layout s  referee s  moves/s  evaluations/s  MB\n');
  for (const r of rows)
    process.stdout.write(
      `${String(r.parts).padStart(5)}  ${r.first.toFixed(2).padStart(14)}  ${r.judged.toFixed(3).padStart(9)}  ${r.movesPerSecond.toFixed(0).padStart(7)}  ${r.evaluationsPerSecond.toFixed(0).padStart(13)}  ${r.megabytes.toFixed(0).padStart(4)}\n`,
    );
  const [least, most] = [rows[0]!, rows.at(-1)!];
  const exponent = (of: (g: Growth) => number): number =>
    Math.log(of(most) / of(least)) / Math.log(most.parts / least.parts);
  bound(
    'growth of the first layout: exponent',
    exponent((g) => g.first),
    2,
    '',
  );
  bound(
    'growth of the referee: exponent',
    exponent((g) => g.judged),
    2,
    '',
  );
  bound(
    'growth of memory: exponent',
    exponent((g) => g.megabytes),
    1,
    '',
  );
}

function printLayouts(): void {
  // Processor time throughout: what else runs on the machine counts for less.
  const sideboard = sideboardLayout();
  bound('layout of the sideboard and its ladder with the default budget, cold', sideboard.seconds, 2, 's');
  bound('  parts of it without room on a sheet and an off-cut', sideboard.unplaced, 0, '');
  bound('  boards', sideboard.boards, 2, '');
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
  printGrowth();
}

const [what, parts] = process.argv.slice(2);
if (what === 'growth' && parts) process.stdout.write(JSON.stringify(layoutGrowth(Number(parts), MOVES)));
else if (what === 'growth') printGrowth();
else printLayouts();
