import { describe, expect, it } from 'vitest';
import { circlePath, edgePath, ringPath } from './ring-path.js';

const square = [
  { x: 0, y: 0, bulge: 0 },
  { x: 10, y: 0, bulge: 0 },
  { x: 10, y: 10, bulge: 0 },
  { x: 0, y: 10, bulge: 0 },
];

describe('rings as path data', () => {
  it('turn Y down from the top that is given', () =>
    expect(ringPath(square, 0, 10)).toBe('M0 10L10 10L10 0L0 0L0 10Z'));

  it('draw a half circle the way its bulge turns: counter-clockwise with Y up is sweep 0 with Y down', () => {
    const half = [
      { x: 0, y: 0, bulge: 1 },
      { x: 2, y: 0, bulge: 0 },
    ];
    expect(edgePath(half, 0)).toBe('M0 0A1 1 0 0 0 2 0');
    expect(edgePath([{ ...half[0]!, bulge: -1 }, half[1]!], 0)).toBe('M0 0A1 1 0 0 1 2 0');
  });

  it('take the long way round for more than half a circle: tan(270°/4) is a bulge of 2.414, radius √2 on a chord of 2', () =>
    expect(
      edgePath(
        [{ x: 0, y: 0, bulge: Math.tan((270 * Math.PI) / 720) }, square[1]!].map((v, i) =>
          i === 1 ? { ...v, x: 2 } : v,
        ),
        0,
      ),
    ).toBe('M0 0A1.414 1.414 0 1 0 2 0'));

  it('close a circle from two halves', () =>
    expect(circlePath(5, 5, 2)).toBe('M7 -5A2 2 0 0 0 3 -5A2 2 0 0 0 7 -5Z'));
});
