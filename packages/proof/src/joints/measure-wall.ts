import { type Box, type Segment, segmentBounds } from '@haunch/geometry';
import type { AsCutBoard, AsCutItem, Field } from '../as-cut-board.js';
import { fieldOf } from '../as-cut-board.js';
import type { Level } from '../sweep/level.js';
import { REACH, type TrackIndex } from '../sweep/track-index.js';
import { openOver, type WantedContour, wantedContours } from '../wanted/wanted-contour.js';
import { remember } from './remember.js';
import { measuringPlaces, onWall, type Wall, wallCut, wallsOf } from './wall.js';

/** A wanted edge of an item, ready to be measured on its board. */
export interface Side {
  readonly item: AsCutItem;
  readonly contour: WantedContour;
  readonly walls: readonly Wall[];
  readonly field: Field;
  /** The slabs over which the edge is a wall. */
  readonly levels: readonly Level[];
  /** Radius of the cutter that made it. */
  readonly radius: number;
}

/** How far an edge is off over its length and depth: positive where less material stands than wanted. mm */
export interface Spread {
  readonly least: number;
  readonly most: number;
}

/** Slabs thinner than a floor's rounding are not asked. */
const FLOOR_TOLERANCE = 0.02;

/** Radius of the smallest cutter that runs beside a contour; 0 when none does. */
function cutterBeside(contour: WantedContour, field: Field): number {
  let least = Infinity;
  const level = field.levels[field.levels.length - 1];
  if (level === undefined) return 0;
  for (const s of contour.segments) {
    const middle = { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 };
    for (const t of field.at(level.at).near(s.kind === 'line' ? middle : s.from))
      least = Math.min(least, t.radius);
  }
  return least === Infinity ? 0 : least;
}

/** The edges of one item that have been asked for. */
interface Known {
  readonly contours: readonly WantedContour[];
  readonly sides: Map<string, Side | undefined>;
}

const itemsOf = remember((_board: AsCutBoard) => new Map<AsCutItem, Known>());

/** Finds an edge by its id on an item; undefined when the item has no such straight edge. */
export function findSide(
  board: AsCutBoard,
  item: AsCutItem,
  tag: string,
  contourId?: string,
): Side | undefined {
  const items = itemsOf(board);
  let known = items.get(item);
  if (known === undefined) {
    known = { contours: wantedContours(item.part, board.top), sides: new Map() };
    items.set(item, known);
  }
  const name = JSON.stringify([tag, contourId]);
  if (!known.sides.has(name)) known.sides.set(name, sideAmong(known.contours, board, item, tag, contourId));
  return known.sides.get(name);
}

function sideAmong(
  contours: readonly WantedContour[],
  board: AsCutBoard,
  item: AsCutItem,
  tag: string,
  contourId: string | undefined,
): Side | undefined {
  const field = fieldOf(board);
  for (const contour of contours) {
    if (contourId !== undefined && contour.id !== contourId) continue;
    const radius = cutterBeside(contour, field);
    const walls = wallsOf(contour, tag, radius);
    if (walls.length === 0) continue;
    const levels = board.levels.filter((l) => openOver(contour, l, FLOOR_TOLERANCE) === true);
    return { item, contour, walls, field, levels, radius };
  }
  return undefined;
}

/**
 * What is removed beside some edges, once for all slabs over which the same ways run there: the highest of them,
 * which knows every pass.
 */
export function removedBeside(side: Side, edges: readonly Segment[]): TrackIndex[] {
  const box = growBox(edges.map(segmentBounds), REACH);
  const out: TrackIndex[] = [];
  for (const level of [...side.levels].sort((a, b) => b.at - a.at)) {
    const removed = side.field.at(level.at);
    if (!out.some((o) => o.alike(removed, box))) out.push(removed);
  }
  return out;
}

const growBox = (boxes: readonly Box[], by: number): Box => ({
  minX: Math.min(...boxes.map((b) => b.minX)) - by,
  minY: Math.min(...boxes.map((b) => b.minY)) - by,
  maxX: Math.max(...boxes.map((b) => b.maxX)) + by,
  maxY: Math.max(...boxes.map((b) => b.maxY)) + by,
});

const edgesOf = (side: Side): Segment[] => side.walls.map((w) => w.segment);

/** Measures one edge by itself. */
export const measureSide = remember((side: Side): Spread => {
  let least = Infinity;
  let most = -Infinity;
  for (const removed of removedBeside(side, edgesOf(side)))
    for (const wall of side.walls)
      for (const s of measuringPlaces(wall, removed, wall.window)) {
        const { off } = wallCut(removed, onWall(wall, s), wall.air);
        least = Math.min(least, off);
        most = Math.max(most, off);
      }
  return { least, most };
});

/** Program lines that cut an edge, on any pass. */
export const linesOfSide = remember((side: Side): readonly number[] => {
  const lines = new Set<number>();
  for (const removed of removedBeside(side, edgesOf(side)))
    for (const wall of side.walls)
      for (const s of measuringPlaces(wall, removed, wall.window)) {
        const { at, off } = wallCut(removed, onWall(wall, s), wall.air);
        if (Math.abs(off) < 2) for (const t of removed.edgesAt(at, 0.0015)) lines.add(t.line);
      }
  return [...lines].sort((a, b) => a - b);
});
