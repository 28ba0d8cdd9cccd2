import { ringArea, ringBounds } from '@haunch/geometry';
import type { Layout, NestingBoard, NestingRun, NestingStrategy } from '@haunch/model';
import { checkLayout, type RefereeReport, seededRandom } from '@haunch/nesting';
import { deepFreeze } from '../deep-freeze.js';
import { notPlain } from './plain-data.js';
import { INSTANCES, type SampleInstance } from './sample-instances.js';

/** How many ticks a trial has; a strategy that works by the piece uses a few for every item it places. */
export const BUDGET = 3000;
/** How many layouts are taken of a trial at most. */
const MOST_LAYOUTS = 60;
/** How many more times a strategy may ask once it has been told to stop. */
export const PATIENCE = 1000;

/** One instance given to a strategy. */
export interface StrategyTrial {
  readonly sample: SampleInstance;
  readonly layouts: readonly Layout[];
  readonly reports: readonly RefereeReport[];
  /** What it threw, or null. */
  readonly thrown: string | null;
  /** How often it asked `tick()` in all, and after the answer was no. */
  readonly asked: number;
  readonly askedAfterNo: number;
  /** Layouts that came after the answer was no. */
  readonly after: number;
  /** Whether it used chance, the clock or timers of its own. */
  readonly ownChance: readonly string[];
  /** What of a layout does not survive being sent, or null. */
  readonly notSent: string | null;
}

/** A strategy with all instances tried. */
export interface TriedStrategy {
  readonly strategy: NestingStrategy<unknown>;
  readonly trials: readonly StrategyTrial[];
  /** Tries one instance anew. */
  again(
    sample: SampleInstance,
    options?: { readonly seed?: number; readonly budget?: number },
  ): StrategyTrial;
}

/** An end to asking that no strategy can miss. */
class Enough extends Error {}

/** Watches the sources of chance and time that a strategy must not use, while `body` runs. */
function watched(body: () => void): string[] {
  const used = new Set<string>();
  const { random } = Math;
  const { now } = Date;
  Math.random = () => {
    used.add('Math.random');
    return random();
  };
  Date.now = () => {
    used.add('Date.now');
    return now();
  };
  try {
    body();
  } finally {
    Math.random = random;
    Date.now = now;
  }
  return [...used].sort();
}

function tryOne(
  strategy: NestingStrategy<unknown>,
  sample: SampleInstance,
  { seed = 1, budget = BUDGET } = {},
): StrategyTrial {
  const layouts: Layout[] = [];
  let thrown: string | null = null;
  let asked = 0;
  let askedAfterNo = 0;
  let after = 0;
  let notSent: string | null = null;
  const run: NestingRun = {
    random: seededRandom(seed),
    tick: () => {
      asked++;
      if (asked <= budget) return true;
      askedAfterNo++;
      if (askedAfterNo > PATIENCE) throw new Enough('it was told to stop, and asked on and on');
      return false;
    },
  };
  const ownChance = watched(() => {
    try {
      for (const layout of strategy.nest(sample.instance, deepFreeze(strategy.defaults), run)) {
        const fault = notPlain(layout);
        if (fault !== null && notSent === null) notSent = fault;
        // Judged as it is now: a strategy may go on to change it.
        layouts.push(structuredClone(layout));
        if (askedAfterNo > 0) after++;
        if (layouts.length >= MOST_LAYOUTS || after > 3) break;
      }
    } catch (e) {
      thrown = e instanceof Error ? `${e.name}: ${e.message}` : String(e);
    }
  });
  const reports = layouts.map((l): RefereeReport => {
    try {
      return checkLayout(sample.instance, l);
    } catch (e) {
      const message = e instanceof Error ? e.message : String(e);
      return {
        valid: false,
        violations: [
          { kind: 'not-finite', items: [], amount: 0, message: `the referee could not read it: ${message}` },
        ],
        leastGap: null,
        use: [],
      };
    }
  });
  return { sample, layouts, reports, thrown, asked, askedAfterNo, after, ownChance, notSent };
}

const isRectangle = ({ outline }: NestingBoard): boolean => {
  const { minX, minY, maxX, maxY } = ringBounds(outline);
  const box = (maxX - minX) * (maxY - minY);
  return Math.abs(Math.abs(ringArea(outline)) - box) < 1e-9 * box;
};

/** Whether a strategy says that it can handle an instance. */
export const handles = ({ supports }: NestingStrategy<unknown>, { instance }: SampleInstance): boolean =>
  (instance.boards.length < 2 || supports.severalBoards) &&
  (instance.boards.every((b) => b.keepOuts.length === 0) || supports.keepOuts) &&
  (instance.boards.every(isRectangle) || supports.irregularBoards) &&
  (instance.boards.every((b) => (b.defects ?? []).length === 0) || supports.defects === true);

/** Gives every instance that a strategy says it can handle to it. Never throws, whatever the strategy does. */
export function tryStrategy(strategy: NestingStrategy<unknown>): TriedStrategy {
  const again: TriedStrategy['again'] = (sample, options) => tryOne(strategy, sample, options);
  const able = strategy.supports === undefined ? INSTANCES : INSTANCES.filter((s) => handles(strategy, s));
  return { strategy, trials: able.map((s) => again(s)), again };
}
