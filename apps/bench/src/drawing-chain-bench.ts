import { closedCurves, type Drawing, type Entity, findParts, thicknessSupport } from '@haunch/drawing';

const PLACE = { layer: '0', handle: null, elevation: 0, depth: 0 } as const;
/** Loose lines of one part. */
const EDGES = 100;

/** Star-shaped parts as loose lines in no order, their ends up to `jitter` mm off; numbers that only look random. */
function looseLines(count: number, jitter: number): Entity[] {
  let seed = 1;
  const random = (): number => {
    seed = (seed * 16_807) % 2_147_483_647;
    return seed / 2_147_483_647;
  };
  const grid = (v: number): number => Math.round((v + (random() - 0.5) * jitter) * 1e4) / 1e4;
  const side = Math.ceil(Math.sqrt(count / EDGES));
  const lines = Array.from({ length: count }, (_, i) => {
    const [part, edge] = [Math.floor(i / EDGES), i % EDGES];
    const at = (k: number): { x: number; y: number } => {
      const [angle, radius] = [(2 * Math.PI * (k % EDGES)) / EDGES, 100 + 20 * (k % 2)];
      return {
        x: grid((part % side) * 300 + radius * Math.cos(angle)),
        y: grid(Math.floor(part / side) * 300 + radius * Math.sin(angle)),
      };
    };
    return { from: at(edge), to: at(edge + 1), order: random() };
  });
  return lines
    .sort((a, b) => a.order - b.order)
    .map(({ from, to }, i): Entity => ({ kind: 'line', ...PLACE, line: i + 1, from, to }));
}

const drawingOf = (entities: readonly Entity[]): Drawing => ({
  kind: 'drawing',
  file: 'bench.dxf',
  version: 'AC1015',
  unit: { name: 'mm', factor: 1, basis: 'given', reason: '' },
  layers: [],
  entities,
});

function leastMilliseconds(runs: number, work: () => number, expected: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < runs; k++) {
    const started = performance.now();
    const count = work();
    least = Math.min(least, performance.now() - started);
    if (count !== expected) throw new Error(`the bench drawing gave ${count} of ${expected}`);
  }
  return least;
}

/** Least milliseconds of three runs in which loose lines in no order are chained into closed curves. */
export function chainMilliseconds(count: number, jitter: number): number {
  const drawing = drawingOf(looseLines(count, jitter));
  return leastMilliseconds(3, () => closedCurves(drawing).rings.length, count / EDGES);
}

/** Least milliseconds of three runs in which loose lines become parts: chained, nested, mended and compared. */
export function partsMilliseconds(count: number): number {
  const drawing = drawingOf(looseLines(count, 0));
  return leastMilliseconds(
    3,
    () => {
      const found = findParts(drawing);
      return found.ok ? found.value.length : 0;
    },
    count / EDGES,
  );
}

/** Least milliseconds of three runs in which one contour of so many lines is read and its thickness measured. */
export function contourMilliseconds(count: number): number {
  const grid = (v: number): number => Math.round(v * 1e4) / 1e4;
  const at = (k: number): { x: number; y: number } => {
    const [angle, radius] = [(2 * Math.PI * (k % count)) / count, 2000 + 3 * ((k % count) % 2)];
    return { x: grid(radius * Math.cos(angle)), y: grid(radius * Math.sin(angle)) };
  };
  const drawing = drawingOf(
    Array.from(
      { length: count },
      (_, i): Entity => ({ kind: 'line', ...PLACE, line: i + 1, from: at(i), to: at(i + 1) }),
    ),
  );
  return leastMilliseconds(
    3,
    () => {
      const found = findParts(drawing);
      if (found.ok) thicknessSupport(found.value);
      return found.ok ? found.value.length : 0;
    },
    1,
  );
}

/** Prints how the time of reading grows with the number of loose lines; n log n is 12.5 from 10,000 to 100,000. */
export function printChainTimes(
  bound: (what: string, value: number, most: number, unit: string) => void,
): void {
  for (const jitter of [0, 0.005]) {
    const times = [1_000, 10_000, 100_000].map((n) => chainMilliseconds(n, jitter));
    process.stdout.write(
      `chaining of 1,000, 10,000 and 100,000 loose lines, ends ${jitter} mm off: ${times.map((t) => t.toFixed(0)).join(', ')} ms\n`,
    );
    // Ends that do not meet are 100,000 gaps to be joined and entered as well.
    const most = jitter === 0 ? 1 : 2;
    bound(`chaining of 100,000 loose lines, ends ${jitter} mm off`, times[2]! / 1000, most, 's');
    bound('  growth from 10,000', times[2]! / times[1]!, 20, '×');
  }
  bound('parts out of 100,000 loose lines', partsMilliseconds(100_000) / 1000, 4, 's');
  bound('one contour of 100,000 lines, with its thickness', contourMilliseconds(100_000) / 1000, 8, 's');
}
