import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bulgedRing, combRing, starRing } from '../test/arbitraries.js';
import { ringCorners } from './corner.js';
import { offsetRing } from './offset-ring.js';
import { polygonRing, rectangleRing, reverseRing, ring, ringSegments, snapRing } from './ring.js';
import { startDirection } from './segment-course.js';

const anyRing = fc.oneof(starRing(), bulgedRing(), combRing);

describe('ringCorners', () => {
  it('has turns that with the sweeps of arcs add up to a full turn', () => {
    fc.assert(
      fc.property(anyRing, (r) => {
        const sweeps = ringSegments(r).reduce((sum, s) => sum + (s.kind === 'arc' ? s.sweep : 0), 0);
        const turns = ringCorners(r).reduce((sum, c) => sum + c.turn, 0);
        // Turns below the snapping limit are given as 0, hence the third digit.
        expect(turns + sweeps).toBeCloseTo(2 * Math.PI, 3);
        expect(ringCorners(reverseRing(r)).reduce((sum, c) => sum + c.turn, 0)).toBeCloseTo(-turns, 9);
      }),
      { numRuns: 300 },
    );
  });

  it('gives 0 where an arc runs on tangentially, even after snapping', () => {
    const rounded = snapRing(
      offsetRing(
        polygonRing([
          { x: 0, y: 0 },
          { x: 41.3, y: 7.7 },
          { x: 13.1, y: 29.9 },
        ]),
        { by: 2.345 },
      )[0]!,
    );
    expect(rounded.vertices).toHaveLength(6);
    expect(ringCorners(rounded).map((c) => c.turn)).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it('tells the corners of a rectangle and of a notch apart by sign, with vertex numbers and sides', () => {
    expect(ringCorners(rectangleRing(0, 0, 4, 2)).map((c) => c.turn)).toEqual(Array(4).fill(Math.PI / 2));
    const notched = polygonRing([
      { x: 0, y: 0 },
      { x: 9, y: 0 },
      { x: 9, y: 0 },
      { x: 9, y: 9 },
      { x: 6, y: 9 },
      { x: 6, y: 5 },
      { x: 3, y: 5 },
      { x: 3, y: 9 },
      { x: 0, y: 9 },
    ]);
    const corners = ringCorners(notched);
    // Vertex 1 starts a segment of no length and is left out.
    expect(corners.map((c) => c.index)).toEqual([0, 2, 3, 4, 5, 6, 7, 8]);
    expect(corners.map((c) => Math.sign(c.turn))).toEqual([1, 1, 1, 1, -1, -1, 1, 1]);
    for (const c of corners) {
      expect(c.before.to).toMatchObject(c.at);
      expect(startDirection(c.after)).toEqual(startDirection(ringSegments(notched)[corners.indexOf(c)]!));
    }
  });

  it('knows to which side a cusp turns back', () => {
    // A crescent: both tips turn back; the outer arc is walked left, the inner one right. Its tips are sharp.
    const lune = ring([
      { x: 0, y: 0, bulge: 1 },
      { x: 0, y: 10, bulge: -0.999999 },
    ]);
    for (const c of ringCorners(lune)) expect(c.turn).toBeCloseTo(Math.PI, 3);
    // Inside tangency: a circle of 2 taken out of one of 5 from the point where they touch.
    const drop = ring([
      { x: 0, y: 0, bulge: 1 },
      { x: 0, y: 10, bulge: 1 },
      { x: 0, y: 0, bulge: -1 },
      { x: 0, y: 4, bulge: -1 },
    ]);
    expect(ringCorners(drop)[0]!.turn).toBe(Math.PI);
  });
});
