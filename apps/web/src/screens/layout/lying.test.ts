import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobText } from '../../job/job-document.js';
import {
  boxAfter,
  drawnAt,
  laidByHand,
  laidOver,
  moved,
  onBoard,
  placementsNow,
  turnedOn,
  withoutPlacements,
  withPlacements,
} from './lying.js';

const item = { box: [10, 20, 110, 60] as const, turns: [0, 90, 180, 270] };
const at = (x: number, y: number, turnDegrees = 0) => ({ board: 'B', at: [x, y] as const, turnDegrees });
const job = { title: 't', lay: { web: 5 } } as unknown as JobText;

describe('a part on its board', () => {
  it('is drawn with the lower left corner of its box where the placement says, however it is turned', () =>
    fc.assert(
      fc.property(fc.constantFrom(0, 90, 180, 270), fc.integer(), fc.integer(), (turn, x, y) => {
        const drawn = drawnAt(item, at(x % 1000, y % 1000, turn));
        const corners = [
          [10, 20],
          [110, 20],
          [110, 60],
          [10, 60],
        ].map(([u, v]) => onBoard(u!, v!, drawn));
        expect(Math.min(...corners.map((c) => c.x))).toBeCloseTo(x % 1000, 9);
        expect(Math.min(...corners.map((c) => c.y))).toBeCloseTo(y % 1000, 9);
      }),
    ));

  it('is turned counter-clockwise', () => {
    expect(boxAfter([0, 0, 10, 2], 90)).toEqual([-2, 0, 0, 10]);
    expect(onBoard(10, 0, { turn: 90, dx: 0, dy: 0 })).toEqual({ x: 0, y: 10 });
  });

  it('keeps its middle when it is turned on, and comes round again', () => {
    const once = turnedOn(item, at(100, 100));
    expect(once).toEqual(at(130, 70, 90));
    let all = at(100, 100);
    for (let i = 0; i < 4; i++) all = turnedOn(item, all) as typeof all;
    expect(all).toEqual(at(100, 100));
    expect(turnedOn({ ...item, turns: [0] }, at(5, 5))).toEqual(at(5, 5));
  });

  it('is moved by tenths of a millimetre, and lies where it lay when it is moved back', () => {
    expect(moved(at(1, 2), 0.333, -2)).toEqual(at(1.3, 0));
    const exact = at(12.3456, 7.0001);
    expect(moved(moved(exact, 0.1, -33.3), -0.1, 33.3)).toEqual(exact);
  });

  it('lies on another board under the pointer as it was held on its own', () => {
    const held = { x: 130, y: 60 };
    expect(laidOver(at(100, 50, 90), held, { board: 'C', x: 400.04, y: 30 })).toEqual({
      board: 'C',
      at: [370, 20],
      turnDegrees: 90,
    });
  });
});

describe('placements in the job', () => {
  const all = { EL: at(12.3456789, 4, 90), S1: at(0, 0) };

  it('are read as they were written', () => {
    const text = JSON.parse(JSON.stringify(withPlacements(job, all))) as JobText;
    expect(laidByHand(text)).toEqual(all);
    expect(text.lay?.web).toBe(5);
  });

  it('go before where parts lay when it was made', () => {
    const boards = [
      {
        items: [
          { ...item, item: 'EL', placement: at(1, 1) },
          { ...item, item: 'TOP', placement: at(2, 2) },
        ],
      },
    ];
    expect(placementsNow(boards as never, { EL: all.EL })).toEqual({ EL: all.EL, TOP: at(2, 2) });
  });

  it('are taken out one by one or all', () => {
    const laid = withPlacements(job, all);
    expect(laidByHand(withoutPlacements(laid, 'EL'))).toEqual({ S1: all.S1 });
    expect(withoutPlacements(laid).lay).toEqual({ web: 5 });
    expect(withoutPlacements(withoutPlacements(laid, 'EL'), 'S1').lay).toEqual({ web: 5 });
  });
});
