import { loadClip, type Polygon } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { holding, plate } from '../test/plate.js';
import { kerfIn } from './bridges.js';
import { boxOf, type Patch } from './sweep/sweeper.js';
import { wantedContours } from './wanted/wanted-contour.js';

const clip = await loadClip();
/** The plate from (50, 50) to (150, 110). */
const contour = wantedContours(plate, 18)[0]!;
const patch = (...polygons: Polygon[]): Patch => ({ id: 0, polygons, box: boxOf(polygons) });
const box = (x0: number, y0: number, x1: number, y1: number): Polygon => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
];
const board = box(0, 0, 200, 160);
const kerf = (patches: readonly Patch[]) =>
  kerfIn({ clip, contour, least: 3, most: 3, holding, board })(patches);
/** Round the plate, 3 mm from its edges: 2·(100 + 60) and a full turn of 3 mm. */
const ROUND = 320 + 6 * Math.PI;

describe('material across a kerf', () => {
  it('is one bridge all round where nothing is cut', () => {
    const { any, strong } = kerf([]);
    expect([any.length, strong.length]).toEqual([1, 1]);
    expect(strong[0]!.length).toBeCloseTo(ROUND, 1);
  });

  it('goes all round still where a bit is cut far from it', () => {
    const { any, strong } = kerf([patch(box(10, 10, 20, 20))]);
    expect(any[0]!.length).toBeCloseTo(ROUND, 1);
    expect(strong[0]!.length).toBeCloseTo(ROUND, 1);
  });

  it('is thinned by a cut within it, on both sides by half of the least width', () => {
    const { any, strong } = kerf([patch(box(99, 44, 101, 50))]);
    expect(any[0]!.length).toBeCloseTo(ROUND - 2, 1);
    expect(strong).toHaveLength(1);
    expect(strong[0]!.length).toBeCloseTo(ROUND - 2 - 0.8 * holding.tabWidth, 1);
  });

  it('counts a tab that is wide enough, not one that is too narrow', () => {
    // All round, but for 7 mm below and 6 mm above; least are 6.4 mm.
    const cut = [
      patch(box(44, 44, 96.5, 50), box(103.5, 44, 156, 50)),
      patch(box(44, 110, 97, 116), box(103, 110, 156, 116)),
      patch(box(44, 44, 50, 116), box(150, 44, 156, 116)),
    ];
    const { any, strong } = kerf(cut);
    expect(any.map((b) => Math.round(b.length * 100) / 100).sort()).toEqual([6, 7]);
    expect(strong).toHaveLength(1);
    expect(strong[0]!.at.y).toBeLessThan(50);
  });
});
