import { type Point, polygonRing, type Ring, ring } from '@haunch/geometry';
import type { Feature, FeatureTable, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findThickness, recogniseFeatures, refitByFeatures, thicknessNotes } from '../src/index.js';
import { valueIn } from './demo.js';
import { partOf, plateOf, slotRing, withRoundReliefs, withSquareReliefs } from './features-pieces.js';

// What misleads a reader of real cut files, each drawn anew here; the public drawings themselves are in features-real.test.ts.

const tableOf = (parts: readonly Part[], t: number): FeatureTable =>
  valueIn(recogniseFeatures(parts, { thicknesses: [t], file: 'traps.dxf' }));
const following = (parts: readonly Part[], t: number, kind: Feature['kind']): Feature[] =>
  tableOf(parts, t).features.filter((f) => f.follows && f.kind === kind);

/** A board with a row of slots. */
const board = (id: string, widths: readonly number[], length = 80, make = (r: Ring): Ring => r): Part =>
  partOf(
    id,
    slotRing({ x: 0, y: 0 }, widths.length * 90 + 120, 260),
    widths.map((w, k) => make(slotRing({ x: (k - (widths.length - 1) / 2) * 90, y: 0 }, w, length))),
  );

/** A regular polygon, as circles are drawn where curves are not. */
const polygon = (at: Point, radius: number, sides: number): Ring =>
  polygonRing(
    Array.from({ length: sides }, (_, k) => {
      const a = ((k + 0.5) / sides) * 2 * Math.PI;
      return { x: at.x + radius * Math.cos(a), y: at.y + radius * Math.sin(a) };
    }),
  );

/** A slot with half-round ends. */
const roundEnded = (at: Point, width: number, length: number): Ring =>
  ring([
    { x: at.x + width / 2, y: at.y - length / 2, bulge: 0 },
    { x: at.x + width / 2, y: at.y + length / 2, bulge: 1 },
    { x: at.x - width / 2, y: at.y + length / 2, bulge: 0 },
    { x: at.x - width / 2, y: at.y - length / 2, bulge: 1 },
  ]);

/** Half circles through inside corners, as polygons of so many sides. */
const withPolygonReliefs = (r: Ring, radius: number, air: -1 | 1, sides: number): Ring => {
  const v = withRoundReliefs(r, radius, air).vertices;
  return polygonRing(
    v.flatMap((p, i): Point[] => {
      if (p.bulge === 0) return [p];
      const q = v[(i + 1) % v.length]!;
      const mid = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
      const start = Math.atan2(p.y - mid.y, p.x - mid.x);
      return Array.from({ length: sides }, (_, k) => {
        const a = start + (p.bulge > 0 ? 1 : -1) * (k / sides) * Math.PI;
        return {
          x: mid.x + (Math.hypot(q.x - p.x, q.y - p.y) / 2) * Math.cos(a),
          y: mid.y + (Math.hypot(q.x - p.x, q.y - p.y) / 2) * Math.sin(a),
        };
      });
    }),
  );
};

describe('a kerf or a clearance that is drawn', () => {
  it('splits the peak: the middle is offered with both halves, and both halves follow it', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 28, max: 92 }).map((n) => n / 10 + 0.03),
        fc.integer({ min: 5, max: 15 }).map((n) => n / 100),
        (t, kerf) => {
          const p = plateOf('K', {
            t: t + kerf / 2,
            tenons: 3,
            notches: 2,
            fingers: 3,
            slots: 4,
            reliefs: 'none',
            fit: -kerf,
          });
          const finding = findThickness([p]);
          const near = finding.candidates.find((c) => c.drawnFit !== null && Math.abs(c.value - t) < 0.002);
          expect(near?.drawnFit).toBeCloseTo(kerf, 3);
          expect(Math.abs(finding.value! - t)).toBeLessThanOrEqual(kerf / 2 + 0.002);
          expect(following([p], t, 'slot').length).toBe(4);
        },
      ),
    ));

  it('of more than a fit counts where three slots share it, and it is said', () => {
    const found = recogniseFeatures([board('A', [18, 19, 19, 19])], { thicknesses: [18], file: 'a.dxf' });
    expect(valueIn(found).features.map((f) => [f.follows, f.size])).toEqual([
      [true, 18],
      [true, 19],
      [true, 19],
      [true, 19],
    ]);
    const [d] = found.diagnostics;
    expect(found.diagnostics.map((x) => [x.code, x.level])).toEqual([['features/loose-slots', 'warning']]);
    expect(d!.message).toContain('3 slots are 19 mm wide');
    expect(d!.message).toContain('1 mm of clearance');
    const to = valueIn(refitByFeatures([board('A', [18, 19, 19, 19])], valueIn(found), 17));
    expect(to.table.features.map((f) => f.size)).toEqual([17, 18, 18, 18]);
  });

  it('does not count for two slots, nor beyond 6 %, nor where something steps by as much', () => {
    for (const widths of [
      [18, 19, 19],
      [18, 19.2, 19.2, 19.2],
    ])
      expect(following([board('A', widths)], 18, 'slot').map((f) => f.size)).toEqual([18]);
    // Three tenons 19 deep speak for a sheet of 19 mm.
    const tenons = plateOf('T', {
      t: 19,
      tenons: 3,
      notches: 0,
      fingers: 0,
      slots: 0,
      reliefs: 'none',
      fit: 0,
    });
    const both = [board('A', [18, 19, 19, 19]), tenons];
    expect(following(both, 18, 'slot').map((f) => f.size)).toEqual([18]);
  });
});

describe('reliefs of every shape', () => {
  const square = (r: Ring): Ring => withSquareReliefs(r, 5, 1);
  const shapes: [string, (r: Ring) => Ring][] = [
    ['round', (r) => withRoundReliefs(r, 3, 1)],
    ['square', square],
    ['polygons of eight sides', (r) => withPolygonReliefs(r, 3, 1, 8)],
    ['polygons of twenty sides', (r) => withPolygonReliefs(r, 3, 1, 20)],
  ];

  it.each(shapes)(
    '%s: neither their own size nor the sum of slot and relief is taken for the sheet',
    (_, make) => {
      const parts = [board('A', [18, 18, 18, 18], 80, make)];
      const finding = findThickness(parts);
      expect(finding).toMatchObject({ verdict: 'likely', value: 18 });
      expect(finding.candidates.map((c) => c.value)).not.toContain(5);
      expect(finding.candidates.map((c) => c.value)).not.toContain(23);
      expect(tableOf(parts, 18).reliefs.length).toBe(16);
      expect(following(parts, 18, 'slot').map((f) => f.size)).toEqual([18, 18, 18, 18]);
    },
  );

  it.each(shapes)('%s: they keep their shape and travel with their corner', (_, make) => {
    const at = (width: number): Part[] => [board('A', [width, width], 80, make)];
    const table = tableOf(at(18), 18);
    for (const to of [16.5, 17.4, 18.3, 20]) {
      const after = valueIn(refitByFeatures(at(18), table, to)).parts;
      const wanted = at(to);
      after[0]!.through.forEach((c, k) => {
        c.ring.vertices.forEach((v, i) => {
          const w = wanted[0]!.through[k]!.ring.vertices[i]!;
          expect(Math.hypot(v.x - w.x, v.y - w.y)).toBeLessThan(1.5e-4);
          expect(v.bulge).toBeCloseTo(w.bulge, 9);
        });
      });
    }
  });

  it('are none where a tip is rounded, or where an edge swings the other way', () => {
    // A tip whose two corners are rounded, and a wavy run of two arcs where the wall turns: no cutter left those.
    const tip = ring([
      { x: 0, y: 0, bulge: 0 },
      { x: 300, y: 0, bulge: 0 },
      { x: 300, y: 100, bulge: 0 },
      { x: 180, y: 100, bulge: 0 },
      { x: 180, y: 112, bulge: Math.tan(Math.PI / 8) },
      { x: 174, y: 118, bulge: 0 },
      { x: 146, y: 118, bulge: Math.tan(Math.PI / 8) },
      { x: 140, y: 112, bulge: 0 },
      { x: 140, y: 100, bulge: 0 },
      { x: 4, y: 100, bulge: 0.6 },
      { x: 2, y: 98, bulge: -0.6 },
      { x: 0, y: 96, bulge: 0 },
    ]);
    const table = tableOf([partOf('A', tip)], 18);
    expect(table.reliefs).toEqual([]);
    expect(table.features.map((f) => [f.kind, f.size, f.follows])).toEqual([['tenon', 18, true]]);
  });
});

describe('doubled sheets', () => {
  it('are offered under the single sheet, and follow twice the change', () => {
    const parts = [board('D', [36, 36, 36, 36, 18, 18])];
    expect(findThickness(parts)).toMatchObject({ verdict: 'likely', value: 18 });
    const table = tableOf(parts, 18);
    expect(table.features.map((f) => f.sheets).sort()).toEqual([1, 1, 2, 2, 2, 2]);
    const done = valueIn(refitByFeatures(parts, table, 17.4));
    expect(done.table.features.map((f) => f.size).sort()).toEqual([17.4, 17.4, 34.8, 34.8, 34.8, 34.8]);
  });
});

describe('one part a file', () => {
  it('says too little alone and enough together', () => {
    const files = [0, 1, 2, 3].map((k) =>
      partOf(`F${k}`, slotRing({ x: 0, y: 0 }, 200, 100), [slotRing({ x: 0, y: 0 }, 12, 40)]),
    );
    for (const p of files) expect(findThickness([p]).verdict).toBe('none');
    expect(findThickness(files)).toMatchObject({ verdict: 'likely', value: 12 });
  });
});

describe('circles drawn as polygons', () => {
  it('are no slots, however many sides they have and whatever the sheet', () =>
    fc.assert(
      fc.property(fc.integer({ min: 4, max: 24 }), fc.integer({ min: 30, max: 250 }), (half, n) => {
        const t = n / 10;
        const sides = 2 * half;
        // The distance of opposite sides is the thickness: the worst there is.
        const radius = t / 2 / Math.cos(Math.PI / sides);
        const parts = [
          partOf('A', slotRing({ x: 0, y: 0 }, 600, 200), [
            ...[0, 1, 2, 3, 4].map((k) => polygon({ x: k * 100 - 200, y: 0 }, radius, sides)),
          ]),
        ];
        expect(findThickness(parts).verdict).toBe('none');
        expect(tableOf(parts, t).features.filter((f) => f.follows)).toEqual([]);
      }),
    ));
});

describe('slots with half-round ends', () => {
  const disc = (ends: 'square' | 'round'): Part =>
    partOf('D', slotRing({ x: 0, y: 0 }, 400, 260), [
      roundEnded({ x: -120, y: 0 }, 6, 40),
      ...[0, 60, 120].map((x) =>
        ends === 'square' ? slotRing({ x, y: 0 }, 6, 60) : roundEnded({ x, y: 0 }, 6, 60),
      ),
    ]);

  it('are guides where the others end square: they stay as drawn, and the reason is given', () => {
    const features = tableOf([disc('square')], 6).features;
    const left = features.filter((f) => !f.follows);
    expect(left.map((f) => [f.contour, f.size])).toEqual([['D.c1', 6]]);
    expect(left[0]!.reasons.join()).toContain('half round');
    expect(features.filter((f) => f.follows).length).toBe(3);
  });

  it('follow where all slots are drawn so', () => {
    expect(following([disc('round')], 6, 'slot').length).toBe(4);
  });
});

describe('a unit that is not stated', () => {
  it.each([
    ['m', 1000],
    ['cm', 10],
    ['inch', 25.4],
  ] as const)('%s is named where the drawing speaks for a sheet in it, and in mm for none', (unit, mm) => {
    const s = (v: number): number => v / mm;
    const parts = [0, 1, 2].map((k) =>
      partOf(`P${k}`, slotRing({ x: 0, y: 0 }, s(600), s(300)), [
        ...[0, 1, 2].map((i) => slotRing({ x: s(i * 150 - 150), y: 0 }, s(12), s(90))),
      ]),
    );
    const finding = findThickness(parts);
    expect(finding.verdict).toBe('none');
    // What the same lengths mean in other units may be a sheet as well; the one with the most to say is named.
    expect(finding.otherUnit?.unit).toBe(unit);
    expect(finding.otherUnit?.value).toBeCloseTo(12, 6);
    expect(thicknessNotes(finding)[0]!.hint).toContain(`in ${unit}`);
  });
});

describe('parts that slot into nothing', () => {
  it('have no thickness, and no joint is invented where they share whole edges', () => {
    // Houses of paper: walls with gables whose edges lie on each other.
    const gable = (x: number): Ring =>
      polygonRing([
        { x, y: 0 },
        { x: x + 90, y: 0 },
        { x: x + 90, y: 80 },
        { x: x + 45, y: 120 },
        { x, y: 80 },
      ]);
    const parts = [0, 90, 180].map((x, k) =>
      partOf(`W${k}`, gable(x), k === 1 ? [slotRing({ x: x + 45, y: 35 }, 24, 40)] : []),
    );
    expect(findThickness(parts)).toMatchObject({ verdict: 'none', value: null });
    expect(tableOf(parts, 6).features).toEqual([]);
  });
});
