import type { Layout } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { teamOf } from './team.js';

const met = (extent: number) => ({
  layout: { kind: 'layout', placements: [], unplaced: [`${extent}`] } as Layout,
  score: { unplacedArea: 0, extent, remnant: 0 },
});
const nameOf = (layout: Layout | undefined): string | undefined => layout?.unplaced[0];

describe('teamOf', () => {
  it('lets nobody go on before all have met or ended, and tells each the best of the others', () => {
    const told: (string | undefined)[][] = [[], [], []];
    const team = teamOf(3, true);
    const meet = (k: number, extent: number) => team.meet(k, met(extent), (h) => told[k]!.push(nameOf(h)));
    meet(2, 30);
    meet(0, 10);
    expect(told).toEqual([[], [], []]);
    meet(1, 20);
    expect(told).toEqual([['20'], ['10'], ['10']]);
    meet(0, 9);
    team.leave(2);
    expect(told[0]).toEqual(['20']);
    // What one had when it ended still counts.
    meet(1, 40);
    expect(told).toEqual([['20', '30'], ['10', '9'], ['10']]);
  });

  it('does not wait for one that ended while it was waited for itself', () => {
    const told: (string | undefined)[] = [];
    const team = teamOf(2, true);
    team.meet(0, met(1), () => told.push('cut off'));
    team.leave(0);
    expect(told).toEqual([]);
    team.meet(1, met(2), (h) => told.push(nameOf(h)));
    expect(told).toEqual(['1']);
  });

  it('lets those go on that wait for one that will never begin', () => {
    const told: (string | undefined)[] = [];
    const team = teamOf(2, true);
    team.meet(0, met(1), (h) => told.push(nameOf(h) ?? 'nothing'));
    expect(told).toEqual([]);
    team.disband();
    expect(told).toEqual(['nothing']);
    team.meet(0, met(1), (h) => told.push(nameOf(h) ?? 'nothing'));
    expect(told).toEqual(['nothing', 'nothing']);
  });

  it('tells at once what the others last had where time is what counts', () => {
    const told: (string | undefined)[] = [];
    const team = teamOf(2, false);
    team.meet(0, met(5), (h) => told.push(nameOf(h)));
    team.meet(1, met(4), (h) => told.push(nameOf(h)));
    team.meet(0, met(3), (h) => told.push(nameOf(h)));
    expect(told).toEqual([undefined, '5', '4']);
  });
});
