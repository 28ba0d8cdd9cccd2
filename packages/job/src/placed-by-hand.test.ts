import { readFileSync } from 'node:fs';
import { rectangleRing, STAY } from '@haunch/geometry';
import type { NestingInstance, NestingItem, Part } from '@haunch/model';
import { constructive, runNesting, seededRun } from '@haunch/nesting';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BetterLayout, improveLayout, judgePlacements } from './improve-layout.js';
import { type Job, readJob } from './job.js';
import { layJob, layoutQuestion } from './lay-job.js';
import { loadPieces } from './load-pieces.js';
import { around, motionOfPlacement, placedByHand, placementOfMotion, together } from './placed-by-hand.js';

const QUARTERS = [0, 1, 2, 3].map((k) => (k * Math.PI) / 2);
const item = (id: string, turns = QUARTERS): NestingItem => ({
  id,
  outline: rectangleRing(5, 7, 105, 47),
  turns,
  boards: ['sheet'],
});
const instance: NestingInstance = {
  items: [item('A'), item('B', [0, Math.PI]), item('C')],
  boards: [
    { id: 'sheet', outline: rectangleRing(0, 0, 300, 200), keepOuts: [rectangleRing(250, 150, 260, 160)] },
    { id: 'other', outline: rectangleRing(0, 0, 300, 200), keepOuts: [] },
  ],
  spacing: 10,
  edgeMargin: 10,
};
const parts = instance.items.map(({ id }) => ({ id }) as Part);
type Said = Record<string, { board: string; at: [number, number]; turnDegrees: number }>;
const jobWith = (placements: Said): Job =>
  ({
    file: 'job.json',
    settings: { lay: { placements } },
    boards: instance.boards,
    lineOf: (path: readonly PropertyKey[]) => path.length,
  }) as unknown as Job;
const placed = (said: Said) => placedByHand(jobWith(said), parts, instance);

describe('a placement in a job file', () => {
  it('is read as the motion of which it was written, to the last bit', () =>
    fc.assert(
      fc.property(
        fc.constantFrom(...QUARTERS),
        fc.integer({ min: -1e7, max: 1e7 }),
        fc.integer({ min: -1e7, max: 1e7 }),
        (turn, x, y) => {
          const motion = { ...STAY, turn, dx: x / 1e4 + 0, dy: y / 1e4 + 0 };
          const said = placementOfMotion(item('A'), { item: 'A', board: 'sheet', motion });
          expect(motionOfPlacement(item('A'), said)).toEqual(motion);
        },
      ),
    ));

  it('says where the lower left corner of the part is as it lies', () => {
    expect(
      placementOfMotion(item('A'), {
        item: 'A',
        board: 'sheet',
        motion: motionOfPlacement(item('A'), { board: 'sheet', at: [20, 30], turnDegrees: -270 }),
      }),
    ).toEqual({ board: 'sheet', at: [20, 30], turnDegrees: 90 });
  });
});

describe('placedByHand', () => {
  const at = (x: number, y: number, turnDegrees = 0, board = 'sheet') => ({
    board,
    at: [x, y] as [number, number],
    turnDegrees,
  });

  it('takes what the referee lets lie', () => {
    const found = placed({ A: at(10, 10), B: at(10, 60) });
    expect(found.ok && found.value.map((p) => [p.item, p.motion.dx, p.motion.dy])).toEqual([
      ['A', 5, 3],
      ['B', 5, 53],
    ]);
  });

  it.each([
    ['in the edge margin', { A: at(9.9, 10) }, 'lay/placed-wrong', 'A'],
    ['outside of the board', { A: at(250, 10) }, 'lay/placed-wrong', 'A'],
    ['over another part', { A: at(10, 10), B: at(50, 10) }, 'lay/placed-wrong', 'A'],
    ['too near to another part', { A: at(10, 10), B: at(10, 59.9) }, 'lay/placed-wrong', 'A'],
    ['in a keep-out', { A: at(180, 120) }, 'lay/placed-wrong', 'A'],
    ['across its grain', { B: at(10, 10, 90) }, 'lay/placed-wrong', 'B'],
    ['on a board of another stock', { A: at(10, 10, 0, 'other') }, 'lay/placed-wrong', 'A'],
    ['on a board that is not there', { A: at(10, 10, 0, 'shelf') }, 'lay/placed-unknown', 'A'],
    ['that the job does not make', { Z: at(10, 10) }, 'lay/placed-unknown', 'Z'],
  ])('refuses a part %s, by name and with its line', (_, said, code, part) => {
    const found = placed(said as Said);
    expect(found.ok).toBe(false);
    expect(found.diagnostics[0]).toMatchObject({ code, locus: { part, file: 'job.json', line: 3 } });
  });
});

describe('around', () => {
  it('has all others laid round what lies', () => {
    const fixed = placed({ A: { board: 'sheet', at: [100, 80], turnDegrees: 0 } });
    if (!fixed.ok) throw new Error(fixed.diagnostics[0]?.message);
    const run = seededRun(1, 500);
    const rest = runNesting(constructive, around(instance, fixed.value), constructive.defaults, run);
    const all = together(instance, fixed.value, rest.layout);
    expect(rest.layout.unplaced).toEqual([]);
    expect(all.placements.map((p) => p.item)).toEqual(['A', 'B', 'C']);
    // Read back, all of them lie: the referee judges them as if all were laid by hand.
    const said = Object.fromEntries(
      all.placements.map((p) => [p.item, placementOfMotion(instance.items.find((i) => i.id === p.item)!, p)]),
    );
    const again = placed(said as Said);
    expect(again.ok && again.value).toEqual(all.placements);
  });
});

describe('layJob', () => {
  const folder = new URL('../../../docs/examples/reading-stand/', import.meta.url);
  const source = (name: string) =>
    /fits|feeds/.test(name) ? undefined : new Uint8Array(readFileSync(new URL(name, folder)));
  const lay = (placements: object) => {
    const file = JSON.parse(readFileSync(new URL('job.json', folder), 'utf8'));
    const text = JSON.stringify({ ...file, lay: { effort: 1, placements } }, null, 1);
    const job = readJob(text, 'job.json', { source });
    if (!job.ok) throw new Error(job.diagnostics[0]?.message);
    const pieces = loadPieces(job.value, source);
    if (!pieces.ok) throw new Error(pieces.diagnostics[0]?.message);
    const asked = layoutQuestion(job.value, pieces.value);
    if (!asked.ok) throw new Error(asked.diagnostics[0]?.message);
    const { instance } = asked.value;
    return { job: job.value, pieces: pieces.value, instance, laid: layJob(job.value, pieces.value) };
  };

  it('lays parts as a person says, to the last bit, the others round them, and refuses what cannot be by name', () => {
    const { instance, laid, job, pieces } = lay({});
    const { items } = instance;
    if (!laid.ok) throw new Error(laid.diagnostics[0]?.message);
    const { placements } = laid.value.layout;
    const said = Object.fromEntries(
      placements.map((p) => [p.item, placementOfMotion(items.find((i) => i.id === p.item)!, p)]),
    );
    const all = lay(said).laid;
    expect(all.ok && all.value.layout).toEqual(laid.value.layout);

    // One alone, on the other side of the board: it lies there, and there is room for the others.
    const [first] = placements;
    const far = { ...said[first!.item]!, at: [700, 10] as [number, number] };
    const some = lay({ [first!.item]: far }).laid;
    if (!some.ok) throw new Error(some.diagnostics[0]?.message);
    const there = some.value.layout.placements.find((p) => p.item === first!.item)!;
    expect(placementOfMotion(items.find((i) => i.id === first!.item)!, there)).toEqual(far);
    expect(some.value.referee.valid).toBe(true);

    // What a longer search finds on its way is written down, and laid again as it was.
    const found: BetterLayout[] = [];
    const best = improveLayout(job, pieces, { effort: 60, better: (l) => found.push(l) });
    if (!best.ok) throw new Error(best.diagnostics[0]?.message);
    expect(found.map((f) => f.number)).toEqual(found.map((_, i) => i + 1));
    expect(found.at(-1)!.placements).toEqual(best.value);
    expect(found[0]!.placements).toEqual(laid.value.written);
    expect(judgePlacements(instance, best.value!).valid).toBe(true);
    expect(judgePlacements(instance, { ...best.value!, [first!.item]: far }).valid).toBe(false);

    // A part that no board can take is named, before anything is tried.
    const [small] = job.boards.map((b) => ({ ...b, outline: rectangleRing(0, 0, 320, 320) }));
    const none = improveLayout({ ...job, boards: [small!] }, pieces, { effort: 60 });
    expect(none.diagnostics).toContainEqual(
      expect.objectContaining({
        code: 'lay/part-exceeds-boards',
        locus: expect.objectContaining({ part: 'BASE' }),
      }),
    );
    // One that finds no room among the others too, unless it was stopped before.
    const [tight] = job.boards.map((b) => ({ ...b, outline: rectangleRing(0, 0, 460, 320) }));
    const full = improveLayout({ ...job, boards: [tight!] }, pieces, { effort: 20 });
    expect(full.ok).toBe(false);
    expect(new Set(full.diagnostics.map((d) => d.code))).toEqual(new Set(['lay/no-room']));
    expect(
      improveLayout({ ...job, boards: [tight!] }, pieces, { effort: 20, stop: () => true }),
    ).toMatchObject({
      ok: true,
      value: null,
    });

    const wrong = lay({ [first!.item]: { ...far, at: [0, 0] } }).laid;
    expect(wrong.ok).toBe(false);
    expect(wrong.diagnostics[0]).toMatchObject({ code: 'lay/placed-wrong', locus: { part: first!.item } });
    expect(wrong.diagnostics[0]!.locus.line).toBeGreaterThan(1);
  });
});
