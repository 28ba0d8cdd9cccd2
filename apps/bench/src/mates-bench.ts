import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { polygonRing, rectangleRing } from '@haunch/geometry';
import { type FlatPart, findMates, flatPartOf, partsOfMaster, readMaster } from '@haunch/joinery';

/** A piece to be found from its flat parts, with the number of its mates. */
interface Sought {
  readonly what: string;
  readonly parts: readonly FlatPart[];
  readonly mates: number;
}

function sought(what: string, example: string): Sought {
  const file = fileURLToPath(new URL(`../../../docs/examples/${example}`, import.meta.url));
  const master = readMaster(readFileSync(file, 'utf8'), file);
  if (!master.ok) throw new Error(`${file} does not read`);
  return { what, parts: partsOfMaster(master.value).map(flatPartOf), mates: master.value.mates.length };
}

/** A row of uprights with two shelves in each of `bays` bays: 3·bays + 1 parts. */
const row = (bays: number): Sought => ({
  what: `row of ${3 * bays + 1} parts`,
  parts: rowOfBays(bays),
  mates: 4 * bays,
});

/** Times the slowest of `runs` searches, of which the first is cold, and counts the mates that are missed. */
function timed({ parts, mates }: Sought, runs: number): { seconds: number; missed: number } {
  let seconds = 0;
  let missed = 0;
  for (let i = 0; i < runs; i++) {
    const started = performance.now();
    const found = findMates(parts);
    seconds = Math.max(seconds, (performance.now() - started) / 1000);
    missed = Math.max(missed, Math.abs(mates - (found.ok ? found.value.mates.length : 0)));
  }
  return { seconds, missed };
}

/** Prints the times of searches for mates against their bounds, and beside each how many mates it missed. */
export function printMatesTimes(
  bound: (what: string, value: number, most: number, unit: string) => void,
): void {
  const print = (piece: Sought, most: number, runs = 1): void => {
    const { seconds, missed } = timed(piece, runs);
    const what = `mates from flat parts, ${piece.what}`;
    if (Number.isFinite(most)) bound(what, seconds, most, 's');
    else process.stdout.write(`       ${what}: ${seconds.toFixed(2)} s (no bound)\n`);
    bound(`  mates that it misses, of ${piece.mates}`, missed, 0, '');
  };
  print(sought('11 parts, cold', 'sideboard/sideboard-18.master.json'), 2, 3);
  print(sought('45 parts, 35 of them shelves of two kinds', 'pigeonholes/pigeonholes.master.json'), 20);
  for (const bays of [3, 6, 13]) print(row(bays), 20);
  print(row(26), Number.POSITIVE_INFINITY);
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
