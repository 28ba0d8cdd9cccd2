import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { polygonRing, rectangleRing } from '@haunch/geometry';
import { type FlatPart, findMates, flatPartOf, partsOfMaster, readMaster } from '@haunch/joinery';

/** Seconds of the slowest of `runs` searches for the mates of the sideboard's eleven bare plates. The first is cold. */
export function matesSeconds(runs: number): number {
  const file = fileURLToPath(
    new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
  );
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error('the demo master does not read');
  return slowest(partsOfMaster(master.value).map(flatPartOf), 23, runs);
}

/** The same for the rack of 45 parts, 35 of them shelves of two kinds. */
export function rackMatesSeconds(runs: number): number {
  const file = fileURLToPath(
    new URL('../../../docs/examples/pigeonholes/pigeonholes.master.json', import.meta.url),
  );
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error('the rack does not read');
  return slowest(partsOfMaster(master.value).map(flatPartOf), master.value.mates.length, runs);
}

/** The same for a row of uprights with two shelves in each of `bays` bays: 3·bays + 1 parts. */
export const matesGrowthSeconds = (bays: number, runs: number): number =>
  slowest(rowOfBays(bays), 4 * bays, runs);

function slowest(parts: readonly FlatPart[], mates: number, runs: number): number {
  let worst = 0;
  for (let i = 0; i < runs; i++) {
    const started = performance.now();
    const found = findMates(parts);
    worst = Math.max(worst, (performance.now() - started) / 1000);
    const count = found.ok ? found.value.mates.length : 0;
    if (count !== mates) throw new Error(`${parts.length} parts: found ${count} mates of ${mates}`);
  }
  return worst;
}

const THICKNESS = 18;
const SHELF = [
  [0, 0],
  [400, 0],
  [400, 50],
  [418, 50],
  [418, 100],
  [400, 100],
  [400, 190],
  [418, 190],
  [418, 260],
  [400, 260],
  [400, 300],
  [0, 300],
  [0, 260],
  [-18, 260],
  [-18, 190],
  [0, 190],
  [0, 100],
  [-18, 100],
  [-18, 50],
  [0, 50],
] as const;

function rowOfBays(bays: number): FlatPart[] {
  const parts: FlatPart[] = [];
  for (let k = 0; k <= bays; k++) {
    const through = [k - 1, k]
      .filter((b) => b >= 0 && b < bays)
      .flatMap((b) => [0, 1].map((i) => 40 + 13 * ((b * 11) % 26) + (370 + 9 * b) * i))
      .flatMap((z) => [
        rectangleRing(49.9, z - 0.1, 100.1, z + THICKNESS + 0.1),
        rectangleRing(189.9, z - 0.1, 260.1, z + THICKNESS + 0.1),
      ]);
    const outline = rectangleRing(0, 0, 300, 1100);
    parts.push({ id: `upright-${k}`, thickness: THICKNESS, outline, through, pockets: [] });
  }
  for (let k = 0; k < 2 * bays; k++) {
    const outline = polygonRing(SHELF.map(([x, y]) => ({ x, y })));
    parts.push({ id: `shelf-${k}`, thickness: THICKNESS, outline, through: [], pockets: [] });
  }
  return parts;
}
