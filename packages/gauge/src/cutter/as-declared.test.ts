import fc from 'fast-check';
import { expect, it } from 'vitest';
import { cutterAsDeclared } from './as-declared.js';

it('says that a cutter is not as declared where twice the uncertainty cannot explain it, and there alone', () => {
  const apart = fc.integer({ min: -200, max: 200 }).map((n) => n / 1000);
  fc.assert(
    fc.property(apart, fc.integer({ min: 1, max: 40 }), (by, thousandths) => {
      const u = thousandths / 1000;
      fc.pre(Math.abs(Math.abs(by) - 2 * u - 0.005) > 1e-6);
      const said = cutterAsDeclared({ id: 'router-6', diameter: 6 }, { diameter: 6 + by, u }, 'ladder');
      expect(said.length).toBe(Math.abs(by) > 2 * u + 0.005 ? 1 : 0);
    }),
  );
  const [d] = cutterAsDeclared({ id: 'router-6', diameter: 5.97 }, { diameter: 5.91, u: 0.011 }, 'book');
  expect([d!.code, d!.level]).toEqual(['gauge/cutter-differs', 'warning']);
  expect(d!.message).toBe(
    "cutter 'router-6' is 5.91 mm ± 0.022 mm by the day book, and the job has 5.97 mm: 0.06 mm apart",
  );
});
