import { describe, expect, it } from 'vitest';
import { findLevels } from './level.js';
import type { Stretch } from './stretch.js';

const at = (z0: number, z1: number, index: number): Stretch => ({
  index,
  line: index + 1,
  kind: 'linear',
  from: { x: 0, y: 0, z: z0 },
  to: { x: 10, y: 0, z: z1 },
  centre: null,
  sweep: 0,
  feed: 1,
  spindle: 1,
  tool: 1,
  radius: 3,
  drill: false,
  point: 0,
});
const highs = (stretches: readonly Stretch[], heights: readonly number[] = []): number[] =>
  findLevels(stretches, { top: 18, bottom: 0, heights }).levels.map((l) => l.high);

describe('slabs', () => {
  it('lie between depths at which the cutter runs level, turns up or turns down', () => {
    expect(
      highs([at(28, 9, 0), at(9, 9, 1), at(9, 3, 2), at(3, 12, 3), at(12, -0.2, 4), at(-0.2, 28, 5)]),
    ).toEqual([0.001, 3, 9, 12, 18]);
  });

  it('include the underside, the floors asked for, and nothing twice', () => {
    expect(highs([at(28, 9, 0), at(9, 9, 1), at(9, 28, 2)], [10, 9.0005])).toEqual([0.001, 9, 10, 18]);
  });

  it('stay few however many depths a text knows', () => {
    const many = Array.from({ length: 5000 }, (_, i) => at((i * 17) / 5000, (i * 17) / 5000, i));
    const { levels, step } = findLevels(many, { top: 18, bottom: 0, heights: [] });
    expect(levels.length).toBeLessThanOrEqual(65);
    expect(step).toBeGreaterThan(0.002);
  });
});
