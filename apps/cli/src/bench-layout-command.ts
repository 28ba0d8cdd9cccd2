import { appendFileSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, resolve } from 'node:path';
import type { Layout } from '@haunch/model';
import { overlapMinimising } from '@haunch/nesting';
import {
  budgetText,
  caseTable,
  compareTrials,
  drawLayout,
  duelTable,
  figureOf,
  goalTable,
  LAYOUT_GOALS,
  type ReportedTrial,
  reportPage,
  sourceLines,
  type TrialBudget,
  type TrialResult,
} from '@haunch/nesting/trial';
import { Command } from 'commander';
import { BAD_INPUT, DONE, REFUSED, say, UsageError } from './exit.js';
import { writeOutput } from './files.js';
import { bestOfTeam } from './layout-bench/best-of-team.js';
import { contenderNamed, ownStrategies } from './layout-bench/contender.js';
import { crewOf, type Done } from './layout-bench/crew.js';
import { type FoundProblem, findProblems } from './layout-bench/problem-folder.js';
import { againCommand, csvOf, layoutFile, layoutText, recordLine, workplace } from './layout-bench/record.js';
import { budgetsOption, namesOption, seedsOption, type TrialOrder } from './layout-bench/trial-order.js';

interface BenchLayoutOptions {
  readonly strategy: readonly string[];
  readonly seeds: readonly number[];
  readonly budget: readonly TrialBudget[];
  readonly only: readonly string[];
  readonly out: string;
  readonly threads: number;
  readonly explorers: number;
  readonly replace?: boolean;
  readonly goals?: boolean;
}

/** The folder for results: new or empty, or one of an earlier bench that may be replaced. */
function clearFolder(out: string, replace: boolean): void {
  const there = existsSync(out) ? readdirSync(out) : [];
  if (there.length > 0 && !(replace && there.includes('trials.jsonl')))
    throw new UsageError(
      `${out} is not empty${there.includes('trials.jsonl') ? '; --replace writes over an earlier bench' : ' and holds no bench of layouts; choose another folder'}`,
    );
  try {
    for (const name of ['trials.jsonl', 'trials.csv', 'tables.md', 'report.html', 'layouts'])
      rmSync(join(out, name), { recursive: true, force: true });
    mkdirSync(out, { recursive: true });
  } catch (e) {
    throw new UsageError(`${out} cannot be written: ${(e as Error).message}`);
  }
}

const failed = (order: TrialOrder, found: FoundProblem, why: string): TrialResult => ({
  problem: found.problem.name,
  strategy: order.strategy,
  options: {},
  seed: order.seed,
  budget: order.budget,
  reproducible: false,
  valid: false,
  fault: why,
  refused: 0,
  leastGap: null,
  lowerBound: 0,
  lowerBoundReason: 'area',
  curve: [],
  seconds: 0,
  ticks: 0,
});

/** One line on how a trial ended. */
function tell(n: number, of: number, r: TrialResult): void {
  const reached =
    r.density === undefined
      ? `no valid complete layout: ${r.fault ?? ''}`
      : r.length === undefined
        ? `${r.boards} boards`
        : `${(r.density * 100).toFixed(2)} %`;
  process.stderr.write(
    `${n}/${of}  ${r.problem}, ${r.strategy}, seed ${r.seed}, ${budgetText(r.budget)}: ${reached}\n`,
  );
}

async function benchLayout(
  folder: string,
  o: BenchLayoutOptions,
  exit: (code: number) => void,
): Promise<void> {
  if (o.threads < o.explorers)
    throw new UsageError(
      `--explorers ${o.explorers} run side by side and share what they find: give --threads ${o.explorers}, or more`,
    );
  const base = resolve(folder);
  const { found, diagnostics } = findProblems(base, o.only);
  say(diagnostics);
  // Loaded once here, so that a name that is none is refused before anything runs.
  for (const s of o.strategy) await contenderNamed(s, process.cwd());
  clearFolder(o.out, o.replace === true);
  const orders: TrialOrder[] = found.flatMap((f) =>
    o.strategy.flatMap((strategy) =>
      o.budget.flatMap((budget) =>
        o.seeds.flatMap((seed) =>
          Array.from({ length: o.explorers }, (_, explorer) => ({
            folder: base,
            file: f.file,
            index: f.index,
            strategy,
            from: process.cwd(),
            seed,
            budget,
            explorer,
            explorers: o.explorers,
            meets: o.explorers > 1,
          })),
        ),
      ),
    ),
  );
  const place = workplace(o.threads);
  const at = (order: TrialOrder): FoundProblem =>
    found.find((f) => f.file === order.file && f.index === order.index)!;
  const trials: ReportedTrial[] = [];
  const crew = crewOf(o.threads, new URL('./layout-worker.js', import.meta.url));
  let stopped = false;
  const onInterrupt = (): void => {
    stopped = true;
    process.stderr.write('stopping: what has ended is written\n');
    crew.stop();
  };
  process.once('SIGINT', onInterrupt);
  const teams = new Map<string, Done[]>();
  const ended = (order: TrialOrder, own: Done): void => {
    const f = at(order);
    const done = bestOfTeam(teams, order, own);
    if (!done) return;
    const single = 'failure' in done ? failed(order, f, done.failure) : done.result;
    const result: TrialResult =
      order.explorers === 1 ? single : { ...single, seed: order.seed, explorers: order.explorers };
    const layout: Layout | undefined = 'failure' in done ? undefined : done.layout;
    if (layout) writeOutput(join(o.out, layoutFile(result)), layoutText(f, result, layout), true);
    const line = recordLine(
      result,
      layout,
      f,
      place,
      new Date().toISOString(),
      againCommand(folder, result, order.strategy),
    );
    appendFileSync(join(o.out, 'trials.jsonl'), `${line}\n`);
    trials.push({ problem: f.problem, result, ...(layout ? { layout } : {}) });
    tell(trials.length, orders.length / o.explorers, result);
  };
  await crew.run(orders, ended);
  process.off('SIGINT', onInterrupt);
  if (trials.length > 0) writeResults(folder, o, trials, place);
  const broken = trials.some((t) => !t.result.valid || t.result.fault !== undefined);
  exit(diagnostics.length > 0 ? BAD_INPUT : stopped || broken ? REFUSED : DONE);
}

function writeResults(
  folder: string,
  o: BenchLayoutOptions,
  ended: readonly ReportedTrial[],
  place: ReturnType<typeof workplace>,
): void {
  const key = ({ result: r }: ReportedTrial): string =>
    [r.problem, r.strategy, budgetText(r.budget)].join('\n');
  const trials = [...ended].sort((a, b) =>
    key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : a.result.seed - b.result.seed,
  );
  const comparison = compareTrials(trials.map((t) => t.result));
  const lines = [
    ...caseTable(comparison),
    ...(comparison.duels.length > 0 ? ['', ...duelTable(comparison)] : []),
    '',
    ...sourceLines(comparison),
    ...(o.goals ? goalLines(trials, o) : []),
  ];
  const about = [
    `${place.cpu}, ${place.cores} cores, ${place.threads} trials at once; Node ${place.node} on ${place.platform}; Haunch ${place.haunch}`,
    `seeds ${o.seeds.join(', ')}${o.explorers === 1 ? '' : `, ${o.explorers} explorers each`}; budgets ${o.budget.map(budgetText).join(', ')}; setting up counts; folder ${folder}`,
    o.budget.every((b) => 'ticks' in b)
      ? 'Budgets are counted: the same command gives the same layouts.'
      : 'Budgets in seconds depend on the machine and its load: they cannot be repeated exactly.',
  ];
  writeOutput(join(o.out, 'trials.csv'), csvOf(trials.map((t) => t.result)), true);
  writeOutput(join(o.out, 'tables.md'), `${lines.join('\n')}\n`, true);
  const facts = { title: 'Layouts compared', about };
  writeOutput(join(o.out, 'report.html'), reportPage(trials, comparison, facts), true);
  for (const best of bestOfEach(trials, key)) {
    const file = layoutFile(best.result).replace(/\.json$/, '.svg');
    const title = `${best.problem.name}, ${best.result.strategy}, seed ${best.result.seed}`;
    writeOutput(join(o.out, file), drawLayout(best.problem, best.layout!, title), true);
  }
  process.stdout.write(
    `${lines.join('\n')}\n\nwritten to ${o.out}: report.html, tables.md, trials.csv, trials.jsonl, layouts/\n`,
  );
}

/** The project's goals and what each strategy reached of them. */
const goalLines = (trials: readonly ReportedTrial[], o: BenchLayoutOptions): string[] =>
  o.strategy.flatMap((strategy) => {
    const table = goalTable(trials.map((t) => t.result).filter((r) => r.strategy === strategy));
    return table.length === 0 ? [] : ['', `goals, ${strategy}:`, '', ...table];
  });

/** What `--goals` asks for where nothing else is said: all problems, both budgets, the strategy that is meant, two explorers. */
function forGoals(o: BenchLayoutOptions, said: (name: string) => boolean): BenchLayoutOptions {
  if (!o.goals) return o;
  const seconds = [...new Set(LAYOUT_GOALS.map((g) => g.seconds))].sort((a, b) => a - b);
  return {
    ...o,
    only: o.only.length > 0 ? o.only : LAYOUT_GOALS.flatMap((g) => g.problems),
    budget: said('budget') ? o.budget : seconds.map((s) => ({ seconds: s })),
    strategy: said('strategy') ? o.strategy : [overlapMinimising.name],
    explorers: said('explorers') ? o.explorers : 2,
  };
}

function bestOfEach(trials: readonly ReportedTrial[], key: (t: ReportedTrial) => string): ReportedTrial[] {
  const best = new Map<string, ReportedTrial>();
  for (const t of trials) {
    if (!t.layout) continue;
    const before = best.get(key(t));
    if (!before || figureOf(t.result)! > figureOf(before.result)!) best.set(key(t), t);
  }
  return [...best.values()];
}

const explorersOption = (text: string): number => {
  const n = Number(text);
  if (Number.isInteger(n) && n >= 1 && n <= 64) return n;
  throw new UsageError(`--explorers ${text} is no whole number from 1 to 64`);
};

const threadsOption = (text: string): number => {
  const n = Number(text);
  if (Number.isInteger(n) && n >= 1 && n <= 64) return n;
  throw new UsageError(`--threads ${text} is no whole number from 1 to 64`);
};

/** `haunch bench layout <folder>`: layout strategies tried on problems from files, judged by the referee, compared. */
export const benchLayoutCommand = (exit: (code: number) => void): Command =>
  new Command('layout')
    .description('try layout strategies on a folder of problems: each layout refereed, all seeds reported')
    .argument('<folder>', "problems: .json or the collection's .xml, folders within it too")
    .option(
      '--strategy <names>',
      "strategies, with commas: the project's own, or packages that export strategy",
      namesOption,
      ownStrategies(),
    )
    .option('--seeds <list>', 'seeds, such as 1-5', seedsOption, [1, 2, 3, 4, 5])
    .option('--budget <list>', 'a budget for each trial: 5s is seconds, 20000 is ticks', budgetsOption, [
      { seconds: 5 },
    ])
    .option('--only <names>', 'only problems of these names; * stands for anything', namesOption, [])
    .option('--out <folder>', 'where results go', 'layout-bench')
    .option(
      '--threads <number>',
      'trials at once',
      threadsOption,
      Math.max(1, Math.min(2, availableParallelism())),
    )
    .option(
      '--explorers <number>',
      'explorers of each trial with seeds of their own, each with the whole budget; towards its end they share what they found, and the best counts; give as many threads',
      explorersOption,
      1,
    )
    .option(
      '--goals',
      "hold the overlap-minimising strategy against the project's goals: their problems, 5s and 60s, two explorers on two threads, where nothing else is said",
    )
    .option('--replace', 'write over an earlier bench in that folder')
    .action((folder: string, options: BenchLayoutOptions, command: Command) =>
      benchLayout(
        folder,
        forGoals(options, (name) => command.getOptionValueSource(name) === 'cli'),
        exit,
      ),
    );
