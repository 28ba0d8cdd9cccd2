import type { Move, Place, Toolpath } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NcMotion } from '../src/read/nc-reading.js';
import { readProgram } from '../src/read/read-program.js';
import { writeProgram } from '../src/write/write-program.js';
import { toolpath } from './arbitrary-toolpath.js';
import { type DialectChanges, plainPost } from './plain-post.js';
import { stray } from './stray.js';

type Cut = Extract<Move, { to: Place }>;

/** Writes, reads back, and compares move by move. `step` is the output step in mm. */
function compare(path: Toolpath, changes: DialectChanges, step: number, most: number): void {
  const written = writeProgram(path, plainPost(changes), { title: 'round trip' });
  if (!written.ok) throw new Error(written.diagnostics.map((d) => d.message).join('\n'));
  const { text, lineMoves } = written.value;
  expect(lineMoves).toHaveLength(text.split('\n').length - 1);
  const reading = readProgram(text);
  expect(reading.diagnostics.filter((d) => d.level !== 'note')).toEqual([]);
  const byMove = new Map<number, NcMotion[]>();
  for (const m of reading.moves)
    if (m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc') {
      const index = lineMoves[m.line - 1]!;
      byMove.set(index, [...(byMove.get(index) ?? []), m]);
      if (m.kind === 'arc') {
        const { from, to, centre: c } = m;
        const apart = Math.hypot(from.x - c.x, from.y - c.y) - Math.hypot(to.x - c.x, to.y - c.y);
        expect(Math.abs(apart)).toBeLessThanOrEqual(0.0005 + 1e-9);
      }
    }
  let at: Place | null = null;
  let here: Place | null = null;
  let rpm = 0;
  let tool: number | null = null;
  path.moves.forEach((m, i) => {
    if (m.kind === 'spindle') rpm = m.rpm;
    if (m.kind === 'cutter') [rpm, tool] = [0, m.number];
    if (!('to' in m)) return;
    const read = byMove.get(i) ?? [];
    for (const q of read) {
      expect(q.spindle).toBe(rpm);
      expect(q.tool).toBe(tool);
      if (m.kind === 'rapid') expect(q.kind).toBe('rapid');
      else {
        expect(q.kind).not.toBe('rapid');
        expect(Math.abs(q.feed! - m.feed)).toBeLessThanOrEqual(
          0.5 * 0.1 * (changes.unit === 'inch' ? 25.4 : 1) + 1e-6,
        );
      }
    }
    here = read.at(-1)?.to ?? here;
    for (const axis of ['x', 'y', 'z'] as const)
      expect(Math.abs(here![axis] - m.to[axis])).toBeLessThanOrEqual(step / 2 + 1e-9);
    // The raise from an unknown place is not on the way of the move.
    const way = read.filter((q) => q.fromKnown.x && q.fromKnown.y && q.fromKnown.z);
    if (at && way.length === read.length) expect(stray(at, m as Cut, way)).toBeLessThanOrEqual(most * step);
    at = m.to;
  });
  expect(reading.moves.filter((m) => m.kind === 'dwell').map((m) => m.kind === 'dwell' && m.seconds)).toEqual(
    path.moves.flatMap((m) => (m.kind === 'dwell' && m.seconds > 0 ? [m.seconds] : [])),
  );
}

describe('what is written reads back as the same moves', () => {
  const law = (changes: DialectChanges, step: number, most: number, numRuns: number) =>
    fc.assert(
      fc.property(toolpath, (path) => compare(path, changes, step, most)),
      { numRuns },
    );
  it('within one output step, at four decimals of a millimetre', () => law({}, 0.0001, 1, 400));
  // Toolpaths lie on the 0.0001 mm grid, so coarser words also round the ends: by up to 0.71 of their step in the
  // plane at both ends of an arc, and its centre as well; the strays add up to 2.2 steps in the worst case seen.
  it.each<[string, DialectChanges, number]>([
    ['three decimals', { decimals: 3 }, 0.001],
    ['two decimals', { decimals: 2 }, 0.01],
    ['half turns at most', { arcs: { greatestSweep: Math.PI } }, 0.0001],
    ['quarter turns at most', { arcs: { greatestSweep: Math.PI / 2 } }, 0.0001],
    ['nothing left out', { modal: false }, 0.0001],
    ['line numbers', { lineNumbers: { start: 10, step: 10 } }, 0.0001],
    ['no comments', { comments: null }, 0.0001],
  ])('within three output steps in other dialects: %s', (_, changes, step) => law(changes, step, 3, 120));
  it.each([4, 5])('in inches with %i decimals', (decimals) =>
    law({ unit: 'inch', decimals, feedDecimals: 3 }, 25.4 / 10 ** decimals, 3, 120),
  );
  it('as chords within the tolerance where the dialect has no arcs', () =>
    law({ arcs: { form: 'none', chordTolerance: 0.5 } }, 0.0001, 5002, 40));
  it('as chords where it has no helices', () =>
    law({ arcs: { helix: false, chordTolerance: 0.5 } }, 0.0001, 5002, 40));
});

describe('arcs of the radii that curved panels have', () => {
  const radii = [3130, 4010];
  it.each(radii.flatMap((r) => [3, 4].map((d) => [r, d] as const)))(
    'radius %i mm at %i decimals: both radii agree within 0.0005 mm',
    (r, decimals) =>
      fc.assert(
        fc.property(
          fc.integer({ min: 1, max: 62_831 }).map((n) => n / 10_000),
          fc.integer({ min: -10_000, max: 10_000 }).map((n) => n / 10_000),
          (sweep, angle) => {
            const place = (a: number) => ({
              x: Math.round(r * Math.cos(a) * 10_000) / 10_000,
              y: Math.round(r * Math.sin(a) * 10_000) / 10_000,
              z: -3,
            });
            const from = 'sheet-1/001 A.outline';
            const path: Toolpath = {
              kind: 'toolpath',
              board: 'sheet-1',
              moves: [
                { kind: 'rapid', to: place(angle), from },
                {
                  kind: 'circular',
                  to: place(angle + sweep),
                  centre: { x: 0, y: 0 },
                  turn: 'ccw',
                  feed: 6000,
                  from,
                },
              ],
            };
            // The ends given here are themselves up to 0.00007 mm off their circle, each its own way.
            compare(path, { decimals }, 10 ** -decimals, decimals === 4 ? 1.5 : 3);
          },
        ),
        { numRuns: 300 },
      ),
  );
});

it('the same toolpath gives the same bytes every time', () =>
  fc.assert(
    fc.property(toolpath, (path) => {
      const text = () => JSON.stringify(writeProgram(path, plainPost(), { title: 'same' }));
      expect(text()).toBe(text());
    }),
    { numRuns: 60 },
  ));
