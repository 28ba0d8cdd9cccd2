import type { Clip, Point } from '@haunch/geometry';
import type { Field } from '../as-cut-board.js';
import type { Level } from '../sweep/level.js';
import { insidePiece, type Piece, standing } from '../sweep/pieces.js';
import { boxOf, makeSweeper } from '../sweep/sweeper.js';
import { type CutEdges, cutEdges } from './cut-edges.js';

/** A piece that stands alone over a slab, cut all round. mm */
export interface StandingPiece {
  readonly piece: Piece;
  readonly level: Level;
  readonly edges: CutEdges;
  /** The middle of its box. */
  readonly middle: Point;
  /** A place in its material. */
  readonly inside: Point;
}

/** What stands over one slab: pieces cut all round, in order of place, and the edges of what is left around them. */
export interface StandingLevel {
  readonly level: Level;
  readonly pieces: readonly StandingPiece[];
  readonly frame: readonly Piece[];
}

/** Chords this far off are near enough to know a part by, mm. */
const COARSE = 0.02;
/** How far beyond all cuts the waste round them is taken to reach, mm. */
const AROUND = 20;
/** Smaller pieces are no parts, mm². */
const LEAST_AREA = 25;
/** Steps from an edge into the material, mm. */
const INTO = [0.3, 0.05] as const;

/** A place just inside the longest edge of a piece that has material there. */
function insideOf(piece: Piece): Point {
  const p = piece.outer;
  const order = p
    .map((a, i) => {
      const b = p[(i + 1) % p.length]!;
      return { a, b, l: Math.hypot(b.x - a.x, b.y - a.y) };
    })
    .sort((a, b) => b.l - a.l);
  for (const { a, b, l } of order.slice(0, 8))
    for (const by of INTO) {
      const q = { x: (a.x + b.x) / 2 - ((b.y - a.y) / l) * by, y: (a.y + b.y) / 2 + ((b.x - a.x) / l) * by };
      if (l > 0 && insidePiece(piece, q)) return q;
    }
  return order[0]!.a;
}

/** What stands over a slab when all of it that is cut lies far from the board's edge. */
export function standingOver(clip: Clip, field: Field, level: Level): StandingLevel {
  const patches = makeSweeper(clip, () => COARSE).sweep(field.at(level.at).tracks);
  const box = boxOf(patches.flatMap((p) => p.polygons));
  if (!Number.isFinite(box.minX)) return { level, pieces: [], frame: [] };
  const [x0, y0] = [box.minX - AROUND, box.minY - AROUND];
  const [x1, y1] = [box.maxX + AROUND, box.maxY + AROUND];
  const window = [
    [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ],
  ];
  const all = standing(clip, window, patches);
  const isFrame = (p: Piece): boolean => p.box.minX <= x0 + 1e-6;
  return {
    level,
    frame: all.filter(isFrame),
    pieces: all
      .filter((p) => !isFrame(p) && p.area >= LEAST_AREA)
      .map((piece) => ({
        piece,
        level,
        edges: cutEdges([piece.outer, ...piece.holes]),
        middle: { x: (piece.box.minX + piece.box.maxX) / 2, y: (piece.box.minY + piece.box.maxY) / 2 },
        inside: insideOf(piece),
      }))
      .sort(
        (a, b) =>
          a.piece.box.minX - b.piece.box.minX ||
          a.piece.box.minY - b.piece.box.minY ||
          b.piece.area - a.piece.area,
      ),
  };
}
