import { polygonRing, rectangleRing } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { instanceProblems } from './instance-problems.js';

const item = { id: 'A', outline: rectangleRing(0, 0, 300, 200), turns: [0], boards: ['sheet'] };
const board = { id: 'sheet', outline: rectangleRing(0, 0, 400, 300), keepOuts: [] };
const good: NestingInstance = { items: [item], boards: [board], spacing: 10, edgeMargin: 10 };
const flat = polygonRing([
  { x: 0, y: 0 },
  { x: 10, y: 0 },
]);

/** A loop of which one half is larger, so that its area is not 0. */
const crossed = polygonRing([
  { x: 50, y: 50 },
  { x: 100, y: 100 },
  { x: 100, y: 50 },
  { x: 50, y: 120 },
]);
/** An L of 400 × 300, its arms 100 and 90 wide. */
const bend = polygonRing([
  { x: 0, y: 0 },
  { x: 400, y: 0 },
  { x: 400, y: 100 },
  { x: 90, y: 100 },
  { x: 90, y: 300 },
  { x: 0, y: 300 },
]);
const spiked = polygonRing([
  { x: 0, y: 0 },
  { x: 100, y: 0 },
  { x: 100, y: 50 },
  { x: 200, y: 50 },
  { x: 100, y: 50 },
  { x: 100, y: 100 },
  { x: 0, y: 100 },
]);

const cases: readonly [string, Partial<NestingInstance>][] = [
  ['no-items', { items: [] }],
  ['no-boards', { boards: [] }],
  ['item-twice', { items: [item, item] }],
  ['board-twice', { boards: [board, board] }],
  ['empty-outline', { items: [{ ...item, outline: flat }] }],
  ['crossed-outline', { items: [{ ...item, outline: crossed }] }],
  ['crossed-outline', { items: [{ ...item, outline: spiked }] }],
  ['crossed-outline', { items: [{ ...item, holes: [crossed] }] }],
  ['no-turn', { items: [{ ...item, turns: [] }] }],
  ['no-board-allowed', { items: [{ ...item, boards: ['attic'] }] }],
  ['no-board-allowed', { items: [{ ...item, boards: [] }] }],
  ['part-exceeds-boards', { items: [{ ...item, turns: [Math.PI / 2] }] }],
  ['part-exceeds-boards', { edgeMargin: 50.0001 }],
];

describe('instanceProblems', () => {
  it('is silent where all is well, to the last step of the margin', () => {
    expect(instanceProblems(good)).toEqual([]);
    expect(instanceProblems({ ...good, edgeMargin: 50 })).toEqual([]);
  });

  it.each(cases)('names lay/%s', (code, change) => {
    const found = instanceProblems({ ...good, ...change });
    expect(found.map((d) => d.code)).toEqual([`lay/${code}`]);
    expect(found[0]!.level).toBe('error');
    expect(found[0]!.hint).not.toBe('');
  });

  it('says the size of a part that is too large and the largest usable size', () => {
    const boards = [board, { ...board, id: 'large', outline: rectangleRing(0, 0, 500, 150) }];
    const big = { ...item, outline: rectangleRing(0, 0, 600, 200), boards: ['sheet', 'large'] };
    const [d] = instanceProblems({ ...good, boards, items: [big] });
    expect(d!.message).toContain('600 × 200 mm');
    expect(d!.message).toContain('380 × 280 mm');
    expect(d!.locus).toEqual({ part: 'A', board: 'sheet' });
  });

  it.each([
    ['keep-out-covers-board', { boards: [{ ...board, keepOuts: [rectangleRing(5, 5, 395, 295)] }] }],
    ['keep-out-covers-board', { boards: [{ ...board, keepOuts: [rectangleRing(10, 10, 390, 290)] }] }],
    [
      'keep-out-covers-board',
      {
        boards: [{ ...board, keepOuts: [rectangleRing(0, 0, 200, 300), rectangleRing(200, 5, 400, 290)] }],
      },
    ],
    [
      'keep-out-covers-board',
      {
        boards: [
          {
            ...board,
            outline: bend,
            keepOuts: [rectangleRing(0, 0, 400, 100), rectangleRing(0, 100, 90, 300)],
          },
        ],
      },
    ],
    ['margin-takes-board', { edgeMargin: 150 }],
    ['empty-board', { boards: [{ ...board, outline: flat }] }],
  ] as const)('names lay/%s, and the part that it leaves without a board', (code, change) =>
    expect(instanceProblems({ ...good, ...change }).map((d) => d.code)).toEqual([
      `lay/${code}`,
      'lay/part-exceeds-boards',
    ]),
  );

  it('names a board whose outline crosses itself, with the place', () => {
    const found = instanceProblems({ ...good, boards: [{ ...board, outline: crossed }] });
    expect(found.map((d) => d.code)).toEqual(['lay/crossed-board', 'lay/part-exceeds-boards']);
    expect(found[0]).toMatchObject({ level: 'error', locus: { board: 'sheet' } });
    expect(found[0]!.locus.at).toBeDefined();
  });

  it('lets a keep-out be that leaves a corner', () =>
    expect(
      instanceProblems({ ...good, boards: [{ ...board, keepOuts: [rectangleRing(5, 5, 389, 295)] }] }),
    ).toEqual([]));

  it('throws for a spacing that no caller may give', () =>
    expect(() => instanceProblems({ ...good, spacing: -1 })).toThrow(RangeError));
});
