import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readMaster, refitMaster } from '@haunch/joinery';

/** Median milliseconds of a refit of the sideboard's eleven parts, warm, over `runs` different thicknesses. */
export function refitMilliseconds(runs: number): number {
  const file = fileURLToPath(
    new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
  );
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error('the demo master does not read');
  const times: number[] = [];
  for (let i = -20; i < runs; i++) {
    const thickness = 17 + (i + 20) * 0.01;
    const thicknesses = Object.fromEntries(master.value.parts.map((p) => [p.id, thickness]));
    const started = performance.now();
    const refitted = refitMaster(master.value, { thicknesses });
    const took = performance.now() - started;
    if (!refitted.ok) throw new Error(`refit to ${thickness} failed`);
    if (i >= 0) times.push(took);
  }
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}
