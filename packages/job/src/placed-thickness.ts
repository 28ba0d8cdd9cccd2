import { movePoint, type Point, pointInRing, ringBounds, STAY, snap } from '@haunch/geometry';
import { type Board, type Part, type Placement, thicknessAt } from '@haunch/model';
import { isWhole, placesOn } from './board-outline.js';

/** A board's thickness at a place on it, mm: its map's, or its mean where it has none. */
export const boardThicknessAt = (board: Pick<Board, 'map' | 'thickness'>, at: Point): number =>
  board.map ? thicknessAt(board.map, at).thickness : board.thickness;

/** Where a point of a part's plane, (u, v), comes to lie on its board. */
export function onBoard(part: Part, placement: Placement, at: Point): Point {
  const onTable = part.cutFace === 'n-' ? movePoint({ ...STAY, mirror: true }, at) : at;
  return movePoint(placement.motion, onTable);
}

/** Steps of the grid over which a part's mean thickness is taken. */
const STEPS = 9;

/** The mean thickness of a part where it lies, over its outline, mm, on the grid of 0.0001 mm. */
export function meanThickness(part: Part, placement: Placement, board: Board): number {
  const { minX, minY, maxX, maxY } = ringBounds(part.outline.bare);
  let [sum, count] = [0, 0];
  for (let j = 0; j < STEPS; j++)
    for (let i = 0; i < STEPS; i++) {
      const at = {
        x: minX + ((maxX - minX) * (i + 0.5)) / STEPS,
        y: minY + ((maxY - minY) * (j + 0.5)) / STEPS,
      };
      if (pointInRing(part.outline.bare, at) !== 'inside') continue;
      sum += boardThicknessAt(board, onBoard(part, placement, at));
      count++;
    }
  return count === 0 ? board.thickness : snap(sum / count);
}

/** The least and the greatest thickness of a board, mm, over a grid that takes in its corners. */
export function thicknessRange(board: Board): readonly [number, number] {
  if (!isWhole(board)) {
    const all = placesOn(board.outline).map((p) => boardThicknessAt(board, p));
    return [snap(Math.min(...all)), snap(Math.max(...all))];
  }
  const { minX, minY, maxX, maxY } = ringBounds(board.outline);
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let j = 0; j <= STEPS; j++)
    for (let i = 0; i <= STEPS; i++) {
      const t = boardThicknessAt(board, {
        x: minX + ((maxX - minX) * i) / STEPS,
        y: minY + ((maxY - minY) * j) / STEPS,
      });
      least = Math.min(least, t);
      most = Math.max(most, t);
    }
  return [snap(least), snap(most)];
}
