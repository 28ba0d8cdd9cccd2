import type { NestingInstance } from '@haunch/model';
import { constructive, overlapMinimising, runNesting, seededRun } from '@haunch/nesting';
import { areaBound, furnitureInstance, sideboardQuestion } from './furniture.js';

const seconds = (run: () => void): number => {
  const from = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1e6;
};

/** Processor time of the first whole layout of furniture parts. */
export const firstLayoutSeconds = (count: number): number => {
  const instance = furnitureInstance(count);
  return seconds(() => runNesting(constructive, instance, constructive.defaults, seededRun(1, 1)));
};

/** Processor time of the sideboard's layout with the default budget of a job, cold. */
export const sideboardLayoutSeconds = (): number => {
  const instance = sideboardQuestion();
  return seconds(() => {
    const { layout } = runNesting(constructive, instance, constructive.defaults, seededRun(1, 4000));
    const options = { ...overlapMinimising.defaults, addedArea: 0.01, from: layout };
    runNesting(overlapMinimising, instance, options, seededRun(1, 1000));
  });
};

/** Sheets that furniture parts take, beside their area bound, and the processor time. */
export interface ManyParts {
  readonly sheets: number;
  readonly bound: number;
  readonly unplaced: number;
  readonly seconds: number;
}

/** Lays many furniture parts on many sheets: a constructive start, then overlap minimising. */
export function manyParts(count: number, ticks: number, moves: number): ManyParts {
  const instance = furnitureInstance(count);
  let layout = runNesting(constructive, instance, constructive.defaults, seededRun(1, 1)).layout;
  const took = seconds(() => {
    layout = runNesting(constructive, instance, constructive.defaults, seededRun(1, ticks)).layout;
    const options = { ...overlapMinimising.defaults, addedArea: 0.02, from: layout };
    layout = runNesting(overlapMinimising, instance, options, seededRun(1, moves)).layout;
  });
  return {
    sheets: new Set(layout.placements.map((p) => p.board)).size,
    bound: areaBound(instance),
    unplaced: layout.unplaced.length,
    seconds: took,
  };
}

/** How the search grows with the number of parts. */
export interface Growth {
  readonly parts: number;
  readonly movesPerSecond: number;
  readonly megabytes: number;
}

/** Moves a second and memory, from a start that is there; tables included. */
export function layoutGrowth(parts: number, moves: number): Growth {
  const instance: NestingInstance = furnitureInstance(parts);
  const from = runNesting(constructive, instance, constructive.defaults, seededRun(1, 1)).layout;
  let used = 0;
  const run = seededRun(1, moves);
  const counted = {
    random: () => run.random(),
    spent: () => run.spent!(),
    tick: () => {
      used++;
      return run.tick();
    },
  };
  const options = { ...overlapMinimising.defaults, addedArea: 0.02, from };
  const took = seconds(() => runNesting(overlapMinimising, instance, options, counted));
  return { parts, movesPerSecond: used / took, megabytes: process.memoryUsage().rss / 1e6 };
}
