import { rectangleRing } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { numbers } from '../../test/measured-sheet.js';
import { fitThicknessMap } from './fit-thickness-map.js';

/** Readings all over a sheet on a slope, a calliper's scatter on each; some of them wrong by so much. mm */
function readings(count: number, seed: number, wrong: Readonly<Record<number, number>> = {}) {
  const random = numbers(seed);
  return Array.from({ length: count }, (_, i) => {
    const at = { x: 50 + 2340 * random(), y: 50 + 1120 * random() };
    const scatter = 0.02 * (random() + random() + random() - 1.5);
    return { at, thickness: 17.6 + (0.3 * at.x) / 2440 + scatter + (wrong[i] ?? 0) };
  });
}
const sheet = rectangleRing(0, 0, 2440, 1220);
/** The numbers of the readings that were left out, as people count them. */
const told = (count: number, wrong?: Readonly<Record<number, number>>): number[] =>
  fitThicknessMap(readings(count, count, wrong), sheet)
    .diagnostics.filter((d) => d.code === 'gauge/outlying-reading')
    .map((d) => Number(/reading (\d+)/.exec(d.message)![1]))
    .sort((a, b) => a - b);

describe('readings that the others contradict', () => {
  // Up to forty each is left out in turn, of more those that lie farthest off: the answer is the same kind.
  it.each([39, 41, 120])('are told among %i, and no right one with them', (count) => {
    expect(told(count, { 3: 0.35, 7: -0.4 })).toEqual([4, 8]);
    expect(told(count)).toEqual([]);
  });

  it('are not sought among more readings than a sheet is worth', () => {
    const [said] = fitThicknessMap(readings(501, 1), sheet).diagnostics;
    expect(said).toMatchObject({ code: 'gauge/too-many-readings', level: 'error' });
    expect(said!.message).toContain('501');
    expect(fitThicknessMap(readings(500, 1), sheet).ok).toBe(true);
  });
});
