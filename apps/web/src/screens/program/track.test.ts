import { describe, expect, it } from 'vitest';
import { MOVE } from '../../work/shown-wire.js';
import { Track } from './track.js';

const moves = (...all: readonly (readonly number[])[]): Float32Array => {
  const out = new Float32Array(all.length * MOVE);
  all.forEach((m, i) => {
    out.set(m, i * MOVE);
  });
  return out;
};

// Down through a sheet of 10 mm, along 20 mm, a half circle of radius 5, up and away.
const track = new Track({
  start: [0, 0, 15],
  moves: moves(
    [0, 0, 5, 3, 100, 1, 3],
    [0, 0, 0, 4, 150, 1, 3],
    [20, 0, 0, 5, 350, 1, 3],
    [20, 10, 0, 6, 450, 2, 3, 20, 5, Math.PI],
    [20, 10, 15, 8, 550, 0, 3],
  ),
  top: 10,
  bottom: 0,
});

describe('a track', () => {
  it('says which motion is on at a time, and where its tip is', () => {
    expect([0, 99, 100, 349, 350, 449, 549, 550, 9999].map((t) => track.at(t))).toEqual([
      0, 0, 1, 2, 3, 3, 4, 5, 5,
    ]);
    expect(track.tip(250)).toMatchObject({ x: 10, y: 0, z: 0 });
    const top = track.tip(400);
    expect([top.x, top.y]).toEqual([expect.closeTo(25, 4), expect.closeTo(5, 4)]);
    expect(track.tip(9999)).toEqual({ x: 20, y: 10, z: 15 });
  });

  it('tells travel, cuts part of the way and cuts through apart', () =>
    expect([0, 1, 2, 3, 4].map((i) => track.depth(i))).toEqual([
      'part way',
      'part way',
      'through',
      'through',
      'travel',
    ]));

  it('leads from a line to its motion and back; a line that moves nothing to the next that does', () => {
    for (let i = 0; i < track.count; i++)
      expect(track.at(track.moment(track.ofLine(track.line(i))!))).toBe(i);
    expect(track.ofLine(1)).toBe(0);
    expect(track.ofLine(7)).toBe(4);
    expect(track.ofLine(9)).toBeNull();
  });

  it('of a program that moves nothing stands at its start', () => {
    const none = new Track({ start: [1, 2, 3], moves: new Float32Array(0), top: 10, bottom: 0 });
    expect([none.count, none.end, none.line(0), none.ofLine(1)]).toEqual([0, 0, 1, null]);
    expect(none.tip(0)).toEqual({ x: 1, y: 2, z: 3 });
  });
});
