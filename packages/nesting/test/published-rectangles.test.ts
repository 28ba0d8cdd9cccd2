/// <reference types="node" />
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { polygonRing, rectangleRing, ringArea } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { constructive, runNesting, seededRun } from '../src/index.js';

/**
 * Rectangles cut from one larger rectangle, C1 … C7 (E. Hopper & B. C. H. Turton, "An empirical investigation of
 * meta-heuristic and heuristic algorithms for a 2D packing problem", EJOR 128, 2001), read in place from a folder
 * of instances that `HAUNCH_INSTANCES` names; skipped where it is not set.
 */
const root = process.env.HAUNCH_INSTANCES;
const folder = root ? join(root, 'nesting/rect') : '';
const files =
  folder && existsSync(folder) ? readdirSync(folder).filter((f) => /^HT2001a_C[1-7]_1\.json$/.test(f)) : [];

interface Published {
  readonly name: string;
  readonly stripHeight: number;
  readonly totalArea: number;
  readonly items: readonly {
    readonly id: string;
    readonly demand: number;
    readonly rotations: readonly number[];
    readonly polygon: readonly (readonly [number, number])[];
  }[];
}

/** The strip as a board of its height and one and a half times the length that the area needs. */
const stripOf = (p: Published): NestingInstance => ({
  items: p.items.flatMap((item) =>
    Array.from({ length: item.demand }, (_, i) => ({
      id: `r${item.id}/${i + 1}`,
      outline: polygonRing(item.polygon.map(([x, y]) => ({ x, y }))),
      turns: item.rotations.map((d) => (d * Math.PI) / 180),
      boards: ['strip'],
    })),
  ),
  boards: [
    {
      id: 'strip',
      outline: rectangleRing(0, 0, (1.5 * p.totalArea) / p.stripHeight, p.stripHeight),
      keepOuts: [],
    },
  ],
  spacing: 0,
  edgeMargin: 0,
});

describe.skipIf(files.length === 0)('published rectangles with a known optimum', () => {
  it.each(files)('%s: valid, and not shorter than the area allows', (file) => {
    const published = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Published;
    const instance = stripOf(published);
    const { layout, report, score } = runNesting(
      constructive,
      instance,
      constructive.defaults,
      seededRun(1, 2000),
    );
    expect(report.violations).toEqual([]);
    expect(layout.unplaced).toEqual([]);
    const area = instance.items.reduce((sum, i) => sum + ringArea(i.outline), 0);
    expect(area).toBeCloseTo(published.totalArea, 6);
    expect(score.extent).toBeGreaterThanOrEqual(area - 1e-6);
    const optimum = published.totalArea / published.stripHeight;
    console.info(`${published.name}: length ${score.extent / published.stripHeight}, by area ${optimum}`);
  });
});
