import { describe, expect, it } from 'vitest';
import { layOf, ocsToWorld } from './ocs.js';

// Values of the arbitrary axis algorithm (DXF reference) for the point (10, 5, 2), computed independently.
const CASES = [
  { n: [0, 0, 1], p: [10, 5, 2] },
  { n: [0, 0, -1], p: [-10, 5, -2] },
  { n: [1, 0, 0], p: [2, 10, 5] },
  { n: [0.6, 0, 0.8], p: [-2.8, 10, 4.6] },
  { n: [0.01, 0.01, 1], p: [10.018998, 5.019748, 1.849813] },
  { n: [0.02, 0, 1], p: [-4.959008, 10, 2.09958] },
] as const;

describe('ocsToWorld', () => {
  it.each(CASES)('takes (10, 5, 2) with normal $n to $p', ({ n, p }) => {
    const w = ocsToWorld({ x: n[0], y: n[1], z: n[2] }, { x: 10, y: 5, z: 2 });
    expect(w.x).toBeCloseTo(p[0], 6);
    expect(w.y).toBeCloseTo(p[1], 6);
    expect(w.z).toBeCloseTo(p[2], 6);
  });

  it('refuses a normal of no length', () => {
    expect(() => ocsToWorld({ x: 0, y: 0, z: 0 }, { x: 1, y: 1, z: 1 })).toThrow(RangeError);
  });
});

it('tells up, mirrored and tilted apart', () => {
  expect(layOf({ x: 0, y: 0, z: 2 })).toBe('up');
  expect(layOf({ x: 0, y: 0, z: -1 })).toBe('mirrored');
  expect(layOf({ x: 0.6, y: 0, z: 0.8 })).toBe('tilted');
  expect(layOf({ x: 0, y: 0, z: 0 })).toBe('up');
});
