import { describe, expect, it } from 'vitest';
import { inUnit } from './units.js';

describe('a sentence in the unit of the paper', () => {
  it('has every length of a size turned, and places', () => {
    expect(inUnit('off-cut-1, birch 18, 1270 × 254 mm', 'inch')).toBe('off-cut-1, birch 18, 50 × 10 in');
    expect(inUnit('pins of 8 mm at (25.4, 127), (-2.54, 0)', 'inch')).toBe(
      'pins of 0.315 in at (1, 5), (-0.1, 0)',
    );
    expect(inUnit('step 12 × 3: 25.4 mm deep', 'inch')).toBe('step 12 × 3: 1 in deep');
  });

  it('is as it was in millimetres', () => {
    expect(inUnit('1270 × 254 mm at (1, 2)', 'mm')).toBe('1270 × 254 mm at (1, 2)');
  });
});
