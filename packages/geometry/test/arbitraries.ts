import fc from 'fast-check';
import { type Point, polygonRing, type Ring, ring, type Segment } from '../src/index.js';

/** A number on a decimal grid between two limits, as coordinates in drawings are. */
export const gridNumber = (min: number, max: number, perUnit = 1000): fc.Arbitrary<number> =>
  fc.integer({ min: min * perUnit, max: max * perUnit }).map((n) => n / perUnit);

export const anyPoint = (reach = 100): fc.Arbitrary<Point> =>
  fc.record({ x: gridNumber(-reach, reach), y: gridNumber(-reach, reach) });

export const anyLine = (reach = 100): fc.Arbitrary<Segment> =>
  fc
    .tuple(anyPoint(reach), anyPoint(reach))
    .filter(([a, b]) => Math.hypot(b.x - a.x, b.y - a.y) > 0.01)
    .map(([from, to]) => ({ kind: 'line', from, to }));

export const anyArc = (reach = 100): fc.Arbitrary<Segment> =>
  fc
    .tuple(
      anyPoint(reach),
      gridNumber(0.1, reach, 100),
      gridNumber(-3, 3.28),
      gridNumber(0.01, 6.2),
      fc.boolean(),
    )
    .map(([centre, radius, start, turn, left]) => {
      const sweep = left ? turn : -turn;
      const at = (a: number) => ({ x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) });
      return { kind: 'arc', from: at(start), to: at(start + sweep), centre, radius, sweep };
    });

export const anySegment = (reach = 100): fc.Arbitrary<Segment> => fc.oneof(anyLine(reach), anyArc(reach));

/** Counter-clockwise polygon whose corners are seen from the origin in order; simple by construction. */
export const starPolygon = (corners = { min: 3, max: 16 }): fc.Arbitrary<Point[]> =>
  fc
    .array(fc.record({ r: gridNumber(5, 60, 100), weight: fc.integer({ min: 10, max: 100 }) }), {
      minLength: corners.min,
      maxLength: corners.max,
    })
    .map((rays) => {
      const total = rays.reduce((sum, ray) => sum + ray.weight, 0);
      let angle = 0.1234;
      return rays.map(({ r, weight }) => {
        // Never half a turn between neighbours, so that the origin stays inside.
        angle += (2 * Math.PI * weight) / total;
        return { x: r * Math.cos(angle), y: r * Math.sin(angle) };
      });
    })
    .filter((p) =>
      p.every((a, i) => {
        const b = p[(i + 1) % p.length]!;
        return a.x * b.y - a.y * b.x > 1;
      }),
    );

export const starRing = (corners = { min: 3, max: 16 }): fc.Arbitrary<Ring> =>
  starPolygon(corners).map(polygonRing);

/** Corners in order on an ellipse: a convex polygon. */
export const convexPolygon: fc.Arbitrary<Point[]> = fc
  .tuple(
    fc.array(fc.integer({ min: 10, max: 100 }), { minLength: 3, maxLength: 12 }),
    gridNumber(10, 80),
    gridNumber(10, 80),
    gridNumber(0, 3),
  )
  .map(([weights, a, b, start]) => {
    const total = weights.reduce((sum, w) => sum + w, 0);
    let angle = start;
    return weights.map((w) => {
      angle += (2 * Math.PI * w) / total;
      return { x: a * Math.cos(angle), y: b * Math.sin(angle) };
    });
  });

/**
 * A star-shaped ring whose sides bulge in and out a little: arcs of both turns. The bulge is limited so that a
 * side stays in its own sector as seen from the origin, which keeps the ring simple.
 */
export const bulgedRing = (corners = { min: 3, max: 12 }): fc.Arbitrary<Ring> =>
  fc
    .tuple(starPolygon(corners), fc.array(gridNumber(-1, 1, 100), { minLength: 12, maxLength: 12 }))
    .map(([p, bulges]) =>
      ring(
        p.map((v, i) => {
          const w = p[(i + 1) % p.length]!;
          const chord = { x: w.x - v.x, y: w.y - v.y };
          const length = Math.hypot(chord.x, chord.y);
          // The arc leaves each end within the angle between the chord and the ray from the origin; half the
          // sweep is that angle, and bulge = tan(sweep / 4).
          const angle = (a: Point, sign: number) =>
            Math.acos(
              Math.max(
                -1,
                Math.min(1, (sign * (chord.x * a.x + chord.y * a.y)) / (length * Math.hypot(a.x, a.y))),
              ),
            );
          const room =
            bulges[i]! > 0
              ? Math.min(angle(v, 1), angle(w, -1))
              : Math.min(Math.PI - angle(v, 1), Math.PI - angle(w, -1));
          const bulge = bulges[i]! * Math.min(1, Math.tan(Math.min(room, 3) / 2) * 0.9);
          return { ...v, bulge: Math.abs(bulge) < 0.01 ? 0 : bulge };
        }),
      ),
    );

/**
 * The outline of a plate with square notches from its upper side: axis-parallel, many reflex corners.
 */
export const combRing: fc.Arbitrary<Ring> = fc
  .array(
    fc.record({ tooth: gridNumber(4, 40, 10), gap: gridNumber(4, 40, 10), depth: gridNumber(2, 50, 10) }),
    {
      minLength: 1,
      maxLength: 6,
    },
  )
  .map((teeth) => {
    const corners: Point[] = [{ x: 0, y: 0 }];
    const upper: Point[] = [{ x: 0, y: 60 }];
    let x = 0;
    for (const t of teeth) {
      upper.push({ x: x + t.tooth, y: 60 }, { x: x + t.tooth, y: 60 - t.depth });
      x += t.tooth + t.gap;
      upper.push({ x, y: 60 - t.depth }, { x, y: 60 });
    }
    upper.push({ x: x + 10, y: 60 });
    corners.push({ x: x + 10, y: 0 }, ...upper.reverse());
    return polygonRing(corners);
  });
