import type { Layout, NestingInstance } from '@haunch/model';
import {
  checkLayout,
  constructive,
  evaluations,
  overlapMinimising,
  runNesting,
  seededRun,
} from '@haunch/nesting';
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

/** The sideboard's layout with the default budget of a job, cold: processor time, and how much found no room. */
export const sideboardLayout = (): {
  readonly seconds: number;
  readonly unplaced: number;
  readonly boards: number;
} => {
  const instance = sideboardQuestion();
  let layout: Layout | undefined;
  const took = seconds(() => {
    const start = runNesting(constructive, instance, constructive.defaults, seededRun(1, 4000));
    const options = { ...overlapMinimising.defaults, addedArea: 0.01, from: start.layout };
    layout = runNesting(overlapMinimising, instance, options, seededRun(1, 1000)).layout;
  });
  return {
    seconds: took,
    unplaced: layout!.unplaced.length,
    boards: new Set(layout!.placements.map((p) => p.board)).size,
  };
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

/** How layouts grow with the number of parts: processor time and memory of a process that does nothing else. */
export interface Growth {
  readonly parts: number;
  /** The first whole layout, s. */
  readonly first: number;
  /** The referee's look at it, s. */
  readonly judged: number;
  /** Moves a second of the overlap-minimising search; the tables that they need are made within. */
  readonly movesPerSecond: number;
  /** Places that were held against the parts near them, a second. */
  readonly evaluationsPerSecond: number;
  readonly megabytes: number;
}

/** Growth at one number of parts, in this process. */
export function layoutGrowth(parts: number, moves: number): Growth {
  const instance: NestingInstance = furnitureInstance(parts);
  let from: Layout | undefined;
  const first = seconds(() => {
    [from] = constructive.nest(instance, constructive.defaults, seededRun(1, 1));
  });
  const judged = seconds(() => checkLayout(instance, from!));
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
  const options = { ...overlapMinimising.defaults, addedArea: 0.02, from: from! };
  const before = evaluations();
  const took = seconds(() => {
    for (const _ of overlapMinimising.nest(instance, options, counted));
  });
  return {
    parts,
    first,
    judged,
    movesPerSecond: used / took,
    evaluationsPerSecond: (evaluations() - before) / took,
    megabytes: process.resourceUsage().maxRSS / 1000,
  };
}
