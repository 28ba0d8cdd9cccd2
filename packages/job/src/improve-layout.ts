import {
  fail,
  type Layout,
  type NestingInstance,
  type NestingStrategy,
  type Outcome,
  ok,
} from '@haunch/model';
import {
  checkLayout,
  compareScores,
  constructive,
  instanceProblems,
  type RefereeReport,
  runNesting,
  type Score,
  scoreLayout,
  seededRandom,
  ticks,
} from '@haunch/nesting';
import { improveStocks } from './improve-stocks.js';
import type { Job } from './job.js';
import type { JobPlacement } from './job-schema.js';
import { layoutQuestion, withoutRoom } from './lay-job.js';
import { withLikeMates } from './like-thickness.js';
import type { Pieces } from './load-pieces.js';
import { around, motionOfPlacement, placedByHand, together, writtenLayout } from './placed-by-hand.js';

/** A layout on the way, better than all before it. */
export interface BetterLayout {
  /** As a job file has it, by part id. */
  readonly placements: Readonly<Record<string, JobPlacement>>;
  /** Area that found no room and what is taken of the sheets, mm². */
  readonly score: Pick<Score, 'unplacedArea' | 'extent'>;
  /** How many better ones there were, this one with them. */
  readonly number: number;
}

/** How long and how openly a layout is looked for. */
export interface ImproveOptions {
  /** Counted work: half of it as `lay.effort`, which begins as `layJob` does with that, and then half as `lay.improve`. */
  readonly effort: number;
  /** Told of every layout that the referee lets pass and that is better than all before; the work waits until it returns. */
  readonly better?: (layout: BetterLayout) => void;
  readonly stop?: () => boolean;
}

/** Share of the effort for orders of parts; the rest goes into moving parts that may overlap for a while, which goes on from there. */
const ORDERS = 0.5;

/** A strategy that tells of what it finds while it looks. */
function telling<O>(
  strategy: NestingStrategy<O>,
  instance: NestingInstance,
  tell: (layout: Layout, score: Score) => void,
): NestingStrategy<O> {
  return {
    ...strategy,
    *nest(asked, options, run) {
      let best: Score | null = null;
      for (const layout of strategy.nest(asked, options, run)) {
        const score = scoreLayout(instance, layout);
        if ((best === null || compareScores(score, best) < 0) && checkLayout(instance, layout).valid) {
          best = score;
          tell(layout, score);
        }
        yield layout;
      }
    },
  };
}

/**
 * Looks longer for a layout than the job's own effort, round the parts that a person has laid, and tells of every better one. What was found last
 * can be written into the job file as `lay.placements`, and is then the layout that `layJob` makes: stopped by a clock or by hand, it is
 * made again all the same. Fails by name where a part has no room; null where it was stopped before every part had some.
 */
export function improveLayout(
  job: Job,
  pieces: Pieces,
  { effort, better, stop = () => false }: ImproveOptions,
): Outcome<Readonly<Record<string, JobPlacement>> | null> {
  const asked = layoutQuestion(job, pieces);
  if (!asked.ok) return asked;
  const { first, instance, roomy } = asked.value;
  const problems = instanceProblems(roomy);
  if (problems.some((p) => p.level === 'error')) return fail(...problems);
  const fixed = placedByHand(job, first.parts, instance);
  if (!fixed.ok) return fixed;
  const rest = around(roomy, fixed.value);
  const written = (layout: Layout) => writtenLayout(instance, together(instance, fixed.value, layout));
  let number = 0;
  const tell = (layout: Layout, { unplacedArea, extent }: Score): void =>
    better?.({ placements: written(layout), score: { unplacedArea, extent }, number: ++number });
  const { seed } = job.settings;
  const orders = Math.ceil(effort * ORDERS);
  const budget = ticks(orders);
  const run = { random: seededRandom(seed), tick: () => !stop() && budget() };
  const started = runNesting(telling(constructive, rest, tell), rest, constructive.defaults, run);
  if (!started.report.valid) return ok(null);
  const { layout } = improveStocks(rest, started.layout, {
    seed,
    moves: effort - orders,
    found: (step) => tell(step.layout, step.score),
    enough: stop,
  });
  if (!checkLayout(rest, layout).valid) return ok(null);
  if (layout.unplaced.length > 0)
    return stop() ? ok(null) : fail(...withoutRoom(job, pieces, layout.unplaced));
  const { layout: like } = withLikeMates(
    {
      job,
      master: pieces.master,
      parts: first.parts,
      instance,
      open: rest,
      whole: (l) => together(instance, fixed.value, l),
    },
    layout,
  );
  return ok(written(checkLayout(rest, like).valid ? like : layout), problems);
}

/**
 * What the referee says of parts laid so, all others left aside: of the parts as they are laid out, before each is fitted to the spot where it
 * lies. `make` looks again after that.
 */
export function judgePlacements(
  instance: NestingInstance,
  placements: Readonly<Record<string, JobPlacement>>,
): RefereeReport {
  const items = instance.items.filter((i) => Object.hasOwn(placements, i.id));
  return checkLayout(
    { ...instance, items },
    {
      kind: 'layout',
      placements: items.map((i) => ({
        item: i.id,
        board: placements[i.id]!.board,
        motion: motionOfPlacement(i, placements[i.id]!),
      })),
      unplaced: [],
    },
  );
}
