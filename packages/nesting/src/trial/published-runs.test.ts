import { readdirSync, readFileSync } from 'node:fs';
import { rectangleRing } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { exactOverlaps } from '../../test/exact-layout.js';
import { checkLayout } from '../check-layout.js';
import { overlapMinimising } from '../strategies/overlap-minimising.js';
import { seededRun } from '../ticks.js';
import { stripProblem } from './problem.js';
import { readProblems } from './read-problems.js';
import { measureLayout } from './trial.js';

/** A folder of published problems, converted to JSON; the tests below are passed over where there is none. */
const folder = process.env.HAUNCH_STRIP_PROBLEMS;

describe('a strip problem', () => {
  it('is full where its items fill it', () => {
    const square = { id: 'a', demand: 4, turns: [0, Math.PI / 2], outline: rectangleRing(0, 0, 1, 1) };
    const problem = stripProblem({ name: 'squares', source: 'by hand' }, 2, [square]);
    const { instance } = problem;
    const last = [...overlapMinimising.nest(instance, overlapMinimising.defaults, seededRun(1, 500))].at(-1)!;
    expect(checkLayout(instance, last).valid).toBe(true);
    expect(measureLayout(problem, last)).toEqual({ length: 2, density: 1 });
  });

  it('is refused without width', () =>
    expect(() => stripProblem({ name: 'none', source: 'by hand' }, 0, [])).toThrow(RangeError));
});

describe.skipIf(folder === undefined)('published strip problems (the collection of ESICUP)', () => {
  const names = folder
    ? readdirSync(folder).filter((f) => f.endsWith('.json') && !f.startsWith('gardeyn'))
    : [];
  it.each(names)('%s: a valid layout of all items', (name) => {
    const read = readProblems(readFileSync(`${folder}/${name}`, 'utf8'), name);
    if (!read.ok) throw new Error(read.diagnostics[0]!.message);
    const [problem] = read.value;
    const { instance } = problem!;
    const layouts = [...overlapMinimising.nest(instance, overlapMinimising.defaults, seededRun(1, 2500))];
    const last = layouts.at(-1)!;
    expect(checkLayout(instance, last).violations).toEqual([]);
    expect(exactOverlaps(instance, last)).toEqual([]);
    expect(last.unplaced).toEqual([]);
    expect(measureLayout(problem!, last).density).toBeGreaterThan(0.4);
  });
});
