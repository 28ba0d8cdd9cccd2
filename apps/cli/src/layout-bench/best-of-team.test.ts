import type { TrialResult } from '@haunch/nesting/trial';
import { describe, expect, it } from 'vitest';
import { bestOfTeam } from './best-of-team.js';
import type { Done } from './crew.js';
import type { TrialOrder } from './trial-order.js';

const order = (explorer: number, seed = 1) => ({ seed, explorer, explorers: 2 }) as TrialOrder;
const done = (density: number, reproducible = true): Done => ({
  result: { density, length: 1, reproducible } as TrialResult,
});

describe('what several explorers came to', () => {
  it('is the best of them once all have ended, each trial by itself', () => {
    const teams = new Map<string, Done[]>();
    expect(bestOfTeam(teams, order(1), done(0.8))).toBeUndefined();
    expect(bestOfTeam(teams, order(1, 2), done(0.9))).toBeUndefined();
    expect(bestOfTeam(teams, order(0), done(0.7))).toEqual(done(0.8));
  });

  it.each([
    ['was stopped', done(0.7, false)],
    ['failed', { failure: 'its thread died' }],
  ] as const)('cannot be repeated where another one %s', (_, other) => {
    const teams = new Map<string, Done[]>();
    bestOfTeam(teams, order(0), other);
    expect(bestOfTeam(teams, order(1), done(0.8))).toEqual(done(0.8, false));
  });

  it('is a failure where all failed', () => {
    const teams = new Map<string, Done[]>();
    bestOfTeam(teams, order(0), { failure: 'one' });
    expect(bestOfTeam(teams, order(1), { failure: 'two' })).toEqual({ failure: 'one' });
  });
});
