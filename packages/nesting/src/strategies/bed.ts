import { clockwise, counterClockwise, type Ring, ringArea, ringBounds } from '@haunch/geometry';
import type { LyingFace, NestingBoard, NestingItem } from '@haunch/model';
import { bridged, convexPieces } from './convex-pieces.js';
import type { GridBox } from './no-fit.js';
import { type GridPolygon, ON_GRID, outerPolygon, outerPolygonOf, STEPS } from './outer-polygon.js';
import { finer, grownPieces } from './shape.js';
import { type Coarseness, simplifyOutward } from './simplify-outward.js';

/** A board as strategies see it, on the grid. */
export interface Bed {
  readonly id: string;
  /** Where the boxes of items may lie: the board's box less the edge margin. */
  readonly usable: GridBox;
  /** The board's own box. */
  readonly box: GridBox;
  /** What bare items must keep out of: the offcut side of an outline that is no rectangle, grown by the margin. */
  readonly outside: readonly GridPolygon[];
  /** What grown items must keep out of: each keep-out, grown by half of the spacing. */
  readonly keepOuts: readonly (readonly GridPolygon[])[];
  /** What bare items that show a face must keep out of: each defect of that face. */
  readonly defects: readonly { readonly face: LyingFace; readonly pieces: readonly GridPolygon[] }[];
  /** What a unit of its area counts. */
  readonly cost: number;
}

const isRectangle = (outline: Ring, box: GridBox): boolean =>
  outline.vertices.every((v) => v.bulge === 0) &&
  Math.abs(Math.abs(ringArea(outline)) - ((box[2] - box[0]) * (box[3] - box[1])) / (STEPS * STEPS)) <
    1e-9 * (box[2] - box[0]);

/** The region outside a board's outline, within a frame just round it, as convex pieces. */
function outsideOf(
  outline: Ring,
  box: GridBox,
  coarseness: Coarseness,
): { readonly pieces: GridPolygon[]; readonly inexact: boolean } {
  const hole = simplifyOutward(outerPolygon(clockwise(outline)), finer(coarseness));
  const [x0, y0, x1, y1] = [box[0] - STEPS, box[1] - STEPS, box[2] + STEPS, box[3] + STEPS];
  // Where the cut fails, convexPieces answers with the hull, which leaves no room at all: sound, though useless.
  const pieces = convexPieces(bridged([x0, y0, x1, y0, x1, y1, x0, y1], hole.corners));
  return { pieces, inexact: hole.inexact };
}

/** The bed of a board, for an instance's spacing and edge margin in mm. */
export function bedOf(board: NestingBoard, spacing: number, edgeMargin: number, coarseness: Coarseness): Bed {
  const outline = counterClockwise(board.outline);
  const b = ringBounds(outline);
  // Inward: what is not wholly there cannot be used.
  const box: GridBox = [
    Math.ceil(b.minX * STEPS - ON_GRID) + 0,
    Math.ceil(b.minY * STEPS - ON_GRID) + 0,
    Math.floor(b.maxX * STEPS + ON_GRID) + 0,
    Math.floor(b.maxY * STEPS + ON_GRID) + 0,
  ];
  const margin = Math.ceil(edgeMargin * STEPS - ON_GRID);
  const grow = Math.ceil((spacing * STEPS) / 2 - ON_GRID);
  const outside = isRectangle(outline, box)
    ? { pieces: [], inexact: false }
    : outsideOf(outline, box, coarseness);
  const covering = (ring: Ring, by: number): GridPolygon[] => {
    const outer = simplifyOutward(outerPolygonOf(ring), coarseness);
    return grownPieces(convexPieces(outer.corners), by + (outer.inexact ? 1 : 0));
  };
  return {
    id: board.id,
    cost: board.cost ?? 1,
    box,
    usable: [box[0] + margin, box[1] + margin, box[2] - margin, box[3] - margin],
    outside: grownPieces(outside.pieces, margin + (outside.inexact ? 1 : 0)),
    keepOuts: board.keepOuts.map((ring) => covering(ring, grow)),
    defects: (board.defects ?? []).map(({ outline: ring, face }) => ({ face, pieces: covering(ring, 0) })),
  };
}

/** What a bare item must keep out of on a bed, one polygon's pieces each. */
export const bareObstacles = (bed: Bed, shows: readonly LyingFace[]): (readonly GridPolygon[])[] =>
  [bed.outside, ...bed.defects.filter((d) => shows.includes(d.face)).map((d) => d.pieces)].filter(
    (pieces) => pieces.length > 0,
  );

/** Whether a bed is a rectangle on which everything may lie. */
export const isPlain = (b: Bed): boolean => b.outside.length + b.keepOuts.length + b.defects.length === 0;

/** Whether items need pieces without the spacing round them: there are boards that are no rectangles, or defects. */
export const needsBare = (beds: readonly Bed[]): boolean =>
  beds.some((b) => b.outside.length > 0 || b.defects.length > 0);

/** The faces that an item shows, where that matters to one of the beds. */
export const facesShown = (
  beds: readonly Pick<Bed, 'defects'>[],
  { shows = [] }: Pick<NestingItem, 'shows'>,
): readonly LyingFace[] => shows.filter((face) => beds.some((b) => b.defects.some((d) => d.face === face)));
