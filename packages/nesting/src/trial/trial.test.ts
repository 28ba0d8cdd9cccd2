import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { circleRing, rectangleRing } from '@haunch/geometry';
import type { Layout, NestingStrategy } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { constructive } from '../strategies/bottom-left-fill.js';
import { published } from './best-known.js';
import { lowerBound } from './bounds.js';
import { commonArea } from './common-area.js';
import { compareTrials, withPublished } from './compare.js';
import { stripProblem } from './problem.js';
import { readProblems } from './read-problems.js';
import { reportPage } from './report.js';
import { caseTable, duelTable } from './tables.js';
import { type Contender, runTrial, type TrialResult } from './trial.js';

const problem = stripProblem(
  { name: 'squares', source: 'by hand', known: { density: 1, proved: true, source: 'by hand' } },
  20,
  [{ id: 'a', demand: 4, outline: rectangleRing(0, 0, 10, 10), turns: [0] }],
);

const contender = { strategy: constructive, options: constructive.defaults } as unknown as Contender;
const at = (xs: readonly (readonly [number, number])[]): Layout => ({
  kind: 'layout',
  placements: xs.map(([dx, dy], i) => ({
    item: i === 0 ? 'a' : `a/${i + 1}`,
    board: 'strip',
    motion: { mirror: false, turn: 0, dx, dy },
  })),
  unplaced: [],
});
const yields = (name: string, layouts: readonly Layout[], end?: string): Contender => ({
  strategy: {
    name,
    contract: 1,
    supports: { severalBoards: true, keepOuts: true, irregularBoards: true },
    defaults: {},
    *nest() {
      yield* layouts;
      if (end !== undefined) throw new Error(end);
    },
  } satisfies NestingStrategy,
  options: {},
});
const ROW = at([
  [0, 0],
  [10, 0],
  [20, 0],
  [30, 0],
]);
const BLOCK = at([
  [0, 0],
  [10, 0],
  [0, 10],
  [10, 10],
]);
const OFF = at([
  [0, 0],
  [9.9999, 0],
  [0, 10],
  [10, 10],
]);

const tried = (c: Contender, seed = 1, now = () => 0) =>
  runTrial({ problem, contender: c, seed, budget: { ticks: 100 }, clock: now });

describe('runTrial', () => {
  it('keeps the best valid layout and the course to it', () => {
    let t = 0;
    const { result, layout } = tried(yields('s', [ROW, BLOCK, ROW]), 1, () => t++);
    expect(layout).toBe(BLOCK);
    expect(result).toMatchObject({ valid: true, refused: 0, length: 20, density: 1, gap: 0, lowerBound: 20 });
    expect(result.curve.map((p) => p.figure)).toEqual([50, 100]);
    expect('fault' in result).toBe(false);
  });
  it('never counts a layout that is one grid step off', () => {
    const { result } = tried(yields('s', [OFF]));
    expect(result).toMatchObject({ valid: false, refused: 1 });
    expect(result.density).toBe(undefined);
    expect(result.fault).toMatch(/overlap/);
  });
  it('never counts a layout with items left out', () => {
    const { placements } = ROW;
    const { result } = tried(yields('s', [{ ...ROW, placements: placements.slice(1), unplaced: ['a'] }]));
    expect(result).toMatchObject({ valid: false, fault: expect.stringMatching(/^no room for /) });
  });
  it('keeps what was yielded before the strategy threw, with its sentence', () => {
    const { result } = tried(yields('s', [ROW], 'lost my way'));
    expect(result).toMatchObject({ valid: true, length: 40, fault: 'the strategy failed: lost my way' });
  });
  it('ends at the seconds, and when it is stopped; neither is called reproducible', () => {
    const endless: Contender = {
      ...yields('s', []),
      strategy: {
        ...yields('s', []).strategy,
        *nest(_i, _o, run) {
          yield ROW;
          while (run.tick());
        },
      },
    };
    let t = 0;
    const timed = runTrial({
      problem,
      contender: endless,
      seed: 1,
      budget: { seconds: 50 },
      clock: () => t++,
    });
    expect(timed.result).toMatchObject({ valid: true, reproducible: false });
    let asked = 0;
    const stopped = runTrial({
      problem,
      contender: endless,
      seed: 1,
      budget: { ticks: 1e9 },
      clock: () => 0,
      stopped: () => ++asked > 20,
    });
    expect(stopped.result).toMatchObject({ valid: true, reproducible: false, ticks: 20 });
  });
  it('gives the same result for the same seed and ticks', () => {
    const run = () => tried(contender, 7);
    expect(run()).toEqual(run());
    expect(run().result.reproducible).toBe(true);
  });
});

describe('commonArea', () => {
  it('sees one grid step along a side', () => {
    expect(commonArea(problem.instance, BLOCK)).toBe(0);
    expect(commonArea(problem.instance, OFF)).toBeCloseTo(0.001, 9);
  });
  it('sees what lies outside the board', () =>
    expect(commonArea(problem.instance, at([[-0.5, 0]]))).toBeCloseTo(5, 9));
  it('lets a part lie in the hole of another, and sees it where it reaches out of the hole', () => {
    const holed = {
      ...problem.instance,
      items: problem.instance.items.map((i, k) =>
        k === 0
          ? { ...i, outline: rectangleRing(0, 0, 18, 18), holes: [circleRing({ x: 9, y: 9 }, 7.5)] }
          : i,
      ),
    };
    const inside = (x: number): Layout => ({
      ...at([
        [0, 0],
        [x, 4],
      ]),
      unplaced: ['a/3', 'a/4'],
    });
    expect(commonArea(holed, inside(4))).toBe(0);
    expect(commonArea(holed, inside(6))).toBeGreaterThan(1);
  });
  it('sees what lies in a keep-out', () => {
    const [board] = problem.instance.boards;
    const barred = { ...problem.instance, boards: [{ ...board!, keepOuts: [rectangleRing(9, 9, 12, 12)] }] };
    expect(commonArea(barred, at([[0, 0]]))).toBeCloseTo(1, 9);
  });
});

const result = (strategy: string, problemName: string, density: number, seed = 1): TrialResult => ({
  problem: problemName,
  strategy,
  options: {},
  seed,
  budget: { ticks: 10 },
  reproducible: true,
  valid: true,
  refused: 0,
  length: 1 / density,
  density,
  leastGap: 0,
  lowerBound: 1,
  lowerBoundReason: 'area',
  gap: 1 / density - 1,
  curve: [],
  seconds: 1,
  ticks: 10,
});

describe('compareTrials', () => {
  const names = ['p1', 'p2', 'p3', 'p4', 'p5', 'p6'];
  const trials = names.flatMap((p, i) => [result('a', p, 0.8 + i / 100), result('b', p, 0.7 + i / 100)]);
  it('finds the better strategy, and says with what certainty', () => {
    const { duels } = compareTrials(trials);
    expect(duels).toMatchObject([{ first: 'a', second: 'b', wins: 6, losses: 0 }]);
    // All six differ to one side: 2 / 2⁶.
    expect(duels[0]!.p).toBeCloseTo(0.03125, 12);
  });
  it('does not ask in which order the trials came', () =>
    expect(compareTrials([...trials].reverse())).toEqual(compareTrials(trials)));
  it('counts failed runs and keeps them out of the mean', () => {
    const { density, length, gap, ...failed } = result('a', 'p1', 0.1, 2);
    const [c] = compareTrials([result('a', 'p1', 0.8), { ...failed, valid: false }]).cases;
    expect(c).toMatchObject({ runs: 2, failed: 1 });
    expect(c!.figure!.mean).toBe(80);
    expect([density, length, gap]).toHaveLength(3);
  });
  it('draws tables with a row for each case', () => {
    const c = compareTrials(trials);
    expect(caseTable(c)).toHaveLength(2 + 12);
    expect(duelTable(c)).toHaveLength(3);
    expect(duelTable(compareTrials([result('a', 'p', 0.5)]))).toEqual([]);
  });
});

it('the report is one page without a link outward, the same for the same trials', () => {
  const { result: r, layout } = tried(yields('s <x>', [ROW, BLOCK]));
  const trials = [{ problem, result: r, layout: layout! }];
  const page = reportPage(trials, compareTrials([r]), { title: 'T', about: ['a < b'] });
  expect(page).toBe(reportPage(trials, compareTrials([r]), { title: 'T', about: ['a < b'] }));
  expect(page).not.toMatch(/(?:src|href)=/);
  expect(page).toContain('s &lt;x&gt;');
  expect(page).not.toContain('<x>');
});

const DATA = fileURLToPath(new URL('../../../../../shared/instances/nesting/', import.meta.url));
const here = existsSync(DATA);

// Areas of the collection's own files, and published densities of whole-number lengths, which check area and width
// together: 392/40/11, 1351/70/22, 1596/40/52, 1596/40/58 (A. Elkeran 2013 and others; see best-known.ts).
describe.skipIf(!here)('the EURO special interest group’s sets', () => {
  const read = (name: string) => {
    const o = readProblems(readFileSync(`${DATA}${name}.json`, 'utf8'), `${name}.json`);
    if (!o.ok) throw new Error(o.diagnostics[0]!.message);
    return withPublished(o.value[0]!);
  };
  it.each([
    ['jakobs1', 11, 89.09],
    ['jakobs2', 22, 87.73],
    ['shapes1', 52, 76.73],
    ['shapes0', 58, 68.79],
  ])('%s of length %d has density %d', (name, length, density) => {
    const p = read(name);
    expect((100 * p.itemArea) / (p.stripWidth! * length)).toBeCloseTo(density, 2);
  });
  it.each(['albano', 'dagli', 'mao', 'marques', 'shirts', 'swim', 'trousers', 'fu', 'dighe2'])(
    '%s: area as its file says, a best density in print that leaves room for it',
    (name) => {
      const { totalArea } = JSON.parse(readFileSync(`${DATA}${name}.json`, 'utf8')) as { totalArea: number };
      const p = read(name);
      expect(p.itemArea).toBeCloseTo(totalArea, 3);
      const length = p.itemArea / (p.stripWidth! * p.known!.density!);
      expect(length).toBeGreaterThanOrEqual(lowerBound(p).value - 1e-9);
      expect(published({ ...p, stripWidth: 1 })).toBe(undefined);
    },
  );
  it('reads every file of the folder’s first level', async () => {
    const { readdirSync } = await import('node:fs');
    const files = readdirSync(DATA).filter((f) => f.endsWith('.json'));
    for (const f of files) expect(readProblems(readFileSync(DATA + f, 'utf8'), f).ok, f).toBe(true);
    expect(files.length).toBeGreaterThan(50);
  });
});
