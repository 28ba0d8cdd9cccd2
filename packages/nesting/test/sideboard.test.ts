import { flattenRing, loadClip, moveRing, type Point } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { constructive, instanceProblems, runNesting, seededRun } from '../src/index.js';
import { sideboardInstance } from './sideboard.js';

const instance = sideboardInstance();
/** Half a second's work on a two-core machine of 2026; a complete layout is there after a few dozen ticks. */
const TICKS = 5000;

describe('the sideboard on one sheet', () => {
  it('is a problem without problems', () => {
    expect(instance.items.map((i) => i.id).sort()).toEqual(
      ['D1', 'D2', 'EL', 'ER', 'PL', 'RL', 'S1', 'S2', 'S3', 'TOP'].sort(),
    );
    expect(instanceProblems(instance)).toEqual([]);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])(
    'lies whole, valid, and no longer than 2160 mm: seed %i',
    async (seed) => {
      const { layout, report, score, diagnostics } = runNesting(
        constructive,
        instance,
        constructive.defaults,
        seededRun(seed, TICKS),
      );
      expect(diagnostics).toEqual([]);
      expect(layout.unplaced).toEqual([]);
      expect(report.violations).toEqual([]);
      expect(report.leastGap).toBeGreaterThanOrEqual(10 - 1e-6);
      expect(score.extent).toBeLessThanOrEqual(2160 * 1220);

      // A second opinion on spacing: outlines grown by a little less than half of it share nothing.
      const clip = await loadClip();
      const grown = layout.placements.map((p): (readonly Point[])[] => {
        const { outline } = instance.items.find((i) => i.id === p.item)!;
        return clip.grow([flattenRing(moveRing(p.motion, outline), { tolerance: 0.001 })], 4.998, 0.001);
      });
      grown.forEach((a, i) => {
        for (const b of grown.slice(i + 1)) expect(clip.intersection(a, b)).toEqual([]);
      });
    },
  );

  it('comes out the same from the same seed', () => {
    const once = () =>
      JSON.stringify(runNesting(constructive, instance, constructive.defaults, seededRun(3, 800)));
    expect(once()).toBe(once());
  });
});
