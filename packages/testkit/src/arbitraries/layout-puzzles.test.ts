import { checkLayout } from '@haunch/nesting';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { layoutPuzzles } from './layout-puzzles.js';

it('every puzzle comes with a layout that the referee finds right', () =>
  fc.assert(
    fc.property(layoutPuzzles(), ({ problem, layout }) => {
      expect(checkLayout(problem.instance, layout).violations).toEqual([]);
      expect(layout.unplaced).toEqual([]);
    }),
    { numRuns: 25 },
  ));

it('a piece of a full puzzle that is moved by 0.02 mm is refused', () =>
  fc.assert(
    fc.property(layoutPuzzles({ pieces: 8 }), fc.nat(), ({ problem, layout }, n) => {
      const k = n % layout.placements.length;
      const moved = layout.placements.map((p, i) =>
        i === k ? { ...p, motion: { ...p.motion, dx: p.motion.dx - 0.02 } } : p,
      );
      const report = checkLayout(problem.instance, { ...layout, placements: moved });
      // Where nothing is left free every piece meets another or the board's edge.
      fc.pre(problem.known?.proved === true);
      expect(report.valid).toBe(false);
    }),
    { numRuns: 25 },
  ));

it('refuses limits in which nothing can be cut', () => {
  expect(() => layoutPuzzles({ pieces: 0 })).toThrow(RangeError);
  expect(() => layoutPuzzles({ side: 50 })).toThrow(RangeError);
});
