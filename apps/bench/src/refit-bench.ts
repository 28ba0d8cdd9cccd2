import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { partsOfMaster, readMaster, recogniseFeatures, refitByFeatures, refitMaster } from '@haunch/joinery';

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

/** Median milliseconds of a refit by recognised features of so many bare parts, warm, over `runs` different thicknesses. */
export function refitByFeaturesMilliseconds(count: number, runs: number): number {
  const file = fileURLToPath(
    new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
  );
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error('the demo master does not read');
  const own = partsOfMaster(master.value);
  const parts = Array.from({ length: count }, (_, k) => ({
    ...own[k % own.length]!,
    id: `${own[k % own.length]!.id}/${Math.floor(k / own.length)}`,
  }));
  const table = recogniseFeatures(parts, { thicknesses: [18] });
  if (!table.ok) throw new Error('nothing is recognised in the demo');
  const times: number[] = [];
  for (let i = -20; i < runs; i++) {
    const started = performance.now();
    const refitted = refitByFeatures(parts, table.value, 17.2 + ((i + 20) % 60) * 0.01);
    const took = performance.now() - started;
    if (!refitted.ok) throw new Error(`refit by features failed: ${refitted.diagnostics[0]?.message}`);
    if (i >= 0) times.push(took);
  }
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}
