import { readFileSync } from 'node:fs';
import { readMaster } from '@haunch/joinery';
import { describe, expect, it } from 'vitest';
import { equalKnock, fitExtras, matesTogether, widened } from './fit-extras.js';
import { JobFitSchema } from './job-schema.js';

const fit = (value: object) => JobFitSchema.parse(value);

describe('fitExtras', () => {
  it('counts four films a fit where slots are coated, two where they are masked', () => {
    expect(fitExtras(fit({ finish: { film: 0.05, slots: 'coated' } }), 18, 0.0035).thickness).toBe(0.2);
    expect(fitExtras(fit({ finish: { film: 0.05 } }), 18, 0.0035).thickness).toBe(0.1);
    expect(fitExtras(fit({}), 18, 0.0035)).toEqual({ thickness: 0, ends: 0, reasons: [] });
  });

  it('takes sanding off both faces', () => {
    expect(fitExtras(fit({ sanding: 0.05 }), 18, 0.0035).thickness).toBe(-0.1);
  });

  it('foretells swelling: 18 mm from 7 to 10 % at 0.35 % for each per cent is 0.189 mm', () => {
    expect(fitExtras(fit({ moisture: { shop: 7, home: 10 } }), 18, 0.0035).thickness).toBeCloseTo(0.189, 6);
  });

  it('moves the window along', () => {
    expect(widened({ wanted: 0.1, window: [0.05, 0.15] }, 0.2)).toEqual({
      wanted: 0.3,
      window: [0.25, 0.35],
    });
  });
});

describe('equal knock', () => {
  it('leaves a joint that goes home alone as it is, and gives six together a sixth of the squeeze', () => {
    const snug = { wanted: 0.1, window: [0.05, 0.15] as const };
    expect(equalKnock(snug, 1).wanted).toBe(0.1);
    expect(0.15 - equalKnock(snug, 6).wanted).toBeCloseTo((0.15 - 0.1) / 6, 4);
  });

  it('knows which of the sideboard’s mates go home in one move', () => {
    const text = readFileSync(
      new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
      'utf8',
    );
    const master = readMaster(text, 'm.json');
    if (!master.ok) throw new Error('not read');
    const together = matesTogether(master.value);
    expect(together.size).toBe(master.value.mates.length);
    expect(Math.max(...together.values())).toBeGreaterThan(2);
  });
});
