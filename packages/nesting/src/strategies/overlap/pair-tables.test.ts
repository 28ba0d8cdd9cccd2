import { polygonRing } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bedOf } from '../bed.js';
import { isForbidden, noFit } from '../no-fit.js';
import { depthAt } from './depth-table.js';
import { fieldFor, touch, touching } from './field.js';
import { pairTables, pointOf, ROW } from './pair-tables.js';
import { turnedPolygon } from './quarter.js';
import { type Variant, waresOf } from './variant.js';

const ell = polygonRing([
  { x: 1, y: 2 },
  { x: 9, y: 2 },
  { x: 9, y: 4 },
  { x: 4, y: 5 },
  { x: 3, y: 9 },
  { x: 1, y: 9 },
]);
const star = polygonRing([
  { x: 0, y: 0 },
  { x: 3, y: 1 },
  { x: 6, y: 0 },
  { x: 5, y: 3 },
  { x: 8, y: 7 },
  { x: 3, y: 5 },
  { x: -1, y: 6 },
  { x: 1, y: 3 },
]);
const turns = [0, Math.PI / 2, Math.PI, 1.5 * Math.PI, 0.3];
const instance: NestingInstance = {
  items: [
    { id: 'ell', outline: ell, turns, boards: ['b'] },
    { id: 'star', outline: star, turns, boards: ['b'] },
  ],
  boards: [
    {
      id: 'b',
      outline: polygonRing([
        { x: 0, y: 0 },
        { x: 50, y: 0 },
        { x: 50, y: 50 },
        { x: 0, y: 50 },
      ]),
      keepOuts: [],
    },
  ],
  spacing: 0,
  edgeMargin: 0,
};

describe('tables between variants', () => {
  const exact = { corners: 4, addedArea: 0 };
  const beds = instance.boards.map((b) => bedOf(b, instance.spacing, instance.edgeMargin, exact));
  const wares = waresOf(instance, exact, beds);
  const tables = pairTables(wares, []);
  const lying = (v: Variant) =>
    wares.shapes[v.shape]!.grown.map((p) => turnedPolygon(p, v.quarter, -v.offX, -v.offY));
  const n = wares.variants.length;
  const truths = new Map<number, ReturnType<typeof noFit>>();
  const truthOf = (f: number, m: number): ReturnType<typeof noFit> => {
    const key = f * n + m;
    const truth = truths.get(key) ?? noFit(lying(wares.variants[f]!), lying(wares.variants[m]!));
    truths.set(key, truth);
    return truth;
  };
  const variant = fc.integer({ min: 0, max: n - 1 });

  const share = fc.integer({ min: 0, max: 1_000_000 }).map((k) => k / 1_000_000);

  it('has every turn of both shapes', () => expect(n).toBe(10));

  it('says free exactly where the convex pieces say so, for every pair of turns, and a depth elsewhere', () => {
    let free = 0;
    let inside = 0;
    fc.assert(
      fc.property(variant, variant, share, share, (f, m, sx, sy) => {
        const p = tables.between(f, m);
        const dx = Math.round(p.x0 + sx * (p.x1 - p.x0));
        const dy = Math.round(p.y0 + sy * (p.y1 - p.y0));
        const truth = noFit(lying(wares.variants[f]!), lying(wares.variants[m]!));
        expect([p.x0, p.y0, p.x1, p.y1]).toEqual([...truth.box]);
        const within = dx > p.x0 && dx < p.x1 && dy > p.y0 && dy < p.y1;
        const [x, y] = pointOf(p, dx, dy);
        const depth = within ? depthAt(p.table, x, y) : 0;
        expect(depth > 0).toBe(isForbidden(truth, dx, dy));
        if (depth > 0) inside++;
        else free++;
      }),
      { numRuns: 2000 },
    );
    expect(free).toBeGreaterThan(100);
    expect(inside).toBeGreaterThan(100);
  });

  it('knows the box of a pair before its table is made', () => {
    const fresh = pairTables(wares, []);
    for (let f = 0; f < n; f++)
      for (let m = 0; m < n; m++) {
        fresh.learn(f, m);
        const { numbers, quarters } = fresh.rowOf(m);
        const p = tables.between(f, m);
        expect([...numbers.slice(ROW * f, ROW * f + ROW)]).toEqual([
          p.x0,
          p.y0,
          p.x1,
          p.y1,
          p.shiftX,
          p.shiftY,
        ]);
        expect(quarters[f]).toBe(p.quarter);
      }
  });

  it('takes two shapes for no smaller than they are while there are too many to make all tables', () => {
    const thrifty = pairTables(wares, [], () => {}, 0);
    fc.assert(
      fc.property(
        fc.nat(n - 1),
        fc.nat(n - 1),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (f, m, u, w) => {
          const p = tables.between(f, m);
          const [dx, dy] = [Math.round(p.x0 + u * (p.x1 - p.x0)), Math.round(p.y0 + w * (p.y1 - p.y0))];
          const truth = isForbidden(truthOf(f, m), dx, dy);
          const guess = depthAt(thrifty.whileSearching(f, m, false), ...pointOf(p, dx, dy));
          if (truth) expect(guess).toBeGreaterThan(0);
          expect(thrifty.hullsMeet(f, m, dx, dy)).toBe(guess > 0);
        },
      ),
      { numRuns: 300 },
    );
    // Two stars are hollow: their hulls meet where they do not, until they were often near each other.
    const f = wares.variants.findIndex((v) => v.shape === wares.variants.at(-1)!.shape);
    const guess = thrifty.whileSearching(f, f, false);
    expect(guess.columns).toBe(0);
    for (let k = 0; k < 8; k++) thrifty.whileSearching(f, f, true);
    expect(thrifty.whileSearching(f, f, false)).toBe(thrifty.between(f, f).table);
    expect(thrifty.between(f, f).table.columns).toBeGreaterThan(0);
  });

  it('offers places where two shapes touch and do not overlap, in every pair of turns', () => {
    const field = fieldFor(
      1,
      () => tables.between(0, 0).table,
      () => tables.between(0, 0).table,
    );
    let offered = 0;
    for (let f = 0; f < n; f++)
      for (let m = 0; m < n; m++) {
        const p = tables.between(f, m);
        field.tables[0] = p.table;
        field.quarter[0] = p.quarter;
        [field.fromX[0], field.fromY[0]] = [-p.shiftX, -p.shiftY];
        for (let k = 0; k < 8; k++) {
          if (!touch(field, 0, k / 8)) continue;
          offered++;
          const { x, y } = touching;
          expect(isForbidden(truthOf(f, m), x, y)).toBe(false);
          const near = [1, -1].flatMap((d) => [
            isForbidden(truthOf(f, m), x + d, y),
            isForbidden(truthOf(f, m), x, y + d),
          ]);
          const diagonal = [1, -1].flatMap((d) => [
            isForbidden(truthOf(f, m), x + d, y + d),
            isForbidden(truthOf(f, m), x + d, y - d),
          ]);
          expect([...near, ...diagonal]).toContain(true);
        }
      }
    expect(offered).toBeGreaterThan(400);
  });

  it('tells touching from overlapping by one step, on every edge of a no-fit polygon', () => {
    const wrong: (readonly number[])[] = [];
    let seen = 0;
    for (let f = 0; f < n; f++)
      for (let m = 0; m < n; m++) {
        const p = tables.between(f, m);
        const truth = truthOf(f, m);
        for (const q of truth.polygons)
          for (let i = 0; i < q.length; i += 2)
            for (const [ox, oy] of [
              [0, 0],
              [1, 0],
              [-1, 0],
              [0, 1],
              [0, -1],
            ] as const) {
              const [dx, dy] = [q[i]! + ox, q[i + 1]! + oy];
              if (!(dx > p.x0 && dx < p.x1 && dy > p.y0 && dy < p.y1)) continue;
              const [x, y] = pointOf(p, dx, dy);
              if (depthAt(p.table, x, y) > 0 !== isForbidden(truth, dx, dy)) wrong.push([f, m, dx, dy]);
              seen++;
            }
      }
    expect(seen).toBeGreaterThan(1000);
    expect(wrong).toEqual([]);
  });
});
