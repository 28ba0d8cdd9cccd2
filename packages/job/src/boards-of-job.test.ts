import { thicknessAt } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { boardsOfJob } from './boards-of-job.js';
import { JobBoardSchema } from './job-schema.js';
import { mapPicture } from './map-picture.js';

const boardsOf = (...boards: readonly object[]) =>
  boardsOfJob(
    boards.map((b) => JobBoardSchema.parse(b)),
    'job.json',
    () => 7,
  );
/** 17.6 mm on the left, 18.1 on the right. */
const sloping = {
  width: 2440,
  height: 1220,
  readings: [50, 1220, 2390].flatMap((x) =>
    [50, 610, 1170].map((y) => ({ at: [x, y], thickness: 17.6 + (0.5 * x) / 2440 })),
  ),
};
const offCut = (at: readonly [number, number], rest: object = {}) => ({
  id: 'rest',
  width: 800,
  height: 300,
  offCutOf: { ...sloping, at, ...rest },
});
const thicknessesOf = (at: readonly [number, number], rest: object = {}) => {
  const { boards } = boardsOf(offCut(at, rest));
  return (x: number, y: number) => thicknessAt(boards[0]!.map!, { x, y }).thickness;
};

describe('an off-cut', () => {
  it('has at its own lower left corner the thickness that the sheet had at the place given', () => {
    for (const [at, rest, corner, right] of [
      [[1600, 900], {}, 1600, 2400],
      [[1600, 100], { turnDegrees: 90 }, 1600, 1600],
      [[1600, 900], { turnDegrees: 180 }, 1600, 800],
      [[1600, 900], { turnedOver: true }, 1600, 800],
    ] as const) {
      const t = thicknessesOf(at, rest);
      const sheet = (x: number) => 17.6 + (0.5 * x) / 2440;
      expect(t(0, 0)).toBeCloseTo(sheet(corner), 2);
      expect(t(800, 0)).toBeCloseTo(sheet(right), 2);
    }
  });

  it('is refused where it does not lie in its sheet, with the figure', () => {
    const { boards, problems } = boardsOf(offCut([1700, 900]));
    expect(boards).toEqual([]);
    expect(problems.map((p) => p.code)).toEqual(['gauge/off-cut-outside']);
    expect(problems[0]?.message).toContain('60 mm outside its 2440 × 1220 mm');
    expect(problems[0]?.locus).toMatchObject({ board: 'rest', line: 7 });
    expect(boardsOf(offCut([0, 0], { turnedOver: true })).problems[0]?.hint).toContain('(800, 0)');
  });

  it('carries the sheet’s readings in its own coordinates', () => {
    const { boards } = boardsOf(offCut([1600, 1170], { turnDegrees: 180 }));
    expect(boards[0]?.readings.some((r) => r.at && Math.hypot(r.at.x - 380, r.at.y) < 1e-6)).toBe(true);
  });

  it('is pictured in its sheet, with its own corner and how it was turned', () => {
    const { boards } = boardsOf(offCut([1600, 900], { turnDegrees: 180, turnedOver: true }), {
      id: 'whole',
      ...sloping,
    });
    expect(mapPicture(boards[0]!)).toContain(
      'its own lower left corner (dot) was at (1600, 900), turned 180°, turned over',
    );
    expect(mapPicture(boards[1]!)).not.toContain('in its sheet');
  });
});

describe('readings of two boards', () => {
  it('are named when each goes with the other, once and in place of what they make impossible', () => {
    const { problems } = boardsOf(
      { id: 'thick', width: 900, height: 600, nominal: 18, readings: [11.8, 11.9] },
      { id: 'thin', width: 900, height: 600, nominal: 12, readings: [17.7, 17.8] },
      { id: 'other', width: 900, height: 600, nominal: 18, readings: [1.77] },
    );
    expect(problems.map((p) => [p.code, p.locus.board])).toEqual([
      ['gauge/swapped-readings', 'thick'],
      ['gauge/impossible-reading', 'other'],
    ]);
  });
});
