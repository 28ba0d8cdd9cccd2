import { polygonRing, ringArea, ringProblems } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boardsOfJob } from './boards-of-job.js';
import { JobBoardSchema } from './job-schema.js';
import { joinBoxes } from './join-off-cuts.js';
import { areaLeft, leftForJob } from './off-cuts-left.js';

const box = (minX: number, minY: number, maxX: number, maxY: number) => ({ minX, minY, maxX, maxY });

describe('two rectangles that touch', () => {
  it('are an L, whichever lies where, whose area is theirs', () => {
    const [low, high] = [box(0, 0, 900, 200), box(0, 200, 300, 600)];
    for (const [a, b] of [
      [low, high],
      [high, low],
    ] as const) {
      const corners = joinBoxes(a, b, 100)!;
      expect(corners).toHaveLength(6);
      expect(ringProblems(polygonRing(corners))).toEqual([]);
      expect(ringArea(polygonRing(corners))).toBe(900 * 200 + 300 * 400);
    }
  });

  it('keep the narrow gap of their rounding out of what lies beside one of them alone', () => {
    const corners = joinBoxes(box(0, 0, 300, 600), box(300.1, 100, 900, 700), 100)!;
    expect(corners).toContainEqual({ x: 300, y: 100 });
    expect(corners).toContainEqual({ x: 300.1, y: 600 });
    expect(ringArea(polygonRing(corners))).toBeCloseTo(300 * 600 + 599.9 * 600 + 0.1 * 500, 6);
  });

  it('stay two where they touch along too little, lie apart, or where no larger rectangle runs through both', () => {
    expect(joinBoxes(box(0, 0, 300, 600), box(300, 510, 900, 700), 100)).toBeUndefined();
    expect(joinBoxes(box(0, 0, 300, 600), box(301, 0, 900, 600), 100)).toBeUndefined();
    expect(joinBoxes(box(0, 0, 300, 1000), box(300, 0, 1200, 120), 121)).toBeUndefined();
    expect(joinBoxes(box(0, 0, 300, 1000), box(300, 880, 450, 2880), 100)).toBeUndefined();
  });

  it('are simple outlines with the area of both, always', () => {
    const at = fc.integer({ min: 0, max: 900 });
    const long = fc.integer({ min: 100, max: 900 });
    fc.assert(
      fc.property(at, long, long, at, long, long, fc.boolean(), (y, w, h, v, w2, h2, up) => {
        const [a, b] = [box(0, y, w, y + h), box(w, v, w + w2, v + h2)];
        const turn = (r: typeof a) => (up ? box(r.minY, r.minX, r.maxY, r.maxX) : r);
        const corners = joinBoxes(turn(a), turn(b), 100);
        if (!corners) return;
        expect(ringProblems(polygonRing(corners))).toEqual([]);
        expect(ringArea(polygonRing(corners))).toBe(w * h + w2 * h2);
      }),
    );
  });
});

it('an L that is left is a board of the next job, with its outline and its place in the sheet', () => {
  const of = JobBoardSchema.parse({
    id: 'sheet',
    width: 2000,
    height: 1000,
    nominal: 18,
    readings: [
      { at: [10, 10], thickness: 18 },
      { at: [1990, 10], thickness: 18.2 },
      { at: [10, 990], thickness: 18 },
    ],
  });
  const left = {
    id: 'sheet-rest',
    board: 'sheet',
    x: 1000,
    y: 300,
    width: 900,
    height: 600,
    outline: [
      { x: 0, y: 0 },
      { x: 900, y: 0 },
      { x: 900, y: 200 },
      { x: 300, y: 200 },
      { x: 300, y: 600 },
      { x: 0, y: 600 },
    ],
  };
  expect(areaLeft(left)).toBe(900 * 200 + 300 * 400);
  const { boards, problems } = boardsOfJob([JobBoardSchema.parse(leftForJob(of, left))], 'job.json', () => 1);
  expect(problems.filter((p) => p.level === 'error')).toEqual([]);
  expect(boards[0]!.outline).toEqual(polygonRing(left.outline));
  expect(boards[0]!.thickness).toBeGreaterThan(18.1);
});
