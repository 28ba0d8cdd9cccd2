import { expect, it } from 'vitest';
import { leanOption } from './answer-option.js';

it('takes the angles at which parts lean, in degrees, and refuses what is none', () => {
  expect(leanOption('P-2=75', leanOption('A=b=60.5°'))).toEqual({ 'A=b': 60.5, 'P-2': 75 });
  for (const wrong of ['P-2', '=75', 'P-2=', 'P-2=steep', 'P-2=1e999'])
    expect(() => leanOption(wrong)).toThrow(/PART=DEGREES/);
});
