import { expect, it } from 'vitest';
import { speedsOf } from './speeds.js';

const machine = { maxRpm: 24000, maxFeed: 20000 };

// Feed F = z·f_z·n (handbook formula; reference value C1): 18000·2·0.2 = 7200 mm/min.
it('feeds by teeth, chip load and speed, and ramps at half of it', () => {
  expect(speedsOf({ rpm: 18000, flutes: 2, chipLoad: 0.2 }, machine)).toMatchObject({
    rpm: 18000,
    cut: 7200,
    ramp: 3600,
  });
});

it('never exceeds the machine', () => {
  const s = speedsOf({ rpm: 30000, flutes: 3, chipLoad: 0.5 }, { maxRpm: 18000, maxFeed: 6000 });
  expect(s).toEqual({ rpm: 18000, cut: 6000, ramp: 3000, air: 6000 });
});
