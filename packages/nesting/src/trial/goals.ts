import { markdownTable } from './markdown-table.js';
import { figureOf, type TrialResult } from './trial.js';

/** What the project's strategies are to reach on some problems in so many seconds of each of two cores. */
export interface LayoutGoal {
  /** Names of problems; one that ends in `*` stands for all that begin so. */
  readonly problems: readonly string[];
  readonly seconds: number;
  /** At least this density, %, in the mean of the seeds … */
  readonly density?: number;
  /** … or no more than this over the optimum, %, in the mean of problems and seeds … */
  readonly over?: number;
  /** … or the optimum's boards in this share of the trials, %, and one more in the others … */
  readonly optimal?: number;
  /** … or only that every trial is valid. */
  readonly valid?: true;
}

/** Densities in print for a problem, %. */
export interface GoalReference {
  readonly problem: string;
  /** Mean by guided cuckoo search, 2013. */
  readonly cuckoo: number;
  /** The best of several papers of 2013 to 2019. */
  readonly before: number;
  /** The best of 100 runs of 20 minutes on three threads, 2025. */
  readonly best: number;
}

/** Where the references come from. */
export const GOAL_SOURCE =
  'references: J. Gardeyn, G. Vanden Berghe and T. Wauters, arXiv:2509.13329v1 (2025), tables 1-3: its own best, and what it quotes of A. Elkeran, EJOR 231 (2013), of Sato et al., EJOR 279 (2019), and of others; dighe and jigsaws: by construction; rectangles: areas fill the strip; multi-bin: areas fill the boards';

const STRIPS: readonly (readonly [string, number, number, number, number, number])[] = [
  ['swim', 73, 76.5, 74.49, 75.94, 79.83],
  ['shirts', 86, 88.5, 87.59, 88.96, 90.92],
  ['trousers', 89, 91.3, 89.02, 91.06, 92.62],
  ['marques', 88.8, 91, 89.4, 91.02, 92.02],
  ['dagli', 86.8, 88.5, 87.06, 89.51, 90.17],
  ['albano', 88, 89, 87.47, 89.58, 89.82],
  ['mao', 83, 84.8, 82.93, 86.05, 86.87],
  ['shapes0', 65.5, 67.5, 67.26, 68.79, 69.98],
  ['shapes1', 72, 74.5, 73.79, 76.73, 76.73],
  ['jakobs1', 87, 89, 88.9, 89.09, 89.26],
  ['jakobs2', 80, 83, 81.14, 87.73, 87.73],
  ['fu', 90, 91.5, 90.68, 92.41, 92.41],
  ['blaz', 80.5, 83, 82.4, 84.84, 86.23],
];

/** One of each kind of the multi-bin sets with at most thirty parts. */
const MULTI_BIN = ['TA001', 'TA016', 'TB001', 'TB016', 'TF001', 'TF016', 'TL001', 'TL016', 'TO001', 'TO016'];

/** The project's goals for layouts. */
export const LAYOUT_GOALS: readonly LayoutGoal[] = [
  ...STRIPS.flatMap(([name, short, long]): LayoutGoal[] => [
    { problems: [name], seconds: 5, density: short },
    { problems: [name], seconds: 60, density: long },
  ]),
  { problems: ['dighe2'], seconds: 5, density: 99.9 },
  ...['dighe1', 'dighe2', 'jig_1000x600_n10_s1'].map(
    (name): LayoutGoal => ({ problems: [name], seconds: 60, density: 100 }),
  ),
  ...['jig_1000x600_n20_s2', 'jig_2000x1000_n40_s3', 'jig_3000x1000_n80_s4'].map(
    (name): LayoutGoal => ({ problems: [name], seconds: 60, valid: true }),
  ),
  ...Array.from(
    { length: 10 },
    (_, k): LayoutGoal => ({ problems: [`gardeyn${k}`], seconds: 60, valid: true }),
  ),
  { problems: ['C1_*', 'C2_*', 'C3_*'], seconds: 60, over: 2 },
  { problems: ['BENG*'], seconds: 60, over: 2 },
  { problems: MULTI_BIN, seconds: 60, optimal: 25 },
];

/** What is in print for the strip problems among the goals. */
export const GOAL_REFERENCES: readonly GoalReference[] = STRIPS.map(
  ([problem, , , cuckoo, before, best]) => ({ problem, cuckoo, before, best }),
);

/** Whether a problem is one of a goal's. */
const isOf = (goal: LayoutGoal, problem: string): boolean =>
  goal.problems.some((p) => (p.endsWith('*') ? problem.startsWith(p.slice(0, -1)) : problem === p));

/** What trials came to beside a goal. */
export interface GoalReached {
  readonly goal: LayoutGoal;
  /** Each trial's figure, by problem and seed: density or excess in %, or boards over the bound; undefined where it failed. */
  readonly figures: readonly (number | undefined)[];
  /** What is held against the goal; undefined where a trial failed. */
  readonly reached: number | undefined;
  readonly met: boolean;
}

/** A sum of densities is rounded by so much less than anybody reads, %. */
const READ = 1e-9;

function judge(goal: LayoutGoal, trials: readonly TrialResult[]): GoalReached {
  const figures = trials.map((t) => {
    const figure = figureOf(t);
    if (figure === undefined) return undefined;
    if (goal.optimal !== undefined) return t.boards === undefined ? undefined : t.boards - t.lowerBound;
    return goal.over === undefined ? figure : 100 * (t.gap ?? Infinity);
  });
  const all = figures.flatMap((f) => f ?? []);
  if (all.length < figures.length) return { goal, figures, reached: undefined, met: false };
  const mean = all.reduce((a, b) => a + b, 0) / all.length;
  const answer = (reached: number, met: boolean): GoalReached => ({ goal, figures, reached, met });
  if (goal.density !== undefined) return answer(mean, mean >= goal.density - READ);
  if (goal.over !== undefined) return answer(mean, mean <= goal.over + READ);
  if (goal.optimal === undefined) return answer(mean, true);
  const share = (100 * all.filter((f) => f <= 0).length) / all.length;
  return answer(share, share >= goal.optimal && all.every((f) => f <= 1));
}

/**
 * Holds the trials of one strategy against the goals: each goal of which there are trials with its budget in seconds;
 * all of them count, none is left out.
 */
export function reachedGoals(
  results: readonly TrialResult[],
  goals: readonly LayoutGoal[] = LAYOUT_GOALS,
): GoalReached[] {
  return goals.flatMap((goal) => {
    const trials = results.filter(
      (r) => isOf(goal, r.problem) && 'seconds' in r.budget && r.budget.seconds === goal.seconds,
    );
    return trials.length > 0 ? [judge(goal, trials)] : [];
  });
}

const wanted = (g: LayoutGoal): string => {
  if (g.density !== undefined) return `≥ ${g.density}`;
  if (g.over !== undefined) return `≤ ${g.over} % over`;
  return g.optimal === undefined ? 'valid' : `optimum on ≥ ${g.optimal} %, else one more`;
};

const dot2 = (v: number | undefined): string => (v === undefined ? '–' : v.toFixed(2));

/** The goals and what was reached as lines of Markdown: every seed, and what is in print. */
export function goalTable(
  results: readonly TrialResult[],
  goals: readonly LayoutGoal[] = LAYOUT_GOALS,
): string[] {
  const reached = reachedGoals(results, goals);
  if (reached.length === 0) return [];
  const rows = reached.map(({ goal, figures, reached: mean, met }) => {
    const of = GOAL_REFERENCES.find((r) => goal.problems.length === 1 && r.problem === goal.problems[0]);
    return [
      goal.problems.join(' '),
      `${goal.seconds} s`,
      wanted(goal),
      dot2(mean),
      met ? 'yes' : 'no',
      figures.map(dot2).join(' '),
      of ? [of.cuckoo, of.before, of.best].map(dot2).join(' · ') : '–',
    ];
  });
  return [
    ...markdownTable(
      [
        [
          'problems',
          'budget',
          'goal',
          'reached',
          'met',
          'each trial',
          'mean 2013 · best to 2019 · best 2025',
        ],
        ...rows,
      ],
      3,
    ),
    '',
    `${reached.filter((r) => r.met).length} of ${reached.length} goals met; ${GOAL_SOURCE}`,
  ];
}
