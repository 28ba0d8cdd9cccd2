import { type Point, type Ring, rectangleRing, snap } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { RepairKind } from '../src/index.js';
import {
  codesOf,
  cutOut,
  entitiesOf,
  expectSameParts,
  read,
  reversed,
  type Stretch,
  stretchesOf,
} from './parts-scene.js';

/** A plate with rounded corners, a notch in its upper edge, and a slot. */
function plate(x: number, y: number, w: number, h: number, r: number, notch: number): Ring[] {
  const b = Math.SQRT2 - 1;
  const corners: [number, number, number][] = [
    [x + r, y, 0],
    [x + w - r, y, b],
    [x + w, y + r, 0],
    [x + w, y + h - r, b],
    [x + w - r, y + h, 0],
    [x + w / 2 + notch, y + h, 0],
    [x + w / 2 + notch, y + h - 18, 0],
    [x + w / 2 - notch, y + h - 18, 0],
    [x + w / 2 - notch, y + h, 0],
    [x + r, y + h, b],
    [x, y + h - r, 0],
    [x, y + r, b],
  ];
  return [
    { vertices: corners.map(([px, py, bulge]) => ({ x: snap(px), y: snap(py), bulge })) },
    rectangleRing(x + w / 3, y + h / 4, x + w / 3 + 18, y + h / 2),
  ];
}

const plates = fc
  .array(
    fc.record({
      w: fc.integer({ min: 150, max: 400 }),
      h: fc.integer({ min: 120, max: 300 }),
      r: fc.integer({ min: 5, max: 25 }),
      notch: fc.integer({ min: 8, max: 30 }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((all) => all.flatMap((p, i) => plate(500 * (i % 2), 400 * Math.floor(i / 2), p.w, p.h, p.r, p.notch)));

const shuffle = <T>(items: readonly T[], keys: readonly number[]): T[] =>
  items
    .map((item, i) => ({ item, key: keys[i % keys.length]! * 1000 + ((i * 7919) % 997) }))
    .sort((a, b) => a.key - b.key)
    .map((k) => k.item);

const keys = fc.array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 40, maxLength: 80 });
const shares = fc.array(fc.double({ min: 0.15, max: 0.85, noNaN: true }), { minLength: 13, maxLength: 29 });
const RUNS = { numRuns: 40, seed: 7 };

describe('reading loose lines', () => {
  it('finds the same parts whatever the order, the direction and the cutting up of the lines', () => {
    fc.assert(
      fc.property(plates, keys, shares, (rings, order, at) => {
        const whole = stretchesOf(rings);
        const known = read(entitiesOf(whole)).parts;
        const cut = whole.flatMap((s, i): Stretch[] => {
          const f = at[i % at.length]!;
          return i % 3 === 0 ? [s] : [cutOut(s, 0, f), cutOut(s, f, 1)];
        });
        const turned = cut.map((s, i) => (order[i % order.length]! % 2 === 0 ? s : reversed(s)));
        const found = read(entitiesOf(shuffle(turned, order)));
        expect(found.unclear).toEqual([]);
        // Points on the grid are up to 0.0001 mm beside the line that they cut.
        expectSameParts(found.parts, known, 0.001);
      }),
      RUNS,
    );
  });

  it('changes nothing but the report where lines are drawn a second time, whole or in part', () => {
    fc.assert(
      fc.property(plates, keys, shares, (rings, order, at) => {
        const whole = stretchesOf(rings);
        const known = read(entitiesOf(whole));
        const again = whole.flatMap((s, i): Stretch[] => {
          const f = at[i % at.length]!;
          if (i % 4 === 0) return [reversed(s)];
          return i % 4 === 1 && s.bulge === 0 ? [cutOut(s, f / 2, f)] : [];
        });
        const found = read(entitiesOf([...whole, ...shuffle(again, order)]));
        expectSameParts(found.parts, known.parts, 0.001);
        expect(found.unclear).toEqual([]);
        expect(found.leftOut).toEqual([]);
        const removed = found.repairs.filter((r) => r.kind === 'double' || r.kind === 'overlap');
        expect(removed.length).toBeGreaterThanOrEqual(again.length);
        expect(codesOf(found)).toContain('doubled-lines');
      }),
      RUNS,
    );
  });

  it('moves nothing further than the ends of lines are off, and enters every end that it joins', () => {
    const off = fc.array(fc.double({ min: -0.003, max: 0.003, noNaN: true }), {
      minLength: 31,
      maxLength: 61,
    });
    fc.assert(
      fc.property(plates, off, (rings, noise) => {
        const whole = stretchesOf(rings);
        const known = read(entitiesOf(whole)).parts;
        let k = 0;
        const shaken = (p: Point): Point => ({
          x: p.x + noise[k++ % noise.length]!,
          y: p.y + noise[k++ % noise.length]!,
        });
        const found = read(entitiesOf(whole.map((s) => ({ ...s, from: shaken(s.from), to: shaken(s.to) }))));
        expect(found.unclear).toEqual([]);
        expectSameParts(found.parts, known, 0.012);
        for (const r of found.repairs) expect(r.deviation).toBeLessThanOrEqual(0.01);
      }),
      RUNS,
    );
  });

  it('commutes with turning, moving and mirroring the drawing', () => {
    const motion = fc.record({
      turn: fc.double({ min: -3, max: 3, noNaN: true }),
      dx: fc.integer({ min: -5000, max: 5000 }),
      dy: fc.integer({ min: -5000, max: 5000 }),
      mirror: fc.boolean(),
    });
    fc.assert(
      fc.property(plates, motion, (rings, m) => {
        const [c, s] = [Math.cos(m.turn), Math.sin(m.turn)];
        const at = (p: Point): Point => {
          const y = m.mirror ? -p.y : p.y;
          return { x: snap(m.dx + c * p.x - s * y), y: snap(m.dy + s * p.x + c * y) };
        };
        const moved = (t: Stretch): Stretch => ({
          from: at(t.from),
          to: at(t.to),
          bulge: m.mirror ? -t.bulge + 0 : t.bulge,
        });
        const whole = stretchesOf(rings);
        const known = read(entitiesOf(whole)).parts.map((p) => {
          const ring = (r: Ring): Ring => ({
            vertices: r.vertices.map((v) => ({ ...v, ...at(v), bulge: m.mirror ? -v.bulge + 0 : v.bulge })),
          });
          const contour = <C extends typeof p.outline>(k: C): C => ({ ...k, ring: ring(k.ring) });
          return { ...p, outline: contour(p.outline), through: p.through.map(contour) };
        });
        // A mirrored ring runs clockwise; only where it runs matters here.
        const found = read(entitiesOf(whole.map(moved))).parts;
        expect(found.length).toBe(known.length);
        expectSameParts(
          found,
          known.map((p) =>
            m.mirror
              ? {
                  ...p,
                  outline: { ...p.outline, ring: turned(p.outline.ring) },
                  through: p.through.map((t) => ({ ...t, ring: turned(t.ring) })),
                }
              : p,
          ),
          0.001,
        );
      }),
      RUNS,
    );
  });

  it('gives the same report for the same drawing, and every repair a name of its own', () => {
    fc.assert(
      fc.property(plates, keys, (rings, order) => {
        const whole = stretchesOf(rings);
        const drawn = entitiesOf(shuffle([...whole, ...whole.slice(0, 5)], order));
        const [a, b] = [read(drawn), read(drawn)];
        expect(JSON.stringify(b)).toBe(JSON.stringify(a));
        expect(new Set(a.repairs.map((r) => r.id)).size).toBe(a.repairs.length);
        // Plain data: nothing is lost on the way through text.
        expect(JSON.parse(JSON.stringify(a))).toEqual(a);
      }),
      { numRuns: 15, seed: 3 },
    );
  });

  it('undoes any one repair by its name, and all of a kind by the kind', () => {
    fc.assert(
      fc.property(plates, shares, fc.nat(), (rings, at, pick) => {
        const whole = stretchesOf(rings);
        const drawn = entitiesOf([
          ...whole.flatMap((s, i) => (i % 5 === 2 ? [cutOut(s, 0, at[0]!), cutOut(s, at[0]!, 1)] : [s])),
          ...whole.slice(0, 2),
        ]);
        const before = read(drawn);
        const one = before.repairs[pick % before.repairs.length]!;
        const without = read(drawn, { keep: [one.id] });
        expect(without.repairs.map((r) => r.id)).not.toContain(one.id);
        expect(without.kept).toContainEqual(one);
        expect(codesOf(without)).not.toContain('keep-unknown');
        const kinds = [...new Set(before.repairs.map((r) => r.kind))];
        const asDrawn = read(drawn, { keep: kinds as RepairKind[] });
        expect(asDrawn.repairs.filter((r) => kinds.includes(r.kind))).toEqual([]);
      }),
      { numRuns: 30, seed: 5 },
    );
  });
});

const turned = (r: Ring): Ring => {
  const n = r.vertices.length;
  return {
    vertices: r.vertices.map((_, i) => {
      const v = r.vertices[n - 1 - i]!;
      const before = r.vertices[(2 * n - 2 - i) % n]!;
      return { x: v.x, y: v.y, bulge: -before.bulge + 0 };
    }),
  };
};
