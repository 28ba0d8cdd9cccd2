import { describe, expect, it } from 'vitest';
import { countCrossings } from './crossings.js';
import type { Curve } from './merge-tracks.js';

const line = (x0: number, y0: number, x1: number, y1: number): Curve => ({
  kind: 'line',
  a: { x: x0, y: y0 },
  b: { x: x1, y: y1 },
});
const lattice = (n: number, step: number): Curve[] =>
  Array.from({ length: n }, (_, i) => [
    line(-1, i * step, n * step, i * step),
    line(i * step, -1, i * step, n * step),
  ]).flat();

describe('countCrossings', () => {
  it('counts each crossing of a lattice once, whatever its size', () => {
    expect(countCrossings(lattice(20, 1), Infinity).count).toBe(400);
    expect(countCrossings(lattice(20, 37), Infinity).count).toBe(400);
  });

  it('finds none among ways side by side, or end to end', () => {
    expect(
      countCrossings(
        lattice(40, 0.3).filter((_, i) => i % 2 === 0),
        Infinity,
      ).count,
    ).toBe(0);
    const zigzag = Array.from({ length: 50 }, (_, i) => line(i, i % 2, i + 1, (i + 1) % 2));
    expect(countCrossings(zigzag, Infinity).count).toBe(0);
  });

  it('counts a line through a circle twice, and stops soon after enough', () => {
    const circle: Curve = {
      kind: 'arc',
      centre: { x: 0, y: 0 },
      r: 10,
      start: 0.1,
      sweep: 2 * Math.PI,
      a: { x: 10 * Math.cos(0.1), y: 10 * Math.sin(0.1) },
      b: { x: 10 * Math.cos(0.1), y: 10 * Math.sin(0.1) },
    };
    expect(countCrossings([circle, line(-20, 1, 20, 1)], Infinity).count).toBe(2);
    const { count, at } = countCrossings(lattice(200, 5), 1000);
    expect(count).toBeGreaterThan(1000);
    expect(count).toBeLessThan(5000);
    expect(at).not.toBeNull();
  });
});
