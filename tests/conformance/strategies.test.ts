import { constructive, overlapMinimising } from '@haunch/nesting';
import { strategyCases } from '@haunch/testkit';
import { describe, it } from 'vitest';

describe('the constructive strategy keeps every rule of the kit', () => {
  for (const c of strategyCases(constructive)) it(c.name, c.run);
});

describe('the overlap-minimising strategy keeps every rule of the kit', () => {
  for (const c of strategyCases(overlapMinimising)) it(c.name, c.run);
});
