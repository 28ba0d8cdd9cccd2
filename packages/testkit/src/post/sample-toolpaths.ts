import type { Point } from '@haunch/geometry';
import type { Move, Place, Toolpath } from '@haunch/model';
import { seededRandom } from '@haunch/nesting';
import { deepFreeze } from '../deep-freeze.js';

/** A toolpath that a kit writes with the post under test. */
export interface SampleToolpath {
  readonly name: string;
  readonly title: string;
  readonly toolpath: Toolpath;
}

const FROM = 'sheet-1/001 A.outline';
const CLEAR = 25;

const at = (x: number, y: number, z: number): Place => ({ x, y, z });
const rapid = (x: number, y: number, z: number): Move => ({ kind: 'rapid', to: at(x, y, z), from: FROM });
const line = (x: number, y: number, z: number, feed = 4000): Move => ({
  kind: 'linear',
  to: at(x, y, z),
  feed,
  from: FROM,
});
const arc = (to: Place, centre: Point, turn: 'cw' | 'ccw', feed = 3000): Move => ({
  kind: 'circular',
  to,
  centre,
  turn,
  feed,
  from: FROM,
});
const cutter = (number: number): Move => ({ kind: 'cutter', number, id: `router-${number}`, from: FROM });
const spindle = (rpm: number): Move => ({ kind: 'spindle', rpm, from: FROM });
const note = (text: string): Move => ({ kind: 'note', text, from: FROM });
const dwell = (seconds: number): Move => ({ kind: 'dwell', seconds, from: FROM });

const begin = (x: number, y: number, number = 1): Move[] => [
  cutter(number),
  spindle(18_000),
  rapid(x, y, CLEAR),
];
const finish = (x: number, y: number): Move[] => [rapid(x, y, CLEAR), spindle(0)];

/** Arcs of all quadrants and lengths round one centre, both ways, whole turns and helices among them. */
function arcs(helix: boolean): Move[] {
  const centre = { x: 60, y: -40 };
  const r = 25;
  const to = (a: number, z: number): Place => ({
    x: Math.round((centre.x + r * Math.cos(a)) * 1e4) / 1e4,
    y: Math.round((centre.y + r * Math.sin(a)) * 1e4) / 1e4,
    z,
  });
  const out: Move[] = [...begin(85, -40), line(85, -40, -3, 900)];
  let a = 0;
  let z = -3;
  for (const sweep of [0.3, 1.5, Math.PI / 2, 2.5, Math.PI, 4, 4.712389, 6])
    for (const turn of ['ccw', 'cw'] as const) {
      a += turn === 'ccw' ? sweep : -sweep * 0.7;
      z = helix ? z - 0.25 : z;
      out.push(arc(to(a, z), centre, turn));
    }
  const here = to(a, z);
  out.push(arc(here, centre, 'cw'), arc({ ...here, z: helix ? here.z - 1 : here.z }, centre, 'ccw'));
  return [...out, ...finish(here.x, here.y)];
}

/** Moves at random on the grid of 0.0001 mm, as a planner could make them. */
function random(seed: number): Move[] {
  const next = seededRandom(seed);
  const grid = (v: number): number => Math.round(v * 1e4) / 1e4 + 0;
  const between = (a: number, b: number): number => grid(a + (b - a) * next());
  let here = at(between(0, 2400), between(0, 1200), CLEAR);
  const out: Move[] = begin(here.x, here.y, 1 + Math.floor(next() * 8));
  for (let k = 0; k < 12; k++) {
    const feed = Math.round(between(300, 9000) * 10) / 10;
    const kind = next();
    if (kind < 0.2) {
      here = at(between(-50, 2400), between(-50, 1200), CLEAR);
      out.push({ kind: 'rapid', to: here, from: FROM });
    } else if (kind < 0.55) {
      here = at(between(-50, 2400), between(-50, 1200), between(-20, 0));
      out.push(line(here.x, here.y, here.z, feed));
    } else {
      const r = between(2, 400);
      const angle = next() * 2 * Math.PI;
      const centre = { x: grid(here.x - r * Math.cos(angle)), y: grid(here.y - r * Math.sin(angle)) };
      const real = Math.hypot(here.x - centre.x, here.y - centre.y);
      const turn = next() < 0.5 ? 'cw' : 'ccw';
      const way = (0.2 + next() * 5.8) * (turn === 'ccw' ? 1 : -1);
      const start = Math.atan2(here.y - centre.y, here.x - centre.x);
      here = at(
        grid(centre.x + real * Math.cos(start + way)),
        grid(centre.y + real * Math.sin(start + way)),
        here.z,
      );
      out.push(arc(here, centre, turn, feed));
    }
  }
  return [...out, ...finish(here.x, here.y)];
}

/** A note in which everything stands that might end a comment or be taken for a block. */
export const HOSTILE_NOTE = `Tür (links) ) ; % \n G0 X0 Y0 Z-50 M3 \r\nG2 ( [#1=5] {x} "q" 'a' \t ${'long '.repeat(70)}`;

const path = (name: string, moves: readonly Move[], title = 'kit'): SampleToolpath =>
  deepFreeze({ name, title, toolpath: { kind: 'toolpath', board: 'sheet-1', moves } });

/** The toolpaths of the kit, frozen: the same for every post, in every run. */
export const SAMPLES: readonly SampleToolpath[] = [
  path('square', [
    ...begin(10, 10),
    line(10, 10, -18.2, 900),
    line(110, 10, -18.2),
    line(110, 60, -18.2),
    line(10, 60, -18.2, 5500.5),
    line(10, 10, -18.2),
    ...finish(10, 10),
  ]),
  path('far and near', [
    ...begin(3050.1234, 1525.9876),
    line(3050.1234, 1525.9876, -0.0625, 333.3),
    line(3049.9, 1525.9, -0.0625, 12_000),
    line(-12.5, -0.1, -0.5, 29.97),
    line(0, 0, 0),
    line(0.0101, -0.0101, -0.0101),
    ...finish(0, 0),
  ]),
  path('arcs', arcs(false)),
  path('helices', arcs(true)),
  path('a large arc', [
    ...begin(0, 0),
    line(0, 0, -6),
    arc(at(2000, 0, -6), { x: 1000, y: -3000 }, 'cw'),
    arc(at(0, 0, -6), { x: 1000, y: 3000 }, 'cw'),
    ...finish(0, 0),
  ]),
  path('two cutters', [
    ...begin(20, 20, 1),
    line(20, 20, -5),
    line(80, 20, -5),
    rapid(80, 20, CLEAR),
    spindle(0),
    cutter(7),
    spindle(12_000),
    rapid(30, 90, CLEAR),
    line(30, 90, -5, 700),
    rapid(30, 90, CLEAR),
    cutter(2),
    spindle(15_000),
    rapid(31, 91, CLEAR + 1),
    line(31, 91, -4, 700),
    line(35, 91, -4, 700),
    ...finish(35, 91),
  ]),
  path('waits', [
    ...begin(5, 5),
    dwell(1.5),
    line(5, 5, -3),
    dwell(0.25),
    dwell(12),
    line(50, 5, -3),
    ...finish(50, 5),
  ]),
  path(
    'notes',
    [
      note(HOSTILE_NOTE),
      ...begin(5, 5),
      note('M30'),
      line(5, 5, -3),
      note(')G1 X900'),
      note(''),
      line(50, 5, -3),
      note(HOSTILE_NOTE),
      ...finish(50, 5),
    ],
    `ends) G0 X-5\n% ${HOSTILE_NOTE}`,
  ),
  path('nothing but air', [...begin(5, 5), rapid(50, 50, CLEAR), ...finish(50, 50)]),
  ...Array.from({ length: 12 }, (_, i) => path(`random ${i + 1}`, random(i + 1))),
];
