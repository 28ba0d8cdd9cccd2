import type { Block, PostContext, PostMove, PostState } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { rs274ngc, rs274ngcWith } from './rs274ngc.js';

const context: PostContext = { board: 'sheet-1', title: 'Sideboard', dialect: rs274ngc.dialect };
const known: PostState = { x: 0, y: 0, z: 5, feed: null, rpm: 18_000, cutter: 1 };
const unknown: PostState = { x: null, y: null, z: null, feed: null, rpm: 0, cutter: null };
const from = 'sheet-1/003 EL.m1';

const spell = (blocks: readonly Block[]) =>
  blocks.map((b) =>
    [
      ...b.words.map((w) => `${w.letter}${w.value}`),
      ...(b.comment === undefined ? [] : [`(${b.comment})`]),
    ].join(' '),
  );
const move = (m: PostMove, state = known) => spell(rs274ngc.move(m, state, context));

it('states title, board and every mode at the start', () => {
  expect(spell(rs274ngc.start(context))).toEqual([
    '(Sideboard)',
    '(board sheet-1)',
    'G17 G21 G40 G49 G80 G90 G94 G54',
  ]);
  const inch = rs274ngcWith({ unit: 'inch' });
  expect(spell(inch.start({ ...context, dialect: inch.dialect }))[2]).toContain('G20');
});

it('raises the cutter before it moves sideways from an unknown place', () => {
  const rapid: PostMove = { kind: 'rapid', x: 1, y: 2, z: 3, from };
  expect(move(rapid, unknown)).toEqual(['G0 Z3', 'G0 X1 Y2']);
  expect(move(rapid)).toEqual(['G0 X1 Y2 Z3']);
});

describe('each move is its block', () => {
  it.each<[PostMove, string[]]>([
    [{ kind: 'linear', x: 1, y: 2, z: 3, feed: 4, from }, ['G1 X1 Y2 Z3 F4']],
    [
      { kind: 'circular', x: 1, y: 2, z: 3, i: 4, j: 5, r: 6, turn: 'cw', feed: 6, from },
      ['G2 X1 Y2 Z3 I4 J5 F6'],
    ],
    [
      { kind: 'circular', x: 1, y: 2, z: 3, i: 4, j: 5, r: 6, turn: 'ccw', feed: 6, from },
      ['G3 X1 Y2 Z3 I4 J5 F6'],
    ],
    [{ kind: 'dwell', seconds: 2.5, from }, ['G4 P2.5']],
    [{ kind: 'spindle', rpm: 18_000, from }, ['S18000 M3']],
    [{ kind: 'spindle', rpm: -500, from }, ['S500 M4']],
    [{ kind: 'spindle', rpm: 0, from }, ['M5']],
    [{ kind: 'cutter', number: 2, id: 'C9', from }, ['M5', 'T2 M6 (cutter C9)']],
    [{ kind: 'note', text: `${from} inside profile`, from }, ['(sheet-1/003 EL.m1 inside profile)']],
  ])('%o', (m, blocks) => expect(move(m)).toEqual(blocks));
});

it('stops the spindle before a change of cutter and at the end, on a line of its own, once', () => {
  const stopped = { ...known, rpm: 0 };
  expect(move({ kind: 'cutter', number: 2, id: 'C9', from }, stopped)).toEqual(['T2 M6 (cutter C9)']);
  expect(move({ kind: 'cutter', number: 2, id: 'C9', from }, unknown)[0]).toBe('M5');
  expect(spell(rs274ngc.end(known, context))).toEqual(['M5', 'M2']);
  expect(spell(rs274ngc.end(stopped, context))).toEqual(['M2']);
  expect(spell(rs274ngc.end(unknown, context))).toEqual(['M5', 'M2']);
});

it('has the decimals, unit and line numbers that are asked for', () => {
  expect(rs274ngc).toMatchObject({
    contract: 1,
    dialect: { name: 'RS274/NGC', extension: 'ngc', unit: 'mm', decimals: 4 },
  });
  expect(rs274ngcWith({ unit: 'inch' }).dialect.decimals).toBe(5);
  expect(rs274ngcWith({ decimals: 3, lineNumbers: { start: 10, step: 10 } }).dialect).toMatchObject({
    decimals: 3,
    lineNumbers: { start: 10, step: 10 },
  });
  for (const decimals of [-1, 1.5, 7, Number.NaN])
    expect(() => rs274ngcWith({ decimals })).toThrow(RangeError);
});
