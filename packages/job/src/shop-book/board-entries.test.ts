import { boardsOfBook, type DayBookEntry } from '@haunch/gauge';
import { describe, expect, it } from 'vitest';
import { boardForJob } from '../board-for-job.js';
import { JobBoardSchema } from '../job-schema.js';
import { boardNews } from './board-entries.js';

const board = (more: object = {}) =>
  JobBoardSchema.parse({ id: 'S1', width: '2440 mm', height: '1220 mm', readings: ['17.7 mm'], ...more });
const KNOT = { box: [10, 20, 60, 50], face: 'down' };

describe('the flaws of a sheet', () => {
  it('go into the day book and come back with the board, and are gone from it when the job has them no more', () => {
    const entries: DayBookEntry[] = [];
    const enter = (more: object, minute: number): number => {
      const when = `2026-11-25T10:0${minute}:00Z`;
      const { entries: fresh } = boardNews(entries, [board(more)], new Set(['S1']), when);
      entries.push(...fresh);
      return fresh.length;
    };
    const taken = () => boardForJob(boardsOfBook(entries).get('S1')!)!.defects;
    expect(enter({}, 0)).toBe(1);
    expect(entries[0]).not.toHaveProperty('defects');
    expect(taken()).toEqual([]);
    expect(enter({ defects: [KNOT] }, 1)).toBe(1);
    expect(enter({ defects: [KNOT] }, 2)).toBe(0);
    expect(taken()).toEqual([KNOT]);
    expect(enter({}, 3)).toBe(1);
    expect(enter({}, 4)).toBe(0);
    expect(taken()).toEqual([]);
  });
});
