import { JobSchema } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import type { JobText } from '../../job/job-document.js';
import {
  cornersOf,
  defectsOf,
  keepOutsOf,
  readingsOf,
  turningOf,
  withDefect,
  withKeepOut,
  withOffCut,
  withoutDefect,
  withoutKeepOut,
  withoutReading,
  withoutScrew,
  withReading,
  withScrew,
  withScrewHead,
  withSheet,
  withThickness,
  withTurning,
} from './board-edits.js';

const job: JobText = {
  format: 'haunch-job',
  version: 1,
  title: 't',
  pieces: [{ source: 'a.dxf' }],
  boards: [
    {
      id: 'board-a',
      material: 'birch 18',
      width: '2440 mm',
      height: '48 in',
      readings: [{ at: ['10 mm', '20 mm'], thickness: '17.7 mm' }, '0.697 in'],
    },
  ],
  cutters: [{ id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.1, depthPerPass: 6 }],
};
const board = job.boards[0]!;

describe('a board that is edited', () => {
  it('shows its readings in mm, wherever and however they were typed', () => {
    const [first, second] = readingsOf(board);
    expect(first).toEqual({ index: 0, thickness: 17.7, at: { x: 10, y: 20 } });
    expect(second!.at).toBeNull();
    expect(second!.thickness).toBeCloseTo(17.7038, 4);
  });

  it('keeps every other word of the job file, and stays one that can be read', () => {
    let b = withReading(board, '17.8 mm', { x: 100.04, y: 50 });
    b = withThickness(b, 1, '17.6 mm');
    b = withKeepOut(b, [0, 0, 40, 30]);
    expect(b.readings).toEqual([
      { at: ['10 mm', '20 mm'], thickness: '17.7 mm' },
      '17.6 mm',
      { at: ['100 mm', '50 mm'], thickness: '17.8 mm' },
    ]);
    expect(b.height).toBe('48 in');
    expect(JobSchema.safeParse({ ...job, boards: [b] }).success).toBe(true);
    expect(withoutReading(withoutReading(b, 2), 1).readings).toHaveLength(1);
    expect(keepOutsOf(b)).toEqual([[0, 0, 40, 30]]);
    expect(keepOutsOf(withoutKeepOut(b, 0))).toEqual([]);
    b = withDefect(withDefect(b, [10, 20, 60, 50], 'down'), [0, 0, 9, 9], 'up');
    expect(defectsOf(b)).toEqual([
      { box: [10, 20, 60, 50], face: 'down' },
      { box: [0, 0, 9, 9], face: 'up' },
    ]);
    expect(JobSchema.safeParse({ ...job, boards: [b] }).success).toBe(true);
    expect(defectsOf(withoutDefect(b, 0))).toEqual([{ box: [0, 0, 9, 9], face: 'up' }]);
    // The job takes corners in any order, and a picture only the lower left one first.
    const anyOrder = { ...b, keepOuts: [[40, 30, 0, 0]], defects: [{ box: [9, 0, 0, 9], face: 'up' }] };
    expect(keepOutsOf(anyOrder as typeof b)).toEqual([[0, 0, 40, 30]]);
    expect(defectsOf(anyOrder as typeof b)).toEqual([{ box: [0, 0, 9, 9], face: 'up' }]);
  });

  it('is drawn by its corners where it is no rectangle, and a whole sheet like it is none', () => {
    expect(cornersOf(board)).toBeNull();
    const outline = [
      ['0 mm', 0],
      { at: ['10 in', 0], through: ['300 mm', '50 mm'] },
      [0, '100 mm'],
    ] as NonNullable<typeof board.outline>;
    const bent = { ...board, outline };
    expect(cornersOf(bent)).toEqual([
      { x: 0, y: 0 },
      { x: 254, y: 0 },
      { x: 300, y: 50 },
      { x: 0, y: 100 },
    ]);
    expect(
      withSheet({ ...job, boards: [bent] }, withDefect(bent, [0, 0, 9, 9], 'up')).boards[1],
    ).toMatchObject({
      readings: [],
    });
    expect(
      withSheet({ ...job, boards: [bent] }, withDefect(bent, [0, 0, 9, 9], 'up')).boards[1],
    ).not.toHaveProperty('outline');
    expect(
      withSheet({ ...job, boards: [bent] }, withDefect(bent, [0, 0, 9, 9], 'up')).boards[1],
    ).not.toHaveProperty('defects');
  });

  it('gives its off-cut the readings of the sheet, its place in it, and a name of its own', () => {
    const twice = withOffCut(withOffCut(job, 'board-a', [100, 200, 900, 500]), 'board-a', [0, 0, 300, 300]);
    expect(twice.boards.map((b) => b.id)).toEqual(['board-a', 'off-cut-a', 'off-cut-b']);
    expect(twice.boards[1]).toMatchObject({
      stock: 'board-a',
      material: 'birch 18',
      width: '800 mm',
      height: '300 mm',
      offCutOf: { width: '2440 mm', height: '48 in', at: ['100 mm', '200 mm'], readings: board.readings },
    });
    expect(JobSchema.safeParse(twice).success).toBe(true);
  });

  it('is held by screws, and turned over about its middle line on to pins or against stops', () => {
    const screwed = withScrew(withScrew(board, { x: 30, y: 40 }), { x: 2400, y: 40 });
    expect(withoutScrew(withScrewHead(screwed, 1, '12 mm'), 0).screws).toEqual([
      { at: ['2400 mm', '40 mm'], head: '12 mm' },
    ]);
    const [w, h] = [2440, 1219.2];
    for (const axis of ['x', 'y'] as const) {
      const turned = withTurning(screwed, { on: 'pins', axis });
      expect(JobSchema.safeParse({ ...job, boards: [turned] }).success).toBe(true);
      // The middle line keeps its places in the turn, so that the sheet's holes come to lie over the same pins.
      for (const p of turningOf(turned)!.places)
        expect(axis === 'y' ? p.x * 2 - w : p.y * 2 - h).toBeCloseTo(0, 6);
      const stopped = withTurning(turned, { on: 'stops', axis });
      expect(JobSchema.safeParse({ ...job, boards: [stopped] }).success).toBe(true);
      const at = turningOf(stopped)!.places.map((p) => [p.x === 0, p.y === 0]);
      expect(at).toEqual(
        axis === 'y'
          ? [
              [false, true],
              [false, true],
              [true, false],
            ]
          : [
              [true, false],
              [true, false],
              [false, true],
            ],
      );
      expect(withTurning(stopped, null)).toEqual(screwed);
    }
  });

  it('has a like sheet beside it, of the same stock, that nobody has measured', () => {
    const more = withSheet(job, board).boards[1]!;
    expect(more).toMatchObject({ id: 'board-b', stock: 'board-a', width: '2440 mm', readings: [] });
  });
});
