import type { RemadeFit } from '@haunch/job';
import { expect, it } from 'vitest';
import { remadeFitLines } from './remade-fit-lines.js';

it('says that a loose part is in no joint, instead of a heading with no rows', () => {
  expect(remadeFitLines([])).toEqual(['  it is in no joint: nothing that was cut already binds it']);
  const fit = {
    joint: 'P01',
    partner: 'BR',
    kind: 'thickness',
    thickness: 17.7,
    clearance: [0.08, 0.12],
    window: [0.05, 0.15],
  } as unknown as RemadeFit;
  const lines = remadeFitLines([fit]);
  expect(lines).toHaveLength(2);
  expect(lines[1]).toContain('17.700 mm');
  expect(lines[1]).toContain('0.080 … 0.120 mm   0.050 … 0.150 mm');
});
