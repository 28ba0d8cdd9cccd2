import { rectangleRing } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { flat } from '../../test/found-pieces.js';
import { turnsByHoles } from './twin-holes.js';

const hole = (x: number, y: number, depth: number | 'through' = 'through') =>
  ({ centre: { x, y }, diameter: 5, face: 'n+', depth }) as const;
const board = (...holes: readonly ReturnType<typeof hole>[]): Part =>
  flat('shelf', 12, rectangleRing(0, 0, 400, 200), [], holes);

describe('the ways round that holes alone tell', () => {
  it('are the half turn for a hole on the middle line, and all three turns for one in a corner', () => {
    const ways = turnsByHoles(board(hole(40, 100)));
    expect(ways.map((f) => [Math.round(f.u[0]), Math.round(f.v[1]), f.n[2]])).toEqual([[-1, -1, 1]]);
    expect(turnsByHoles(board(hole(40, 30)))).toHaveLength(3);
  });
  it('are none where holes lie alike, or where there are none', () => {
    expect(turnsByHoles(board(hole(200, 100)))).toEqual([]);
    expect(turnsByHoles(board(hole(40, 100), hole(360, 100)))).toEqual([]);
    expect(turnsByHoles(board())).toEqual([]);
  });
  it('tell one face from the other by a blind hole', () =>
    expect(turnsByHoles(board(hole(200, 100, 6))).map((f) => f.n[2])).toEqual([-1]));
});
