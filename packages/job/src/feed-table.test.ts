/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { CUT_DIRECTIONS, chipLoadBand, FEED_TABLES } from '@haunch/planner';
import { describe, expect, it } from 'vitest';
import { wallsOf } from './cutting-of-job.js';
import { chipLoadFor, readFeedTable, type ShopFeeds, USUAL_FEEDS } from './feed-table.js';
import { readJob } from './job.js';

const table = (more: object): ShopFeeds => {
  const found = readFeedTable(JSON.stringify({ format: 'haunch-feeds', version: 1, ...more }), 'feeds.json');
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};
const problems = (more: object): string[] =>
  readFeedTable(
    JSON.stringify({ format: 'haunch-feeds', version: 1, ...more }),
    'feeds.json',
  ).diagnostics.map((d) => `${d.code} ${d.locus?.path}`);

describe('the shop’s feeds', () => {
  it('are the file in docs/examples, every number with its source, to be copied and edited', () => {
    const text = readFileSync(
      new URL('../../../docs/examples/feeds/haunch-feeds.json', import.meta.url),
      'utf8',
    );
    const found = readFeedTable(text, 'haunch-feeds.json');
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    const { tables, directions, ownShare } = found.value;
    for (const { diameter, bands } of FEED_TABLES.chipLoads)
      for (const m of ['birch plywood', 'softwood plywood', 'fibreboard', 'particleboard'] as const) {
        const [least, most] = chipLoadBand(tables, m, diameter);
        expect(least).toBeCloseTo(bands[m][0], 9);
        expect(most).toBeCloseTo(bands[m][1], 9);
      }
    expect(tables.energy).toEqual(FEED_TABLES.energy);
    expect([tables.core, tables.deflection, ownShare]).toEqual([0.8, 0.05, USUAL_FEEDS.ownShare]);
    expect(tables.lightest).toBeCloseTo(FEED_TABLES.lightest, 4);
    expect(directions.of).toEqual(CUT_DIRECTIONS.of);
    const { chipLoads, energies, directions: ways } = JSON.parse(text);
    expect([...chipLoads, ...energies, ...ways].every((r: { source?: string }) => r.source)).toBe(true);
  });

  it('change what they speak of and nothing else', () => {
    const own = { material: 'birch plywood', diameter: '6 mm', least: 0.1, most: 0.2 };
    const { tables, directions } = table({
      chipLoads: [own, { ...own, diameter: '8 mm', least: '0.2 mm', most: 0.3 }],
      directions: [{ material: 'birch plywood', outline: 'conventional', opening: 'climb', pocket: 'climb' }],
      energies: [{ material: 'birch plywood', low: 10, usual: 20, high: 30 }],
    });
    const band = (diameter: number) => chipLoadBand(tables, 'birch plywood', diameter);
    expect([band(3), band(6), band(20)]).toEqual([
      [0.1, 0.2],
      [0.1, 0.2],
      [0.2, 0.3],
    ]);
    expect(band(7)[0]).toBeCloseTo(0.15, 12);
    for (const d of [2, 5, 6, 7.2, 9, 11, 14]) {
      const [a, b] = [tables, FEED_TABLES].map((t) => chipLoadBand(t, 'fibreboard', d));
      expect(a![0]).toBeCloseTo(b![0], 12);
      expect(a![1]).toBeCloseTo(b![1], 12);
    }
    expect(directions.of['birch plywood'].outline).toBe('conventional');
    expect(directions.of.fibreboard).toEqual(CUT_DIRECTIONS.of.fibreboard);
    expect(tables.energy['birch plywood']).toEqual([10, 20, 30]);
  });

  it('give a cutter that states none a chip load by its diameter, the hardest of its sheets and its deepest pass', () => {
    // Half of 0.009 in at 1/4 in; a quarter less at two diameters.
    const c = { diameter: 6.35, depthPerPass: 6.35 };
    expect(chipLoadFor(USUAL_FEEDS, c, ['birch plywood'])).toBeCloseTo(0.114, 9);
    expect(chipLoadFor(USUAL_FEEDS, { ...c, depthPerPass: 12.7 }, ['birch plywood'])).toBeCloseTo(0.086, 9);
    expect(chipLoadFor(USUAL_FEEDS, c, ['fibreboard', 'birch plywood'])).toBeCloseTo(0.114, 9);
    expect(chipLoadFor(USUAL_FEEDS, c, ['fibreboard'])).toBeCloseTo(0.165, 9);
  });

  it('are refused with the place where a number cannot be', () => {
    expect(problems({ chipLoads: [{ material: 'oak', diameter: 6, least: 1, most: 2 }] })[0]).toContain(
      'chipLoads[0].material',
    );
    expect(
      problems({ chipLoads: [{ material: 'fibreboard', diameter: 6, least: 0.3, most: 0.2 }] })[0],
    ).toContain('chipLoads[0]');
    expect(problems({ energies: [{ material: 'fibreboard', low: 3, usual: 2, high: 9 }] })).toHaveLength(1);
    expect(problems({ ownShare: { value: 0 } })[0]).toContain('ownShare.value');
    expect(problems({ lightest: 0.5 })).toHaveLength(1);
  });

  it('reach a job: named in it, or lying beside it, or as usual', () => {
    const text = readFileSync(new URL('../../../docs/examples/rack/job.json', import.meta.url), 'utf8');
    const own = JSON.stringify({ format: 'haunch-feeds', version: 1, lightest: { value: 0.25 } });
    const read = (change: (job: Record<string, never>) => void, file?: string) => {
      const job = JSON.parse(text);
      change(job);
      return readJob(JSON.stringify(job), 'job.json', { source: (n) => (n === file ? own : undefined) });
    };
    const beside = read(() => {}, 'haunch-feeds.json');
    if (!beside.ok) throw new Error(beside.diagnostics[0]?.message);
    expect(beside.diagnostics.map((d) => d.code)).toContain('job/feeds-beside');
    expect(wallsOf(beside.value).tables!.lightest).toBe(0.25);
    const named = read((j) => Object.assign(j, { cutting: { table: 'ours.json' } }), 'ours.json');
    expect(named.ok && wallsOf(named.value).tables!.lightest).toBe(0.25);
    expect(named.diagnostics).toEqual([]);
    const missing = read((j) => Object.assign(j, { cutting: { table: 'ours.json' } }));
    expect(missing.diagnostics.map((d) => [d.code, d.locus?.file])).toEqual([
      ['job/source-missing', 'job.json'],
    ]);
    const unsaid = read((j) => {
      const [router] = j.cutters as unknown as [{ chipLoad?: string }];
      delete router.chipLoad;
    });
    if (!unsaid.ok) throw new Error(unsaid.diagnostics[0]?.message);
    // 3.98 mm lies between the charts' rows: 0.0762 + (0.2286 − 0.0762) · 0.805 / 3.175, halved, passes of one diameter.
    expect(unsaid.value.router.chipLoad).toBeCloseTo(0.057, 9);
    expect([...wallsOf(unsaid.value).feedsFromTable!]).toEqual(['router-4']);
  });
});
