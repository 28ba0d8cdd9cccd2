import { rectangleRing, STAY } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingStrategy } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { runNesting } from './run-nesting.js';
import { seededRun } from './ticks.js';

const instance: NestingInstance = {
  items: ['A', 'B'].map((id) => ({
    id,
    outline: rectangleRing(0, 0, 100, 100),
    turns: [0],
    boards: ['sheet'],
  })),
  boards: [{ id: 'sheet', outline: rectangleRing(0, 0, 1000, 100), keepOuts: [] }],
  spacing: 0,
  edgeMargin: 0,
};
const put = (...x: number[]): Layout => ({
  kind: 'layout',
  placements: x.map((dx, i) => ({ item: 'AB'[i]!, board: 'sheet', motion: { ...STAY, dx } })),
  unplaced: ['A', 'B'].slice(x.length),
});
const strategy = (nest: NestingStrategy<null>['nest']): NestingStrategy<null> => ({
  name: 'stand-in',
  contract: 1,
  supports: { severalBoards: false, keepOuts: false, irregularBoards: false },
  defaults: null,
  nest,
});
const offers = (...layouts: readonly Layout[]) => strategy(() => layouts);

describe('runNesting', () => {
  it('keeps the best valid layout, whatever comes after', () => {
    const result = runNesting(
      offers(put(0), put(0, 500), put(0, 100), put(0, 300)),
      instance,
      null,
      seededRun(1, 99),
    );
    expect(result.layout).toEqual(put(0, 100));
    expect(result.score).toMatchObject({ unplacedArea: 0, extent: 20_000 });
    expect(result.improvements).toBe(3);
    expect(result.diagnostics).toEqual([]);
  });

  it('reports a strategy that cheats and does not use its layout', () => {
    const result = runNesting(offers(put(0, 500), put(0, 99.9999)), instance, null, seededRun(1, 99));
    expect(result.layout).toEqual(put(0, 500));
    expect(result.report.valid).toBe(true);
    expect(result.diagnostics.map((d) => d.code)).toEqual(['lay/invalid-layout']);
    expect(result.diagnostics[0]!.message).toContain('stand-in');
  });

  it('has everything unplaced when no layout is valid', () => {
    const result = runNesting(offers(put(0, 0)), instance, null, seededRun(1, 99));
    expect(result).toMatchObject({ improvements: 0, layout: { placements: [], unplaced: ['A', 'B'] } });
    expect(result.score.unplacedArea).toBe(20_000);
    expect(result.report.valid).toBe(true);
  });

  it('stops a strategy that yields for ever and never asks for a tick', () => {
    let asked = 0;
    const endless = strategy(function* () {
      for (;;) {
        asked++;
        yield put(0, 100);
      }
    });
    runNesting(endless, instance, null, seededRun(1, 5));
    expect(asked).toBe(6);
  });

  it('asks for no more once a tick was refused, but judges what is offered then', () => {
    let after = 0;
    const stubborn = strategy(function* (_, __, run) {
      yield put(0);
      while (run.tick()) {}
      yield put(0, 100);
      after++;
      yield put(0, 100);
    });
    expect(runNesting(stubborn, instance, null, seededRun(1, 9)).layout).toEqual(put(0, 100));
    expect(after).toBe(0);
  });
});
