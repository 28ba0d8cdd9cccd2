import { describe, expect, it } from 'vitest';
import { dryAssemble } from '../src/index.js';
import { demo } from './demo.js';
import { spoiled, ZOO } from './dryfit-zoo.js';

describe('a spoiled piece', () => {
  it('is found among sound ones: the sideboard itself passes', () => {
    expect(dryAssemble(demo).ok).toBe(true);
  });

  for (const animal of ZOO)
    it(`is refused by its own name: ${animal.name}`, () => {
      const outcome = dryAssemble(spoiled(animal), { order: false });
      expect(outcome.ok).toBe(false);
      const said = outcome.diagnostics
        .filter((d) => d.level === 'error')
        .map((d) => `${d.code} ${Object.values(d.locus).join(' ')} ${d.message}`);
      const codes = [...new Set(outcome.diagnostics.map((d) => d.code))];
      expect(said.join('\n')).toContain(animal.code);
      expect(codes).toEqual([animal.code]);
      for (const name of animal.names) expect(said.join('\n')).toContain(name);
    });
});
