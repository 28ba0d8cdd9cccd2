import type { Diagnostic, Layout, NestingInstance, NestingRun, NestingStrategy } from '@haunch/model';
import { checkLayout, type RefereeReport } from './check-layout.js';
import { invalidLayout } from './diagnostics.js';
import { apart, type Meetings, type Met } from './meetings.js';
import { compareScores, type Score, scoreLayout } from './score-layout.js';

/** What a run came to. */
export interface NestingResult {
  /** The best layout that the referee found valid; everything unplaced where there was none. */
  readonly layout: Layout;
  readonly report: RefereeReport;
  readonly score: Score;
  /** How many valid layouts were better than all before them. */
  readonly improvements: number;
  /** One warning for every layout that the referee refused. */
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Runs a strategy and lets the referee judge each layout it yields; keeps the best valid one. A layout that breaks
 * a rule is reported and never used. Every layout received costs one tick, so that a strategy which never asks
 * for one is stopped too; once `tick()` has said no, the layout in hand is judged and no more are asked for.
 * The same strategy, instance, options and run give the same result. `better` is told of each layout that is kept.
 * @throws RangeError when spacing or edge margin is negative or not finite; whatever the strategy throws.
 */
export function runNesting<Options>(
  strategy: NestingStrategy<Options>,
  instance: NestingInstance,
  options: Options,
  run: NestingRun,
  better: (layout: Layout, score: Score) => void = () => {},
): NestingResult {
  const steps = nestingSteps(strategy, instance, options, run, apart, better);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/**
 * As `runNesting`, of one explorer among several: stops at each meeting with the best layout so far, and goes on with
 * what the best of the others has there, handed to `next`.
 */
export function* nestingSteps<Options>(
  strategy: NestingStrategy<Options>,
  instance: NestingInstance,
  options: Options,
  run: NestingRun,
  meetings: Meetings,
  better: (layout: Layout, score: Score) => void = () => {},
): Generator<Met, NestingResult, Layout | undefined> {
  let layout: Layout = { kind: 'layout', placements: [], unplaced: instance.items.map((i) => i.id) };
  let report = checkLayout(instance, layout);
  let score = scoreLayout(instance, layout);
  let improvements = 0;
  const diagnostics: Diagnostic[] = [];
  let goes = true;
  const tick = (): boolean => {
    goes &&= run.tick();
    return goes;
  };
  const watched: NestingRun = {
    random: () => run.random(),
    tick,
    ...(run.spent ? { spent: () => run.spent!() } : {}),
    ...meetings.asked,
  };
  for (const offered of strategy.nest(instance, options, watched)) {
    const judged = checkLayout(instance, offered);
    if (!judged.valid)
      diagnostics.push(invalidLayout(strategy.name, judged.violations.length, judged.violations[0]!.message));
    else {
      const reached = scoreLayout(instance, offered);
      if (improvements === 0 || compareScores(reached, score) < 0) {
        [layout, report, score] = [offered, judged, reached];
        improvements++;
        better(layout, score);
      }
    }
    if (meetings.begun()) meetings.hear(yield { layout, score });
    if (!tick()) break;
  }
  return { layout, report, score, improvements, diagnostics };
}
