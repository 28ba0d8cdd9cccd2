import { describe, expect, it } from 'vitest';
import { fillsItsBox } from './fills-its-box.js';
import { circleRing, polygonRing, rectangleRing, reverseRing } from './ring.js';

const corners = (...xy: readonly (readonly [number, number])[]) =>
  polygonRing(xy.map(([x, y]) => ({ x, y })));

describe('fillsItsBox', () => {
  it('a rectangle does, either way round and with more corners than it needs', () => {
    const r = rectangleRing(10, 20, 2450, 1240);
    expect(fillsItsBox(r)).toBe(true);
    expect(fillsItsBox(reverseRing(r))).toBe(true);
    expect(fillsItsBox(corners([0, 0], [50, 0], [100, 0], [100, 40], [0, 40]))).toBe(true);
  });

  it('nothing else does, by as little as a step of the grid', () => {
    expect(fillsItsBox(circleRing({ x: 0, y: 0 }, 50))).toBe(false);
    expect(fillsItsBox(corners([0, 0], [100, 0], [100, 40], [50, 40], [50, 30], [0, 30]))).toBe(false);
    expect(fillsItsBox(corners([0, 0], [100, 0], [100, 40], [0, 39.9999]))).toBe(false);
    expect(fillsItsBox(corners([0, 0], [100, 0], [50, 0]))).toBe(false);
  });
});
