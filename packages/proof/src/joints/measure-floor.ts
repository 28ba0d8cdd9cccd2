import { type Point, pointInRing, pointRingDistance, type Ring, ringBounds } from '@haunch/geometry';
import type { AsCutBoard } from '../as-cut-board.js';
import { fieldOf } from '../as-cut-board.js';
import type { WantedContour } from '../wanted/wanted-contour.js';
import type { Spread } from './measure-wall.js';

/** Distance between the places at which a floor is asked, mm. */
const STEP = 2;
/** Left out along the walls, where corners stand that the cutter cannot reach, mm. */
const BESIDE = 0.5;

/** Places on a recess's floor, within a part where one is given: a recess may be drawn beyond its part's edge. */
export function floorPlaces(contour: WantedContour, part?: Ring): Point[] {
  const b = ringBounds(contour.ring);
  const nx = Math.max(1, Math.ceil((b.maxX - b.minX) / STEP));
  const ny = Math.max(1, Math.ceil((b.maxY - b.minY) / STEP));
  const out: Point[] = [];
  for (let i = 0; i < nx; i++)
    for (let j = 0; j < ny; j++) {
      const p = {
        x: b.minX + ((i + 0.5) * (b.maxX - b.minX)) / nx,
        y: b.minY + ((j + 0.5) * (b.maxY - b.minY)) / ny,
      };
      if (part !== undefined && pointInRing(part, p) !== 'inside') continue;
      if (pointInRing(contour.bare, p) === 'inside' && pointRingDistance(contour.bare, p) > BESIDE)
        out.push(p);
    }
  return out;
}

/** The height of what stands at a place: the low side of the lowest slab that is removed there; the top if none. */
export function heightAt(board: AsCutBoard, p: Point): number {
  const field = fieldOf(board);
  for (const level of board.levels) if (field.at(level.at).removed(p) <= 0) return level.low;
  return board.top;
}

/** Least and greatest depth of a recess as cut, from the sheet's top, mm. Null when it has no floor to ask. */
export function measureFloor(board: AsCutBoard, contour: WantedContour, part?: Ring): Spread | null {
  const places = floorPlaces(contour, part);
  if (places.length === 0) return null;
  const depths = places.map((p) => board.top - heightAt(board, p));
  return { least: Math.min(...depths), most: Math.max(...depths) };
}
