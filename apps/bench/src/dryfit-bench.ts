import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { dryAssemble, readMaster } from '@haunch/joinery';

/**
 * Seconds of the slowest of `runs` dry assemblies of the sideboard's eleven parts: interference of all pairs, every
 * joint's places, the listed steps and an order found by sweeps. The first run is cold.
 */
export function dryfitSeconds(runs: number): number {
  const file = fileURLToPath(
    new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
  );
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error('the demo master does not read');
  let slowest = 0;
  for (let i = 0; i < runs; i++) {
    const started = performance.now();
    const done = dryAssemble(master.value);
    slowest = Math.max(slowest, (performance.now() - started) / 1000);
    if (!done.ok || done.value.plan === null) throw new Error('the demo master does not go together');
  }
  return slowest;
}
