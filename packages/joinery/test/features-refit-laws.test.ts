import { type Point, polygonRing, ring, ringProblems, ringSegments } from '@haunch/geometry';
import type { Feature, FeatureTable, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recogniseFeatures, refitByFeatures } from '../src/index.js';
import { valueIn } from './demo.js';
import { partOf, plateOf, plateSpec, slotRing } from './features-pieces.js';

/** The grid, once for each end of a length. mm */
const GRID = 1.5e-4;

const tableOf = (parts: readonly Part[], t: number): FeatureTable =>
  valueIn(recogniseFeatures(parts, { thicknesses: [t] }));

/** Where the edge of a name starts. */
function startOf(part: Part, edge: string): Point {
  const v = [part.outline, ...part.through, ...part.pockets]
    .flatMap((c) => c.ring.vertices)
    .find((x) => x.tag === edge);
  if (!v) throw new Error(`no edge ${edge}`);
  return v;
}

/** How far an edge of the part has moved to the left of where it runs. */
function offsetOf(before: Part, after: Part, edge: string): number {
  const contour = [before.outline, ...before.through].find((c) =>
    c.ring.vertices.some((v) => v.tag === edge),
  )!;
  const { vertices } = contour.ring;
  const i = vertices.findIndex((v) => v.tag === edge);
  const [p, q] = [vertices[i]!, vertices[(i + 1) % vertices.length]!];
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  const now = startOf(after, edge);
  return ((q.x - p.x) * (now.y - p.y) - (q.y - p.y) * (now.x - p.x)) / length;
}

const hold: fc.Arbitrary<Feature['hold']> = fc.constantFrom('usual', 'usual', 'centre', 'first', 'second');
const change = fc.integer({ min: -80, max: 80 }).map((n) => n / 100);

describe('holds', () => {
  it('are kept to the grid whatever they are, or refused as contradictory with what contradicts', () =>
    fc.assert(
      fc.property(
        plateSpec(fc.constant(18)),
        fc.array(hold, { minLength: 24, maxLength: 24 }),
        fc.boolean(),
        change,
        (spec, holds, outer, by) => {
          const part = plateOf('P', { ...spec, fit: 0 });
          const plain = tableOf([part], 18);
          fc.pre(plain.features.length > 0);
          const features = plain.features.map((f, i) => ({ ...f, hold: holds[i % holds.length]! }));
          const table = { ...plain, features, outerSize: outer ? ['P'] : [] };
          const outcome = refitByFeatures([part], table, 18 + by, { leastWeb: 0.1 });
          if (!outcome.ok) {
            for (const d of outcome.diagnostics) {
              expect(d.code).toBe('features/contradictory-holds');
              expect(d.locus.part).toBe('P');
              expect(d.message).toMatch(/P[.a-z]*.* cannot be kept together with .*P/);
            }
            // What may contradict: tips that are held and may not move outwards.
            expect(outer || features.some((f) => f.hold !== 'usual')).toBe(true);
            return;
          }
          const [after] = outcome.value.parts;
          for (const f of features.filter((x) => x.follows)) {
            const moves = f.sides.map((side) => side.map((e) => offsetOf(part, after!, e)));
            if (f.hold === 'first' || f.hold === 'second')
              for (const m of moves[f.hold === 'first' ? 0 : 1]!)
                expect(Math.abs(m)).toBeLessThanOrEqual(GRID);
            // Walls that face each other move against each other, so a middle that stays moves both alike.
            if (f.hold === 'centre' && f.measure === 'width')
              expect(Math.abs(moves[0]![0]! - moves[1]![0]!)).toBeLessThanOrEqual(2 * GRID);
          }
          expect(ringProblems(after!.outline.ring)).toEqual([]);
        },
      ),
    ));

  it('on some of a row move the others along, so that the pitch stays', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 6 }),
        fc.integer({ min: 30, max: 90 }),
        fc.integer({ min: 0, max: 5 }),
        fc.constantFrom<Feature['hold']>('first', 'second', 'centre', 'usual'),
        change,
        (count, pitch, held, how, by) => {
          const xs = Array.from({ length: count }, (_, k) => (k - (count - 1) / 2) * pitch);
          const part = partOf(
            'R',
            slotRing({ x: 0, y: 0 }, count * 90 + 100, 200),
            xs.map((x) => slotRing({ x, y: 0 }, 18, 80)),
          );
          const plain = tableOf([part], 18);
          const features = plain.features.map((f, i) => (i === held % count ? { ...f, hold: how } : f));
          const { parts } = valueIn(refitByFeatures([part], { ...plain, features }, 18 + by));
          const centres = parts[0]!.through.map((c) => {
            const at = c.ring.vertices.map((v) => v.x);
            expect(Math.max(...at) - Math.min(...at)).toBeCloseTo(18 + by, 3);
            return (Math.max(...at) + Math.min(...at)) / 2;
          });
          centres.slice(1).forEach((x, i) => {
            expect(Math.abs(x - centres[i]! - pitch)).toBeLessThanOrEqual(GRID);
          });
        },
      ),
    ));
});

describe('corners of arcs', () => {
  it('of a wall and an arc lie on both again, or the refit is refused where they would not meet', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 200 }).map((n) => n / 10),
        fc.integer({ min: -60, max: 60 }).map((n) => n / 100),
        fc.integer({ min: -40, max: 240 }).map((n) => n / 10),
        (radius, share, by) => {
          // A notch 18 wide about x = 150, its right wall ending on a round shoulder whose centre is at (cx, 100).
          const cx = 159 + radius * share;
          const top = 100 + Math.sqrt(radius ** 2 - (159 - cx) ** 2);
          // From the foot of the shoulder, counter-clockwise over its top to the wall.
          const sweep = Math.atan2(top - 100, 159 - cx);
          const part = partOf(
            'A',
            ring([
              { x: 0, y: 0, bulge: 0 },
              { x: 300, y: 0, bulge: 0 },
              { x: 300, y: 100, bulge: 0 },
              { x: cx + radius, y: 100, bulge: Math.tan(sweep / 4) },
              { x: 159, y: top, bulge: 0 },
              { x: 159, y: 20, bulge: 0 },
              { x: 141, y: 20, bulge: 0 },
              { x: 141, y: 130, bulge: 0 },
              { x: 0, y: 130, bulge: 0 },
            ]),
          );
          const table = tableOf([part], 18);
          fc.pre(table.features.some((f) => f.kind === 'notch' && f.measure === 'width' && f.size === 18));
          fc.pre(table.features.length === 1);
          const wall = 159 + by / 2;
          const outcome = refitByFeatures([part], table, 18 + by);
          const inside = cx + radius - wall;
          if (inside > 0.05) {
            const v = valueIn(outcome).parts[0]!.outline.ring.vertices[4]!;
            expect(Math.abs(v.x - wall)).toBeLessThanOrEqual(GRID);
            expect(Math.abs(Math.hypot(v.x - cx, v.y - 100) - radius)).toBeLessThan(1e-3);
            const arc = ringSegments(valueIn(outcome).parts[0]!.outline.ring).find((s) => s.kind === 'arc');
            if (arc?.kind === 'arc') {
              expect(arc.radius).toBeCloseTo(radius, 2);
              expect(Math.hypot(arc.centre.x - cx, arc.centre.y - 100)).toBeLessThan(0.02);
            }
          } else if (inside < -0.05) {
            expect(outcome.ok).toBe(false);
            expect(outcome.diagnostics[0]!.code).toBe('features/neighbours-part');
          }
        },
      ),
    ));

  it('of two arcs that go along with their walls are cut anew, and the arcs keep their radius', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 120, max: 400 }).map((n) => n / 10),
        fc.integer({ min: -300, max: 300 }).map((n) => n / 100),
        (radius, by) => {
          // A slot with a pointed arch: each half is an arc that leaves its wall smoothly.
          const arch = (width: number, r: number): Point[] => {
            const apex = Math.sqrt(r ** 2 - (r - width / 2) ** 2);
            return [
              { x: -width / 2, y: 0 },
              { x: width / 2, y: 0 },
              { x: width / 2, y: 90 },
              { x: 0, y: 90 + apex },
              { x: -width / 2, y: 90 },
            ];
          };
          const corners = arch(18, radius);
          const sweep = Math.acos((radius - 9) / radius);
          const slot = ring(
            corners.map((p, i) => ({ ...p, bulge: i === 2 || i === 3 ? Math.tan(sweep / 4) : 0 })),
          );
          const part = partOf('A', slotRing({ x: 0, y: 60 }, 300, 300), [slot]);
          const table = tableOf([part], 18);
          expect(table.features.map((f) => [f.kind, f.size])).toEqual([['slot', 18]]);
          const { ring: after } = valueIn(refitByFeatures([part], table, 18 + by)).parts[0]!.through[0]!;
          const wanted = arch(18 + by, radius);
          after.vertices.forEach((v, i) => {
            expect(Math.hypot(v.x - wanted[i]!.x, v.y - wanted[i]!.y)).toBeLessThan(5e-4);
          });
          for (const s of ringSegments(after)) if (s.kind === 'arc') expect(s.radius).toBeCloseTo(radius, 1);
        },
      ),
    ));
});

describe('what cannot be is refused by name, and nothing else is', () => {
  /** Slots or notches 18 wide, so far apart. */
  const comb = (web: number, kind: 'slots' | 'notches'): Part => {
    if (kind === 'slots')
      return partOf('C', slotRing({ x: 0, y: 0 }, 400, 200), [
        slotRing({ x: 0, y: 0 }, 18, 80),
        slotRing({ x: 18 + web, y: 0 }, 18, 80),
      ]);
    const corners: Point[] = [{ x: 0, y: 0 }, { x: 0, y: 200 }]; // biome-ignore format: short
    for (const x of [100, 118 + web])
      corners.push({ x, y: 200 }, { x, y: 120 }, { x: x + 18, y: 120 }, { x: x + 18, y: 200 });
    corners.push({ x: 300, y: 200 }, { x: 300, y: 0 });
    return partOf('C', polygonRing(corners.reverse()));
  };

  it.each(['slots', 'notches'] as const)('the material between two %s', (kind) =>
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 120 }).map((n) => n / 10),
        fc.integer({ min: -20, max: 80 }).map((n) => n / 10),
        fc.integer({ min: 5, max: 80 }).map((n) => n / 10),
        (web, by, leastWeb) => {
          const part = comb(web, kind);
          const table = tableOf([part], 18);
          fc.pre(
            table.features.length === 2 && table.features.every((f) => f.follows && f.measure === 'width'),
          );
          const left = web - by;
          const least = Math.min(leastWeb, 0.8 * web);
          fc.pre(Math.abs(left - least) > 0.01 && Math.abs(left) > 0.01);
          const outcome = refitByFeatures([part], table, 18 + by, { leastWeb });
          const codes = outcome.diagnostics.map((d) => d.code);
          if (by <= 0 || left > least) expect([outcome.ok, codes]).toEqual([true, []]);
          else if (left > 0) {
            expect(codes).toEqual(['features/web-too-thin']);
            expect(outcome.diagnostics[0]!.message).toContain(`${Number(left.toFixed(3))} mm thin`);
            expect(outcome.diagnostics[0]!.locus.feature).toMatch(/^C\.(slot|notch)-[12]$/);
          } else expect(codes).toEqual([kind === 'slots' ? 'features/crosses' : 'features/vanishes']);
        },
      ),
    ),
  );

  it('whatever is asked of any plate: what comes back is sound, and what does not is named', () =>
    fc.assert(
      fc.property(plateSpec(fc.constant(12)), fc.integer({ min: 20, max: 420 }), (spec, n) => {
        const part = plateOf('P', spec);
        const table = tableOf([part], 12);
        const outcome = refitByFeatures([part], table, n / 10, { leastWeb: 1 });
        if (!outcome.ok) {
          for (const d of outcome.diagnostics) {
            // Three times as thick or as thin is the most.
            const named =
              n > 360 || n < 40 ? ['too-far'] : ['web-too-thin', 'vanishes', 'neighbours-part', 'crosses'];
            expect(named).toContain(d.code.slice(9));
            expect([d.locus.part, d.hint === '']).toEqual(['P', false]);
          }
          return;
        }
        const [after] = outcome.value.parts;
        for (const c of [after!.outline, ...after!.through]) expect(ringProblems(c.ring)).toEqual([]);
      }),
    ));
});
