import { distance, type Point, type Segment } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meetAgain } from './meet.js';

const STAY: Point = { x: 0, y: 0 };
const line = (x0: number, y0: number, x1: number, y1: number): Segment => ({
  kind: 'line',
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
});
/** A piece of the circle round (cx, cy) between two directions, radians. */
const arc = (cx: number, cy: number, radius: number, a: number, b: number): Segment => ({
  kind: 'arc',
  centre: { x: cx, y: cy },
  radius,
  from: { x: cx + radius * Math.cos(a), y: cy + radius * Math.sin(a) },
  to: { x: cx + radius * Math.cos(b), y: cy + radius * Math.sin(b) },
  sweep: b - a,
});

describe('neighbours met again', () => {
  it('let a line slide along an arc, on the side of the old corner', () => {
    // A slot's wall at x = 3 opens into a circle of 5; moved to x = 4 it meets it at height 3, not at −3.
    const wall = line(3, 0, 3, 4);
    const p = meetAgain(wall, { x: 1, y: 0 }, arc(0, 0, 5, Math.atan2(4, 3), Math.PI), STAY, { x: 3, y: 4 });
    expect(p!.x).toBeCloseTo(4, 12);
    expect(p!.y).toBeCloseTo(3, 12);
  });

  it('let an arc slide along an arc', () => {
    // Circles of 5 round (0, 0) and (6, 0) meet at (3, ±4); with the second at (8, 0) at (4, ±3).
    const a = arc(0, 0, 5, 0, Math.atan2(4, 3));
    const b = arc(6, 0, 5, Math.atan2(4, -3), Math.PI);
    const p = meetAgain(a, STAY, b, { x: 2, y: 0 }, { x: 3, y: 4 });
    expect(p!.x).toBeCloseTo(4, 12);
    expect(p!.y).toBeCloseTo(3, 12);
  });

  it('keep a rounding tangent to its line, even where its coordinates are rounded', () => {
    const rounding = arc(10, 5.00004, 5, -Math.PI / 2, 0);
    const p = meetAgain(line(0, 0, 10, 0), STAY, rounding, { x: 2, y: 0 }, { x: 10, y: 0 });
    expect(distance(p!, { x: 12, y: 0 })).toBeLessThan(1e-9);
  });

  it('keep two tangent arcs touching', () => {
    // Circles of 5 and 3 that touch from outside at (5, 0); both turn about the first one's centre.
    const a = arc(0, 0, 5, -1, 0);
    const b = arc(8, 0, 3, Math.PI, 2);
    const p = meetAgain(a, STAY, b, { x: 8 * Math.cos(0.1) - 8, y: 8 * Math.sin(0.1) }, { x: 5, y: 0 });
    expect(p!.x).toBeCloseTo(5 * Math.cos(0.1), 9);
    expect(p!.y).toBeCloseTo(5 * Math.sin(0.1), 9);
  });

  it('keep the corner of collinear lines in its place along them, and part where only one moves', () => {
    const [a, b] = [line(0, 0, 5, 0), line(5, 0, 9, 0)];
    expect(meetAgain(a, { x: 0, y: 1 }, b, { x: 0, y: 1 }, { x: 5, y: 0 })).toEqual({ x: 5, y: 1 });
    expect(meetAgain(a, { x: 0, y: 1 }, b, { x: 0, y: 1.0004 }, { x: 5, y: 0 })).toEqual({ x: 5, y: 1 });
    expect(meetAgain(a, { x: 0, y: 1 }, b, STAY, { x: 5, y: 0 })).toBeUndefined();
  });

  it('are nothing where line and arc no longer reach each other', () =>
    expect(
      meetAgain(line(3, 0, 3, 4), { x: 3, y: 0 }, arc(0, 0, 5, 0.9, 2), STAY, { x: 3, y: 4 }),
    ).toBeUndefined());

  it('meet on both carriers, whatever their directions', () => {
    const value = fc.double({ min: -50, max: 50, noNaN: true });
    const angle = fc.double({ min: 0, max: Math.PI, noNaN: true });
    const bend = fc.double({ min: 0.06, max: 3, noNaN: true });
    fc.assert(
      fc.property(angle, bend, value, value, (a, more, da, db) => {
        const b = a + more;
        const first = line(-Math.cos(a), -Math.sin(a), 0, 0);
        const second = line(0, 0, Math.cos(b), Math.sin(b));
        const byA = { x: -Math.sin(a) * da, y: Math.cos(a) * da };
        const byB = { x: -Math.sin(b) * db, y: Math.cos(b) * db };
        const p = meetAgain(first, byA, second, byB, { x: 0, y: 0 })!;
        expect(-Math.sin(a) * p.x + Math.cos(a) * p.y).toBeCloseTo(da, 6);
        expect(-Math.sin(b) * p.x + Math.cos(b) * p.y).toBeCloseTo(db, 6);
      }),
    );
  });
});
