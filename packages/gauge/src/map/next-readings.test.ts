import { type Point, rectangleRing } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EIGHT, mapOf, numbers, SHEET } from '../../test/measured-sheet.js';
import { fitThicknessMap } from './fit-thickness-map.js';
import { nextReadings, readingPlaces } from './next-readings.js';
import { USUAL_REPEATABILITY } from './practice.js';

describe('nextReadings', () => {
  it('asks for places far from those already measured, and each lessens the doubt', () => {
    const map = mapOf([{ thickness: 17.7, at: { x: 60, y: 60 } }]);
    const next = nextReadings(map, SHEET);
    expect(next).toHaveLength(3);
    for (const { before, after } of next) expect(after).toBeLessThan(before);
    expect(next[1]!.before).toBeCloseTo(next[0]!.after, 9);
    expect(next.some((n) => n.at.x > 2000)).toBe(true);
  });

  it('foretells the doubt that is left once a reading is taken there', () => {
    const readings = [EIGHT[0]!, EIGHT[2]!, EIGHT[5]!].map((at) => ({ thickness: 17.7, at }));
    const map = mapOf(readings);
    const where = [{ x: 400, y: 900 }];
    const [next] = nextReadings(map, SHEET, { count: 1, where });
    const after = mapOf([...readings, { thickness: thicknessAt(map, next!.at).thickness, at: next!.at }]);
    // The next fit also learns about the unevenness itself, so it may end a little lower.
    expect(thicknessAt(after, where[0]!).surfaceU / next!.after).toBeGreaterThan(0.7);
    expect(thicknessAt(after, where[0]!).surfaceU / next!.after).toBeLessThan(1.1);
  });
});

describe('nextReadings, together', () => {
  const small = rectangleRing(0, 0, 1200, 300);
  const far = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y);

  /** Whether three places of the grid have this room, by trying all triples. */
  const hasRoom = (taken: readonly Point[], apart: number): boolean => {
    const open = readingPlaces(small).filter((at) => taken.every((o) => far(at, o) >= apart));
    return open.some((a, i) =>
      open.some(
        (b, j) =>
          j > i &&
          far(a, b) >= apart &&
          open.some((c, k) => k > j && far(a, c) >= apart && far(b, c) >= apart),
      ),
    );
  };

  it('are never taken beside each other, nor beside those taken already, where the board has room for that', () => {
    const place = fc.record({ x: fc.integer({ min: 10, max: 1190 }), y: fc.integer({ min: 10, max: 290 }) });
    let roomy = 0;
    const spaced = (taken: readonly Point[], where: readonly Point[]): void => {
      const map = fitThicknessMap(
        taken.map((at) => ({ thickness: 17.7, at })),
        small,
        { nominal: 18 },
      );
      if (!map.ok) throw new Error('no map');
      const next = nextReadings(map.value, small, { taken, where });
      expect(next).toHaveLength(3);
      if (!hasRoom(taken, 200)) return;
      roomy++;
      next.forEach(({ at }, i) => {
        for (const o of [...taken, ...next.slice(0, i).map((n) => n.at)])
          expect(far(at, o)).toBeGreaterThan(199);
      });
    };
    // The places that help most one by one stand in the way of the last here.
    spaced(
      [
        { x: 10, y: 55 },
        { x: 307, y: 125 },
      ],
      [{ x: 376, y: 114 }],
    );
    expect(roomy).toBe(1);
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 3 }), fc.array(place, { maxLength: 6 }), spaced),
      { numRuns: 40 },
    );
    expect(roomy).toBeGreaterThan(30);
  });

  it('are within 2 % of the best three of all (every triple tried)', () => {
    const random = numbers(5);
    for (let run = 0; run < 3; run++) {
      const taken = Array.from({ length: 1 + (run % 4) }, () => ({ x: 2440 * random(), y: 1220 * random() }));
      const where = Array.from({ length: 5 }, () => ({ x: 2440 * random(), y: 1220 * random() }));
      const map = mapOf(
        taken.map((at) => ({ thickness: 17.7 + 0.05 * random(), at })),
        { nominal: 18 },
      );
      const apart = 300;
      const next = nextReadings(map, SHEET, { taken, where, apart });
      // Told by the information form, S⁻¹ = C⁻¹ + Σ b bᵀ / σ², solved for each place that matters: another algebra than the code's.
      const noise = map.local ** 2 + USUAL_REPEATABILITY ** 2;
      const basis = (p: { x: number; y: number }) => {
        const [u, v] = [(p.x - 1220) / 1220, (p.y - 610) / 610];
        return [1, u, v, u * u, u * v, v * v];
      };
      const rms = (chosen: readonly { x: number; y: number }[]): number => {
        const b = chosen.map(basis);
        const cov = (a: number[], c: number[]) =>
          a.reduce((s, x, i) => s + c.reduce((t, y, j) => t + x * map.covariance[i]![j]! * y, 0), 0);
        const k = b.map((a, i) => b.map((c, j) => cov(a, c) + (i === j ? noise : 0)));
        const [[p, q, r], [, t, u], [, , w]] = k as [
          [number, number, number],
          [number, number, number],
          [number, number, number],
        ];
        const det = p * (t * w - u * u) - q * (q * w - u * r) + r * (q * u - t * r);
        const inverse = [
          [(t * w - u * u) / det, (r * u - q * w) / det, (q * u - r * t) / det],
          [(r * u - q * w) / det, (p * w - r * r) / det, (q * r - p * u) / det],
          [(q * u - r * t) / det, (q * r - p * u) / det, (p * t - q * q) / det],
        ];
        const total = where.reduce((sum, place) => {
          const a = basis(place);
          const c = b.map((x) => cov(a, x));
          const lessened = c.reduce(
            (s, x, i) => s + c.reduce((s2, y, j) => s2 + x * inverse[i]![j]! * y, 0),
            0,
          );
          return sum + cov(a, a) - lessened;
        }, 0);
        return Math.sqrt(total / where.length);
      };
      const open = readingPlaces(SHEET).filter((at) => taken.every((o) => far(at, o) >= apart));
      let best = Number.POSITIVE_INFINITY;
      for (let i = 0; i < open.length; i++)
        for (let j = i + 1; j < open.length; j++) {
          if (far(open[i]!, open[j]!) < apart) continue;
          for (let k = j + 1; k < open.length; k++)
            if (far(open[i]!, open[k]!) >= apart && far(open[j]!, open[k]!) >= apart)
              best = Math.min(best, rms([open[i]!, open[j]!, open[k]!]));
        }
      expect(rms(next.map((n) => n.at))).toBeCloseTo(next[2]!.after, 9);
      expect(next[2]!.after).toBeLessThan(best * 1.02);
      expect(next[2]!.after).toBeGreaterThan(best * (1 - 1e-9));
    }
  }, 60_000);
});
