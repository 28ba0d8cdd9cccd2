import { ringProblems } from '@haunch/geometry';
import { offsetTimes } from './offset-bench.js';

/** At least so many times as fast as a peer in the same run. */
function ratio(what: string, value: number, least: number): void {
  const met = value >= least;
  process.stdout.write(`${met ? 'met   ' : 'MISSED'} ${what}: ${value.toFixed(2)} times (bound ${least})\n`);
  if (!met) process.exitCode = 1;
}

const o = offsetTimes();
process.stdout.write(
  `offsets of 200 rings of 50 to 400 edges: ours ${(o.ours * 1000).toFixed(0)} ms, clipper-lib ${(o.clipperLib * 1000).toFixed(0)} ms, jsts ${(o.jsts * 1000).toFixed(0)} ms; left as chords ${(o.asChords.clipperLib * 1000).toFixed(0)} and ${(o.asChords.jsts * 1000).toFixed(0)} ms; areas apart by ${o.areasApart.toExponential(1)}; edges out ${o.segments.ours} and ${o.segments.peers}\n`,
);
ratio('arc-true offset against clipper-lib, arcs recovered', o.clipperLib / o.ours, 2);
ratio('arc-true offset against jsts, arcs recovered', o.jsts / o.ours, 1.5);

/** Milliseconds to look for crossings in a ring of so many edges. */
function problemsMilliseconds(edges: number): number {
  const vertices = Array.from({ length: edges }, (_, i) => {
    const a = (2 * Math.PI * i) / edges;
    const r = edges * (i % 2 === 0 ? 1 : 0.999);
    return { x: r * Math.cos(a), y: r * Math.sin(a), bulge: 0 };
  });
  const started = performance.now();
  const found = ringProblems({ vertices });
  const took = performance.now() - started;
  if (found.length > 0) throw new Error('the bench ring crosses itself');
  return took;
}

problemsMilliseconds(1000);
const grown = [1_000, 10_000, 100_000].map((n) => [n, problemsMilliseconds(n)] as const);
process.stdout.write(
  `crossings of one ring: ${grown.map(([n, ms]) => `${n} edges ${ms.toFixed(0)} ms`).join(', ')}\n`,
);
const growth = Math.log(grown[2]![1] / grown[1]![1]) / Math.log(10);
process.stdout.write(
  `${growth <= 1.3 ? 'met   ' : 'MISSED'} growth of that: n^${growth.toFixed(2)} (bound n^1.3)\n`,
);
if (growth > 1.3) process.exitCode = 1;
