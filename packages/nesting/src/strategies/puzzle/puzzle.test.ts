import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../../check-layout.js';
import { seededRandom } from '../../seeded-random.js';
import { seededRun, ticks } from '../../ticks.js';
import { boardJigsaw, type JigsawOptions, jigsaw } from '../../trial/generate/jigsaw.js';
import { measureLayout } from '../../trial/trial.js';
import { isForbidden, noFit } from '../no-fit.js';
import { overlapMinimising } from '../overlap-minimising.js';
import { assemble } from './assemble.js';
import { gapsBetween, sectorOf } from './sectors.js';
import { tileOf, tilesOverlap } from './tile.js';

const options: JigsawOptions = {
  name: 'jigsaw',
  width: 1000,
  height: 600,
  pieces: 12,
  turns: 'quarters',
};
const lay = ({ instance }: ReturnType<typeof jigsaw>['problem'], seed: number, budget = 4000) =>
  [...overlapMinimising.nest(instance, overlapMinimising.defaults, seededRun(seed, budget))].at(-1)!;

describe('puzzles', () => {
  it('cut from a strip come together without waste', () => {
    for (const seed of [1, 2, 3]) {
      const { problem } = jigsaw(options, seededRandom(seed));
      const layout = lay(problem, seed);
      expect(checkLayout(problem.instance, layout).violations).toEqual([]);
      expect(layout.unplaced).toEqual([]);
      expect(measureLayout(problem, layout).density).toBe(1);
    }
  });

  it('cut from several boards come together on as many', () => {
    const { problem } = boardJigsaw({ ...options, pieces: 6 }, 3, seededRandom(4));
    const layout = lay(problem, 1);
    expect(checkLayout(problem.instance, layout).violations).toEqual([]);
    expect(measureLayout(problem, layout)).toEqual({ boards: 3, density: 1 });
  });
});

const HOOK = [0, 0, 6, 0, 6, 2, 2, 2, 2, 5, 0, 5];
const KITE = [0, 2, 3, 0, 7, 3, 3, 4];

describe('tiles', () => {
  it('overlap exactly where the no-fit polygon says so', () => {
    const [a, b] = [tileOf(HOOK), tileOf(KITE)];
    const truth = noFit(a.pieces, b.pieces);
    for (let x = -9; x <= 9; x++)
      for (let y = -9; y <= 9; y++)
        expect(tilesOverlap(a, b, x, y), `${x}, ${y}`).toBe(isForbidden(truth, x, y));
  });

  it('take at a corner its angle, along an edge half a turn, elsewhere nothing', () => {
    const hook = tileOf(HOOK);
    expect(sectorOf(hook, 0, 0)).toEqual({ from: { x: 6, y: 0 }, to: { x: 0, y: 5 } });
    expect(sectorOf(hook, 2, 2)).toEqual({ from: { x: 0, y: 3 }, to: { x: 4, y: 0 } });
    expect(sectorOf(hook, 3, 0)).toEqual({ from: { x: 6, y: 0 }, to: { x: -6, y: -0 } });
    expect(sectorOf(hook, 4, 4)).toBeUndefined();
    expect(sectorOf(hook, 7, 0)).toBeUndefined();
  });

  it('have no corners where the outline goes straight on', () =>
    expect(tileOf([0, 0, 2, 0, 4, 0, 4, 3, 0, 3]).corners.map((c) => [c.x, c.y])).toEqual([
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]));

  it('leave free between them what none of them takes', () => {
    const east = { x: 1, y: 0 };
    const north = { x: 0, y: 2 };
    const west = { x: -3, y: 0 };
    expect(gapsBetween([{ from: east, to: north }])).toEqual([{ from: north, to: east }]);
    expect(
      gapsBetween([
        { from: west, to: { x: 5, y: 0 } },
        { from: east, to: north },
      ]),
    ).toEqual([{ from: north, to: west }]);
    expect(
      gapsBetween([
        { from: east, to: west },
        { from: { x: -1, y: 0 }, to: east },
      ]),
    ).toEqual([]);
  });
});

describe('putting together', () => {
  const run = (n: number) => ({ random: seededRandom(1), tick: ticks(n) });
  const kind = (outline: number[], area: number, count = 1) => ({ count, tiles: [tileOf(outline)], area });
  const frame = { frames: 1, width: 4, height: 4 };

  it('gives up, and soon, where the area is right and the pieces are wrong', () => {
    const half = kind([0, 0, 4, 0, 0, 4], 8);
    const wrong = kind([0, 0, 4, 0, 2, 4], 8);
    const tick = run(1000);
    expect(assemble({ ...frame, kinds: [half, wrong] }, tick)).toBeUndefined();
    expect(tick.tick()).toBe(true);
  });

  it('gives up when the budget is spent', () =>
    expect(assemble({ ...frame, kinds: [kind([0, 0, 1, 0, 1, 1, 0, 1], 1, 16)] }, run(3))).toBeUndefined());

  it('fills frames with any pieces that were cut from them, touching and no more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 3 }), (a, b) => {
        const kinds = [
          kind([0, 0, a, 0, b, 4, 0, 4], 2 * (a + b)),
          kind(
            [a - Math.min(a, b), 0, 4 - Math.min(a, b), 0, 4 - Math.min(a, b), 4, b - Math.min(a, b), 4],
            16 - 2 * (a + b),
          ),
        ];
        const puts = assemble({ ...frame, kinds }, run(1000))!;
        expect(puts.map((p) => p.kind).sort()).toEqual([0, 1]);
        const [p, q] = puts as [(typeof puts)[0], (typeof puts)[0]];
        expect(tilesOverlap(kinds[p.kind]!.tiles[0]!, kinds[q.kind]!.tiles[0]!, q.x - p.x, q.y - p.y)).toBe(
          false,
        );
      }),
      { numRuns: 9 },
    );
  });
});
