import { type NextReading, nextReadings } from '@haunch/gauge';
import { type Point, ringBounds } from '@haunch/geometry';
import type { Board } from '@haunch/model';
import type { LaidBoard } from './lay-job.js';

/** Where a board was measured, as far as it was noted. mm */
export const placesRead = ({ readings }: Board): Point[] => readings.flatMap((r) => (r.at ? [r.at] : []));

/** The places on a board that its thickness matters at: the middles of what lies there, board coordinates, mm. */
export const placesThatMatter = ({ items }: Pick<LaidBoard, 'items'>): Point[] =>
  items.map(({ part }) => {
    const { minX, minY, maxX, maxY } = ringBounds(part.outline.ring);
    return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
  });

/**
 * The three further readings of a board that would help most, none where it was measured already: the same wherever they are
 * told, in words, in a picture or in a forecast. `where` are the places that matter; the whole board when left out. None for a
 * board without a map.
 */
export const readingsToTake = (board: Board, where?: readonly Point[]): NextReading[] =>
  board.map
    ? nextReadings(board.map, board.outline, {
        taken: placesRead(board),
        ...(where === undefined ? {} : { where }),
      })
    : [];
