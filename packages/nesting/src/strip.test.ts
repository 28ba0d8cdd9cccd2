import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { exactOverlaps } from '../test/exact-layout.js';
import { checkLayout } from './check-layout.js';
import { overlapMinimising } from './strategies/overlap-minimising.js';
import { type StripProblem, stripArea, stripDensity, stripInstance, stripLength } from './strip.js';
import { seededRun } from './ticks.js';

/** A folder of published problems, converted to JSON; the tests below are passed over where there is none. */
const folder = process.env.HAUNCH_STRIP_PROBLEMS;

interface Stored {
  readonly name: string;
  readonly stripHeight: number;
  readonly items: readonly {
    readonly id: string | number;
    readonly demand: number;
    readonly rotations: readonly number[] | 'continuous';
    readonly polygon: readonly (readonly [number, number])[];
  }[];
}

function stored(name: string): StripProblem {
  const d = JSON.parse(readFileSync(`${folder}/${name}.json`, 'utf8')) as Stored;
  const items = d.items.map((i) => ({
    id: `${i.id}`,
    demand: i.demand,
    turns: i.rotations === 'continuous' ? [0] : i.rotations,
    polygon: i.polygon,
  }));
  return { name: d.name, height: d.stripHeight, items };
}

const square: StripProblem = {
  name: 'squares',
  height: 2,
  items: [
    {
      id: 'a',
      demand: 4,
      turns: [0, 90],
      polygon: [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
    },
  ],
};

describe('a strip problem', () => {
  it('is full where its items fill it', () => {
    const instance = stripInstance(square);
    const last = [...overlapMinimising.nest(instance, overlapMinimising.defaults, seededRun(1, 500))].at(-1)!;
    expect(checkLayout(instance, last).valid).toBe(true);
    expect(stripLength(square, instance, last)).toBe(2);
    expect(stripDensity(square, 2)).toBe(1);
  });

  it('is refused without height', () => {
    expect(() => stripInstance({ ...square, height: 0 })).toThrow(RangeError);
  });
});

describe.skipIf(folder === undefined)('published strip problems (the collection of ESICUP)', () => {
  // Length and best density as published: A. Elkeran, EJOR 231, 2013; see also arXiv:2509.13329, tables 1–3.
  it.each([
    ['jakobs1', 11, 89.09],
    ['jakobs2', 22, 87.73],
    ['shapes1', 52, 76.73],
    ['shapes0', 58, 68.79],
  ])('%s: length %d is %f %%', (name, length, percent) => {
    expect(100 * stripDensity(stored(name), length)).toBeCloseTo(percent, 2);
  });

  it.each([
    ['dighe1', 10_000],
    ['dighe2', 10_000],
    ['fu', 1083],
    ['trousers', 17_206.5],
  ])('%s: area %d', (name, area) => expect(stripArea(stored(name))).toBe(area));

  const names = folder
    ? readdirSync(folder).filter((f) => f.endsWith('.json') && !f.startsWith('gardeyn'))
    : [];
  it.each(names.map((f) => f.slice(0, -5)))('%s: a valid layout of all items', (name) => {
    const problem = stored(name);
    const instance = stripInstance(problem);
    const last = [...overlapMinimising.nest(instance, overlapMinimising.defaults, seededRun(1, 2500))].at(
      -1,
    )!;
    const report = checkLayout(instance, last);
    expect(report.violations).toEqual([]);
    expect(exactOverlaps(instance, last)).toEqual([]);
    expect(last.unplaced).toEqual([]);
    expect(stripDensity(problem, stripLength(problem, instance, last))).toBeGreaterThan(0.4);
  });
});
