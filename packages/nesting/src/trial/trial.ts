import { moveRing, ringBounds } from '@haunch/geometry';
import type { Layout, NestingRun, NestingStrategy } from '@haunch/model';
import { checkLayout } from '../check-layout.js';
import { apart, evenMeetings, type Met } from '../meetings.js';
import { compareScores, type Score, scoreLayout } from '../score-layout.js';
import { seededRandom } from '../seeded-random.js';
import { lowerBound } from './bounds.js';
import { commonArea } from './common-area.js';
import type { CurvePoint } from './curve.js';
import type { KnownBest, LayoutProblem } from './problem.js';

/** When a trial ends: after so many ticks, which can be repeated, or after so many seconds, which cannot. */
export type TrialBudget = { readonly ticks: number } | { readonly seconds: number };

/** A strategy to try and the options it runs with. */
export interface Contender {
  readonly strategy: NestingStrategy;
  readonly options: Readonly<Record<string, unknown>>;
}

/** What a trial is made of. `clock` gives seconds from any start; `stopped` is asked at every tick. */
export interface TrialSetting {
  readonly problem: LayoutProblem;
  readonly contender: Contender;
  readonly seed: number;
  readonly budget: TrialBudget;
  clock(): number;
  stopped?(): boolean;
}

/** What came of a trial. Lengths in the problem's unit; density after the literature: item area over strip area taken. */
export interface TrialResult {
  readonly problem: string;
  readonly strategy: string;
  readonly options: Readonly<Record<string, unknown>>;
  readonly seed: number;
  readonly budget: TrialBudget;
  /** Only counted budgets, not cut short, give the same layout again. */
  readonly reproducible: boolean;
  /** The referee found every placement right and every item is placed. */
  readonly valid: boolean;
  /** Why it is not valid: the first breach, the items without room, or what the strategy threw. */
  readonly fault?: string;
  /** Layouts that the referee refused. */
  readonly refused: number;
  readonly length?: number;
  readonly boards?: number;
  /** 0 … 1; undefined where nothing valid and complete was found. */
  readonly density?: number;
  /** The least distance between two items, by the referee, mm of the instance. */
  readonly leastGap: number | null;
  /** The greatest area two items share or one has outside, by other means than the referee's; see `commonArea`. */
  readonly commonArea?: number;
  readonly lowerBound: number;
  readonly lowerBoundReason: string;
  /** (result − bound) / bound. */
  readonly gap?: number;
  readonly known?: KnownBest;
  /** Every better layout, with the referee's time taken out of neither clock nor budget. */
  readonly curve: readonly CurvePoint[];
  readonly seconds: number;
  readonly ticks: number;
  /** How many explorers with seeds of their own had that budget each, where there were several: this is the best of them. */
  readonly explorers?: number;
}

/** The figure by which trials on one problem are compared; greater is better: density in %, or boards, negative. */
export const figureOf = (r: Pick<TrialResult, 'density' | 'boards' | 'length'>): number | undefined =>
  r.density === undefined ? undefined : r.length === undefined ? -r.boards! : r.density * 100;

interface Measured {
  readonly length?: number;
  readonly boards?: number;
  readonly density: number;
}

/** Names what found no room, the first few of many. */
const noRoomFor = (ids: readonly string[]): string =>
  `no room for ${ids.slice(0, 5).join(', ')}${ids.length > 5 ? ` and ${ids.length - 5} more` : ''}`;

/** How long, or on how many boards, a complete layout lies. */
export function measureLayout(problem: LayoutProblem, layout: Layout): Measured {
  const items = new Map(problem.instance.items.map((i) => [i.id, i]));
  if (problem.stripWidth !== undefined) {
    const boxes = layout.placements.map((p) => ringBounds(moveRing(p.motion, items.get(p.item)!.outline)));
    const taken = Math.max(...boxes.map((b) => b.maxX)) - Math.min(...boxes.map((b) => b.minX));
    // The grid is 0.0001 mm; what lies below it is the rounding of doubles.
    const length = Math.round((taken * 1e6) / problem.unit) / 1e6;
    return { length, density: problem.itemArea / (length * problem.stripWidth) };
  }
  const used = new Set(layout.placements.map((p) => p.board));
  const area = problem.instance.boards.reduce((sum, b) => {
    const box = ringBounds(b.outline);
    return used.has(b.id) ? sum + (box.maxX - box.minX) * (box.maxY - box.minY) : sum;
  }, 0);
  return { boards: used.size, density: (problem.itemArea * problem.unit ** 2) / area };
}

/**
 * Runs one strategy once on one problem. The budget starts before the strategy is called, so that its setting up
 * counts; the referee judges every layout, and only a valid one in which every item is placed counts. A strategy
 * that throws loses what it had not yet yielded, and its sentence is recorded. Deterministic but for the times when
 * the budget is counted. A layout in which a second look by other means finds an overlap does not count, and the record says so.
 */
export function runTrial(setting: TrialSetting): TrialDone {
  const steps = trialSteps({ ...setting, alone: true });
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** A trial's result, and the layout that it is about. */
export interface TrialDone {
  readonly result: TrialResult;
  readonly layout?: Layout;
}

/**
 * As `runTrial`, of one explorer among several: stops at each meeting with the best layout so far, and goes on with what
 * the best of the others has there, handed to `next`. `alone`: meets nobody.
 */
export function* trialSteps(
  setting: TrialSetting & { readonly alone?: boolean },
): Generator<Met, TrialDone, Layout | undefined> {
  const { problem, contender, seed, budget } = setting;
  const { instance } = problem;
  const start = setting.clock();
  const now = (): number => setting.clock() - start;
  let ticks = 0;
  let goes = true;
  let cutShort = false;
  const random = seededRandom(seed);
  const spent = (): number => Math.min(1, 'ticks' in budget ? ticks / budget.ticks : now() / budget.seconds);
  const meetings = setting.alone ? apart : evenMeetings(spent);
  const run: NestingRun = {
    random,
    tick: () => {
      if (!goes) return false;
      cutShort = setting.stopped?.() === true;
      goes = !cutShort && ('ticks' in budget ? ticks < budget.ticks : now() < budget.seconds);
      if (goes) ticks++;
      return goes;
    },
    spent,
    ...meetings.asked,
  };
  let best: { layout: Layout; score: Score; leastGap: number | null; measured: Measured } | undefined;
  let fault: string | undefined;
  let refused = 0;
  let failed = false;
  const curve: CurvePoint[] = [];
  try {
    for (const layout of contender.strategy.nest(instance, contender.options, run)) {
      const seconds = now();
      const report = checkLayout(instance, layout);
      if (!report.valid) {
        refused++;
        fault ??= report.violations[0]!.message;
      } else if (layout.unplaced.length > 0) {
        if (!best) fault = noRoomFor(layout.unplaced);
      } else {
        const score = scoreLayout(instance, layout);
        if (!best || compareScores(score, best.score) < 0) {
          const measured = measureLayout(problem, layout);
          best = { layout, score, leastGap: report.leastGap, measured };
          const figure = figureOf(measured)!;
          if (curve.length === 0 || figure > curve.at(-1)!.figure) curve.push({ seconds, ticks, figure });
        }
      }
      if (meetings.begun() && best) meetings.hear(yield { layout: best.layout, score: best.score });
      if (!run.tick()) break;
    }
  } catch (e) {
    failed = true;
    fault = `the strategy failed: ${e instanceof Error ? e.message : String(e)}`;
  }
  const seconds = now();
  const shared = best ? commonArea(instance, best.layout) : undefined;
  if (shared !== undefined && shared > 0) {
    fault = `the referee let a layout pass in which an area of ${shared} is taken twice or lies outside`;
    best = undefined;
    curve.length = 0;
  }
  const bound = lowerBound(problem);
  const reached = best?.measured.length ?? best?.measured.boards;
  const result: TrialResult = {
    problem: problem.name,
    strategy: contender.strategy.name,
    options: contender.options,
    seed,
    budget,
    reproducible: 'ticks' in budget && !cutShort,
    valid: best !== undefined,
    ...(best && refused === 0 && !failed ? {} : { fault: fault ?? 'no layout was offered' }),
    refused,
    ...(best?.measured ?? {}),
    leastGap: best?.leastGap ?? null,
    ...(shared === undefined ? {} : { commonArea: shared }),
    lowerBound: bound.value,
    lowerBoundReason: bound.reason,
    ...(reached === undefined ? {} : { gap: (reached - bound.value) / bound.value }),
    ...(problem.known ? { known: problem.known } : {}),
    curve,
    seconds,
    ticks,
  };
  return best ? { result, layout: best.layout } : { result };
}
