import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MACHINE, ROUTER } from '../../test/workshop.js';
import { chipShare, finishFeeds, widthInCorner } from './finish-feeds.js';

describe('feeds of a finishing pass', () => {
  it('thin the chip as published: 10 % engaged to 0.6 of the feed per tooth, a quarter to 0.866, half and more not', () => {
    // Reference value C2: factors 1.666667, 1.154701, 1.
    expect(chipShare(0.6, 6)).toBeCloseTo(1 / 1.666667, 6);
    expect(chipShare(1.5, 6)).toBeCloseTo(1 / 1.154701, 6);
    expect([chipShare(3, 6), chipShare(6, 6)]).toEqual([1, 1]);
  });

  it('engage a square corner by a quarter turn more: stock of a tenth from 0.1 to 0.8 of the cutter', () => {
    // acos(1 − 0.2) = 0.6435; cos(0.6435 + π/2) = −0.6; (1 + 0.6) / 2 = 0.8.
    expect(widthInCorner(0.6, 6, Math.PI / 2)).toBeCloseTo(4.8, 9);
    expect(widthInCorner(6, 6, Math.PI / 2)).toBeCloseTo(6, 9);
    expect(widthInCorner(0.6, 6, 0)).toBeCloseTo(0.6, 9);
  });

  it('are these for 6 mm, two edges of 0.12 mm at 18,000: 4,320 × 1.5, and 0.6 of it into a corner', () => {
    const feeds = finishFeeds({ ...ROUTER, chipLoad: 0.12 }, { ...MACHINE, maxFeed: 8_000 }, 0.6);
    expect(feeds).toEqual({ wall: 6480, corner: 3888, idle: 8000 });
  });

  it('never pass the machine, never rise into a corner, and fall the more the less stock there is', () => {
    const any = fc.record({
      stock: fc.integer({ min: 5, max: 600 }).map((v) => v / 100),
      less: fc.double({ min: 0.1, max: 1, noNaN: true }),
      maxFeed: fc.integer({ min: 500, max: 20_000 }),
    });
    fc.assert(
      fc.property(any, ({ stock, less, maxFeed }) => {
        const machine = { ...MACHINE, maxFeed };
        const [a, b] = [finishFeeds(ROUTER, machine, stock), finishFeeds(ROUTER, machine, stock * less)];
        expect(a.wall).toBeLessThanOrEqual(maxFeed);
        expect(a.corner).toBeLessThanOrEqual(a.wall);
        expect(b.corner / b.wall).toBeLessThanOrEqual(a.corner / a.wall + 1e-3);
      }),
    );
  });
});
