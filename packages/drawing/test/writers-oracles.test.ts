import { type Ring, ring } from '@haunch/geometry';
import { parseString } from 'dxf';
import DxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DrawnSheet, formatDxf, readDxf } from '../src/index.js';

// Two general-purpose readers of other authors (MIT) as independent witnesses of what our files say.
const length = fc.integer({ min: -20_000_000, max: 20_000_000 }).map((v) => v / 10_000);
const bulge = fc.constantFrom(0, 0, 0.5, -0.25, Math.SQRT2 - 1, 1);
/** A convex ring, so that every one is sound: corners on a circle in turn. */
const convex = fc
  .tuple(length, length, fc.integer({ min: 10, max: 500 }), fc.array(bulge, { minLength: 3, maxLength: 9 }))
  .map(([x, y, r, bulges]): Ring => {
    const n = bulges.length;
    const at = (v: number): number => Math.round(v * 10_000) / 10_000;
    return ring(
      bulges.map((b, i) => ({
        x: at(x + r * Math.cos((2 * Math.PI * i) / n)),
        y: at(y + r * Math.sin((2 * Math.PI * i) / n)),
        bulge: b,
      })),
    );
  });
const name = fc.constantFrom('Side', 'TÜR', 'a/b:c', 'Left "1"', '棚', 'x|y=z', '0');
const sheet: fc.Arbitrary<DrawnSheet> = fc.record({
  title: fc.constantFrom('Shelf', 'Tür ½\nzwei', ''),
  layers: fc.constant([{ name: 'Side', colour: 3 }]),
  curves: fc.array(fc.record({ layer: name, ring: convex, elevation: length, depth: length }), {
    maxLength: 4,
  }),
  circles: fc.array(
    fc.record({
      layer: name,
      centre: fc.record({ x: length, y: length }),
      radius: fc.integer({ min: 1, max: 9999 }).map((v) => v / 100),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  texts: fc.array(
    fc.record({
      layer: name,
      at: fc.record({ x: length, y: length }),
      height: fc.integer({ min: 1, max: 50 }),
      text: fc.constantFrom('A-1', 'links oben', '100%'),
    }),
    { maxLength: 3 },
  ),
});

interface Loose {
  readonly type: string;
  readonly layer: string;
  readonly vertices?: readonly { x: number; y: number; bulge?: number }[];
  readonly [key: string]: unknown;
}
type Rows = readonly (readonly number[])[];
const isPoly = (e: Loose): boolean => e.type === 'POLYLINE' || e.type === 'LWPOLYLINE';
const corners = (e: Loose): Rows => e.vertices!.map((v) => [v.x, v.y, v.bulge ?? 0]);
const wanted = (r: Ring): Rows => r.vertices.map((v) => [v.x, v.y, expect.closeTo(v.bulge, 11) as number]);

describe.each(['R12', '2000'] as const)('version %s', (version) => {
  it('says to the first witness what was drawn', () => {
    fc.assert(
      fc.property(sheet, (s) => {
        const read = new DxfParser().parseSync(formatDxf(s, { version }))!;
        const all = read.entities as unknown as Loose[];
        expect(read.header.$ACADVER).toBe(version === 'R12' ? 'AC1009' : 'AC1015');
        expect(all.length).toBe(s.curves.length + s.circles.length + s.texts.length);
        expect(all.filter(isPoly).map(corners)).toEqual(s.curves.map((c) => wanted(c.ring)));
        const round = all.filter((e) => e.type === 'CIRCLE') as unknown as {
          center: { x: number; y: number };
          radius: number;
        }[];
        expect(round.map((c) => [c.center.x, c.center.y, c.radius])).toEqual(
          s.circles.map((c) => [c.centre.x, c.centre.y, c.radius]),
        );
        const words = all.filter((e) => e.type === 'TEXT') as unknown as {
          startPoint: { x: number; y: number };
          text: string;
          textHeight: number;
        }[];
        expect(words.map((t) => [t.startPoint.x, t.startPoint.y, t.textHeight, t.text])).toEqual(
          s.texts.map((t) => [t.at.x, t.at.y, t.height, t.text]),
        );
        const table = Object.keys(
          (read.tables as unknown as { layer: { layers: Record<string, unknown> } }).layer.layers,
        );
        for (const e of all) expect(table).toContain(e.layer);
      }),
      { numRuns: 60, seed: 8 },
    );
  });

  it('says to the second witness what was drawn', () => {
    fc.assert(
      fc.property(sheet, (s) => {
        const all = parseString(formatDxf(s, { version })).entities as unknown as Loose[];
        expect(all.length).toBe(s.curves.length + s.circles.length + s.texts.length);
        expect(all.filter(isPoly).map(corners)).toEqual(s.curves.map((c) => wanted(c.ring)));
        expect(all.filter((e) => e.type === 'CIRCLE').map((c) => [c.x, c.y, c.r])).toEqual(
          s.circles.map((c) => [c.centre.x, c.centre.y, c.radius]),
        );
        expect(all.filter((e) => e.type === 'TEXT').map((t) => t.string)).toEqual(s.texts.map((t) => t.text));
      }),
      { numRuns: 60, seed: 9 },
    );
  });

  it('says to us what was drawn, heights and depths too', () => {
    fc.assert(
      fc.property(sheet, (s) => {
        const r = readDxf(formatDxf(s, { version }));
        if (!r.ok) throw new Error(r.diagnostics[0]!.message);
        const polys = r.value.entities.flatMap((e) => (e.kind === 'polyline' ? [e] : []));
        expect(polys.map((e) => [e.elevation, e.depth, e.closed])).toEqual(
          s.curves.map((c) => [(c.elevation ?? 0) + 0, (c.depth ?? 0) + 0, true]),
        );
        expect(polys.map((e) => e.vertices.map((v) => [v.x, v.y, v.bulge]))).toEqual(
          s.curves.map((c) => wanted(c.ring)),
        );
      }),
      { numRuns: 60, seed: 10 },
    );
  });
});
