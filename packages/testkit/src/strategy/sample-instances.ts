import { polygonRing, type Ring, ring } from '@haunch/geometry';
import type { NestingInstance, NestingItem } from '@haunch/model';
import { deepFreeze } from '../deep-freeze.js';

/** A layout problem that a kit gives to the strategy under test. */
export interface SampleInstance {
  readonly name: string;
  readonly instance: NestingInstance;
  /** Items for which there must be room: any strategy that tries finds it. */
  readonly easy: readonly string[];
  /** Items that no board can take. */
  readonly impossible: readonly string[];
}

const box = (w: number, h: number, x = 0, y = 0): Ring =>
  polygonRing([
    { x, y },
    { x: x + w, y },
    { x: x + w, y: y + h },
    { x, y: y + h },
  ]);
const bent = (a: number, b: number, t: number): Ring =>
  polygonRing([
    { x: 0, y: 0 },
    { x: a, y: 0 },
    { x: a, y: t },
    { x: t, y: t },
    { x: t, y: b },
    { x: 0, y: b },
  ]);
/** A disc of two half circles. */
const disc = (r: number, x = 0, y = 0): Ring =>
  ring([
    { x: x - r, y, bulge: 1 },
    { x: x + r, y, bulge: 1 },
  ]);
/** A panel with one end bowed outward by an arc. */
const bowed = (w: number, h: number): Ring =>
  ring([
    { x: 0, y: 0, bulge: 0 },
    { x: w, y: 0, bulge: 0.3 },
    { x: w, y: h, bulge: 0 },
    { x: 0, y: h, bulge: 0 },
  ]);

const ALL = [0, Math.PI / 2, Math.PI, 1.5 * Math.PI];
const GRAIN = [0, Math.PI];
const item = (
  id: string,
  outline: Ring,
  turns: readonly number[] = GRAIN,
  boards: readonly string[] = ['sheet'],
): NestingItem => ({ id, outline, turns, boards });

const sample = (
  name: string,
  instance: NestingInstance,
  easy: readonly string[],
  impossible: readonly string[] = [],
): SampleInstance => deepFreeze({ name, instance, easy, impossible });

const one = (id: string, w: number, h: number, keepOuts: readonly Ring[] = []) => ({
  id,
  outline: box(w, h),
  keepOuts,
});

/** The layout problems of the kit, frozen: the same for every strategy, in every run. */
export const INSTANCES: readonly SampleInstance[] = [
  sample(
    'one square',
    { items: [item('a', box(100, 100))], boards: [one('sheet', 600, 400)], spacing: 8, edgeMargin: 10 },
    ['a'],
  ),
  sample('nothing to lay', { items: [], boards: [one('sheet', 600, 400)], spacing: 8, edgeMargin: 10 }, []),
  sample(
    'shelves',
    {
      items: Array.from({ length: 9 }, (_, i) => item(`shelf-${i + 1}`, box(300 - 20 * (i % 3), 120))),
      boards: [one('sheet', 1250, 625)],
      spacing: 12.7,
      edgeMargin: 10,
    },
    ['shelf-1', 'shelf-2', 'shelf-3', 'shelf-4'],
  ),
  sample(
    'grain along the board',
    {
      items: [item('long', box(500, 60)), item('tall', box(60, 300)), item('free', box(60, 350), ALL)],
      boards: [one('sheet', 600, 400)],
      spacing: 6,
      edgeMargin: 5,
    },
    ['long', 'tall'],
  ),
  sample(
    'arcs and hooks',
    {
      items: [
        item('disc-1', disc(60)),
        item('disc-2', disc(35)),
        item('hook-1', bent(200, 160, 40), ALL),
        item('hook-2', bent(200, 160, 40), ALL),
        item('bow', bowed(180, 120), ALL),
      ],
      boards: [one('sheet', 700, 500)],
      spacing: 7.35,
      edgeMargin: 12,
    },
    ['disc-1', 'hook-1'],
  ),
  sample(
    'a screw in the sheet',
    {
      items: [item('a', box(240, 150)), item('b', box(240, 150)), item('c', box(100, 80), ALL)],
      boards: [one('sheet', 620, 420, [box(40, 40, 190, 120)])],
      spacing: 10,
      edgeMargin: 10,
    },
    ['c'],
  ),
  sample(
    'an L left from an earlier sheet',
    {
      items: [item('a', box(240, 150)), item('b', box(150, 240), ALL), item('c', box(300, 280), ALL)],
      boards: [{ id: 'sheet', outline: bent(620, 420, 200), keepOuts: [] }],
      spacing: 8,
      edgeMargin: 10,
    },
    ['a'],
    ['c'],
  ),
  sample(
    'a knot in the upper face',
    {
      items: [
        { ...item('seen', box(240, 150)), shows: ['up'] },
        { ...item('hidden', box(240, 150)), shows: ['down'] },
        item('anyhow', box(100, 80), ALL),
      ],
      boards: [{ ...one('sheet', 620, 420), defects: [{ outline: disc(30, 60, 60), face: 'up' }] }],
      spacing: 10,
      edgeMargin: 10,
    },
    ['seen', 'hidden', 'anyhow'],
  ),
  sample(
    'two thicknesses',
    {
      items: [
        item('thick', box(200, 100), GRAIN, ['sheet']),
        item('thin-1', box(200, 100), GRAIN, ['off-cut']),
        item('thin-2', box(150, 100), GRAIN, ['off-cut']),
      ],
      boards: [one('sheet', 600, 400), one('off-cut', 450, 300)],
      spacing: 8,
      edgeMargin: 8,
    },
    ['thick', 'thin-1'],
  ),
  sample(
    'larger than the board',
    {
      items: [item('door', box(900, 300), ALL), item('shelf', box(200, 100), ALL)],
      boards: [one('sheet', 600, 400)],
      spacing: 8,
      edgeMargin: 10,
    },
    ['shelf'],
    ['door'],
  ),
  sample(
    'more than there is room for',
    {
      items: Array.from({ length: 12 }, (_, i) =>
        item(`p${String.fromCharCode(97 + i)}`, box(180, 180), ALL),
      ),
      boards: [one('sheet', 600, 400)],
      spacing: 10,
      edgeMargin: 10,
    },
    ['pa'],
  ),
];
