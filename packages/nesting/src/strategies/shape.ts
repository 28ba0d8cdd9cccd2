import { clockwise, cosSin, moveRing, type Ring, ringBounds } from '@haunch/geometry';
import type { LyingFace } from '@haunch/model';
import { convexHull, convexPieces } from './convex-pieces.js';
import { brush, convexSum, squareCorners } from './minkowski.js';
import { type GridPolygon, ON_GRID, outerPolygon, outerPolygonOf, STEPS } from './outer-polygon.js';
import { pierce } from './pierce.js';
import { type Coarseness, simplifyOutward } from './simplify-outward.js';

/**
 * An outline in one turn, on the grid, as strategies place it; the lower left corner of the true outline's box
 * is at (0, 0).
 */
export interface Shape {
  /** Equal for shapes that are the same to a strategy. */
  readonly key: string;
  /** Where the box's corner lies when the outline is turned but not moved, steps. */
  readonly cornerX: number;
  readonly cornerY: number;
  /** Size of the true outline's box, steps, rounded up. */
  readonly width: number;
  readonly height: number;
  /** The coarsened outline that the pieces cover, begun at its least corner. */
  readonly outline: GridPolygon;
  /** Its holes, coarsened likewise and clockwise; none where they are not used. */
  readonly holes: readonly GridPolygon[];
  /** The faces it shows, where boards have defects of such; what else is alike is another shape then. */
  readonly shows: readonly LyingFace[];
  /** Convex pieces that cover the outline closely, for boards that are no rectangles or have defects; none where there are none. */
  readonly bare: readonly GridPolygon[];
  /** Convex pieces that cover the outline grown by half of the spacing. */
  readonly grown: readonly GridPolygon[];
  /** By so many steps it is grown for rounding. */
  readonly slack: number;
}

const shifted = (p: GridPolygon, dx: number, dy: number): GridPolygon =>
  p.map((v, i) => v + (i % 2 === 0 ? dx : dy) + 0);

/** The polygon begun at its leftmost, then lowest, corner, so that equal outlines read equal. */
export function fromLeastCorner(p: GridPolygon): GridPolygon {
  let at = 0;
  for (let i = 2; i < p.length; i += 2)
    if (p[i]! < p[at]! || (p[i] === p[at] && p[i + 1]! < p[at + 1]!)) at = i;
  return [...p.slice(at), ...p.slice(0, at)];
}

/** Convex pieces grown by a round brush of `r` steps. */
export const grownPieces = (pieces: readonly GridPolygon[], r: number): GridPolygon[] =>
  r > 0 ? pieces.map((p) => squareCorners(convexSum(p, brush(r)), r)) : [...pieces];

/**
 * What may be added to an outline, as a part of what coarsening may, where it meets the edge of a board that is
 * no rectangle.
 */
export const FINE_SHARE = 0.1;

/** A coarseness finer by `FINE_SHARE`. */
export const finer = ({ corners, addedArea }: Coarseness): Coarseness => ({
  corners,
  addedArea: addedArea * FINE_SHARE,
});

/** Equal for shapes that are the same to a strategy. */
const keyOf = (
  width: number,
  height: number,
  slack: number,
  shows: readonly LyingFace[],
  polygons: readonly GridPolygon[],
): string =>
  `${width},${height},${slack}${shows.map((f) => `,${f}`).join('')}|${polygons.map((p) => p.join()).join('|')}`;

/**
 * A solid shape turned by half a turn more: exact, as half a turn only changes signs. For boards that are rectangles,
 * or shapes without hollows.
 */
export function halfTurned(s: Shape): Shape {
  const turned = (p: GridPolygon): GridPolygon => p.map((v, i) => (i % 2 === 0 ? s.width : s.height) - v);
  const outline = fromLeastCorner(turned(s.outline));
  return {
    ...s,
    key: keyOf(s.width, s.height, s.slack, s.shows, [outline]),
    cornerX: -s.cornerX - s.width + 0,
    cornerY: -s.cornerY - s.height + 0,
    outline,
    bare: s.bare.map(turned),
    grown: s.grown.map(turned),
  };
}

/**
 * The shape of an outline turned by `turn` radians, for a spacing in mm. `bare`: there are boards that are
 * no rectangles or have defects, so that shapes are equal only if their bare pieces are.
 */
export function shapeOf(
  outline: Ring,
  turn: number,
  spacing: number,
  coarseness: Coarseness,
  bare: boolean,
  openings: readonly Ring[] = [],
  shows: readonly LyingFace[] = [],
): Shape {
  const [c, s] = cosSin(turn);
  const quarter = Math.abs(c) === 1 || Math.abs(s) === 1;
  const ring = moveRing({ mirror: false, turn, dx: 0, dy: 0 }, outline);
  const box = ringBounds(ring);
  const cornerX = Math.floor(box.minX * STEPS + ON_GRID) + 0;
  const cornerY = Math.floor(box.minY * STEPS + ON_GRID) + 0;
  const width = Math.ceil(box.maxX * STEPS - ON_GRID) - cornerX;
  const height = Math.ceil(box.maxY * STEPS - ON_GRID) - cornerY;
  const exact = outerPolygonOf(ring);
  const outer = coarseness.hull ? { ...exact, corners: convexHull(exact.corners) } : exact;
  const outers = (coarseness.hull ? [] : openings).map((opening) =>
    outerPolygon(clockwise(moveRing({ mirror: false, turn, dx: 0, dy: 0 }, opening))),
  );
  // What was rounded may stand a step inside the true outline: grow it by as much.
  const slack = outer.inexact || !quarter || outers.some((h) => h.inexact) ? 1 : 0;
  const simple = (limit: Coarseness): GridPolygon =>
    fromLeastCorner(shifted(simplifyOutward(outer, limit).corners, -cornerX, -cornerY));
  const coarse = simple(coarseness);
  const holes = outers.map((hole) =>
    fromLeastCorner(shifted(simplifyOutward(hole, coarseness).corners, -cornerX, -cornerY)),
  );
  // Where the holes cannot be cut out, the outline is solid: sound, though they go unused.
  const pierced = pierce(coarse, holes);
  const fine = bare ? simple(finer(coarseness)) : undefined;
  return {
    slack,
    shows,
    key: keyOf(width, height, slack, shows, [coarse, ...holes, ...(fine ? [fine] : [])]),
    cornerX,
    cornerY,
    width,
    height,
    outline: coarse,
    holes: pierced ? holes : [],
    bare: fine ? grownPieces(convexPieces(fine), slack) : [],
    grown: grownPieces(
      coarseness.hull ? [convexHull(coarse)] : convexPieces(pierced ?? coarse),
      Math.ceil((spacing * STEPS) / 2 - ON_GRID) + slack,
    ),
  };
}
