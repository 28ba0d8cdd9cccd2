import type { Move } from '@haunch/model';
import { expect, it } from 'vitest';
import { cutterRuns } from './cutter-runs.js';

const runs = (...moves: readonly object[]) =>
  cutterRuns({
    kind: 'toolpath',
    board: 'b',
    moves: moves.map((m) => ({ feed: 3000, from: 's', ...m }) as Move),
  });
const cutter = (id: string) => ({ kind: 'cutter', number: 1, id });
const to = (x: number, y: number, z = 0) => ({ to: { x, y, z } });

it('counts moves at feed by their cutter and leaves rapid ones out', () => {
  expect(
    runs(
      cutter('a'),
      { kind: 'rapid', ...to(0, 0) },
      { kind: 'linear', ...to(300, 400) },
      { kind: 'rapid', ...to(900, 900) },
      cutter('b'),
      { kind: 'linear', ...to(900, 900, -12) },
    ),
  ).toEqual([
    { cutter: 'a', metres: 0.5 },
    { cutter: 'b', metres: 0.012 },
  ]);
});

it('counts arcs along themselves: a quarter, three quarters the other way, a whole turn, a helix', () => {
  const start = [cutter('a'), { kind: 'rapid', ...to(100, 0) }];
  const arc = (turn: 'cw' | 'ccw', end: object) => ({
    kind: 'circular',
    centre: { x: 0, y: 0 },
    turn,
    ...end,
  });
  const metres = (m: object) => runs(...start, m)[0]!.metres;
  expect(metres(arc('ccw', to(0, 100)))).toBeCloseTo((Math.PI * 50) / 1000, 3);
  expect(metres(arc('cw', to(0, 100)))).toBeCloseTo((Math.PI * 150) / 1000, 3);
  expect(metres(arc('cw', to(100, 0)))).toBeCloseTo((Math.PI * 200) / 1000, 3);
  expect(metres(arc('ccw', to(100, 0, -300)))).toBeCloseTo(Math.hypot(Math.PI * 200, 300) / 1000, 3);
});
