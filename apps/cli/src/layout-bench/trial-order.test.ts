import { describe, expect, it } from 'vitest';
import { budgetsOption, namesOption, seedsOption } from './trial-order.js';

describe('what is listed for a bench of layouts', () => {
  it('counts once, however often it is named: a trial run twice would narrow its interval', () => {
    expect(seedsOption('3,1-3')).toEqual([1, 2, 3]);
    expect(budgetsOption('5s,300,5s,300.0,5')).toEqual([{ seconds: 5 }, { ticks: 300 }, { ticks: 5 }]);
    expect(namesOption('a, b,a,,')).toEqual(['a', 'b']);
  });

  it.each(['', '0', '-5', '1.5', 'x', '5m', '300,'])('refuses the budget %j', (said) => {
    expect(() => budgetsOption(said)).toThrow('is no budget');
  });

  it.each(['', '3-1', '1-', '-1', 'a'])('refuses the seeds %j', (said) => {
    expect(() => seedsOption(said)).toThrow('is no list of seeds');
  });
});
