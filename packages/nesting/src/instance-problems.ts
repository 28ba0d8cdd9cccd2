import {
  type Box,
  fillsItsBox,
  moveRing,
  type Point,
  type Ring,
  rectangleRing,
  ringArea,
  ringBounds,
} from '@haunch/geometry';
import type { Diagnostic, NestingBoard, NestingInstance, NestingItem } from '@haunch/model';
import { assertInstance } from './assert-instance.js';
import { crossingOfRing } from './crossing-of-ring.js';
import {
  boardTwice,
  crossedBoard,
  crossedOutline,
  emptyBoard,
  emptyOutline,
  holeOutside,
  itemTwice,
  keepOutCoversBoard,
  marginTakesBoard,
  noBoardAllowed,
  noBoards,
  noItems,
  noTurn,
  partExceedsBoards,
} from './diagnostics.js';
import { missingOf } from './missing-of.js';
import { overlapDepth, reachOutside } from './ring-gap.js';
import { largestEmptyRectangle } from './score-layout.js';

/** Room on a board by its box, mm. */
interface Room {
  readonly width: number;
  readonly height: number;
}

/** A size counts as fitting when it exceeds the room by no more than this, mm: what the referee lets pass. */
const FITS = 1e-6;

const repeated = (names: readonly string[]): string[] => [
  ...new Set(names.filter((n, i) => names.indexOf(n) !== i)),
];

const isEmpty = (r: Ring): boolean => !(Math.abs(ringArea(r)) > 0);

/** Why a board cannot be laid on, or its room. */
function roomOrProblem(board: NestingBoard, margin: number): Room | Diagnostic {
  if (isEmpty(board.outline)) return emptyBoard(board.id);
  const crossed = crossingOfRing(board.outline);
  return crossed ? crossedBoard(board.id, crossed) : roomOf(board, margin);
}

/** The room of a board, or why it has none. */
function roomOf(board: NestingBoard, margin: number): Room | Diagnostic {
  const b = ringBounds(board.outline);
  const inner: Box = {
    minX: b.minX + margin,
    minY: b.minY + margin,
    maxX: b.maxX - margin,
    maxY: b.maxY - margin,
  };
  const width = inner.maxX - inner.minX;
  const height = inner.maxY - inner.minY;
  if (width <= 0 || height <= 0) return marginTakesBoard(board.id, b.maxX - b.minX, b.maxY - b.minY, margin);
  const usable = rectangleRing(inner.minX, inner.minY, inner.maxX, inner.maxY);
  const covers = (k: Ring): boolean =>
    !isEmpty(k) && overlapDepth(usable, k).distance > 0 && reachOutside(usable, k).distance === 0;
  if (board.keepOuts.some(covers)) return keepOutCoversBoard(board.id);
  // Several may do so together, and with what the board lacks of its box.
  const taken = [...board.keepOuts.filter(fillsItsBox).map(ringBounds), ...missingOf(board.outline)];
  return taken.length > 0 && !largestEmptyRectangle(inner, taken)
    ? keepOutCoversBoard(board.id)
    : { width, height };
}

/** Copies of a part share their outlines, which are looked at once. */
const crossings = new WeakMap<Ring, Point | null>();

/** Where an item's outline or one of its holes crosses itself, as drawn. */
function crossingOf({ outline, holes = [] }: NestingItem): Point | null {
  for (const ring of [outline, ...holes.filter((h) => !isEmpty(h))]) {
    let at = crossings.get(ring);
    if (at === undefined) {
      at = crossingOfRing(ring);
      crossings.set(ring, at);
    }
    if (at) return at;
  }
  return null;
}

function itemProblem(
  item: NestingItem,
  rooms: ReadonlyMap<string, Room | undefined>,
): Diagnostic | undefined {
  if (isEmpty(item.outline)) return emptyOutline(item.id);
  const crossed = crossingOf(item);
  if (crossed) return crossedOutline(item.id, crossed);
  const outside = (item.holes ?? []).findIndex(
    (h) => isEmpty(h) || reachOutside(h, item.outline).distance > 0,
  );
  if (outside >= 0) return holeOutside(item.id, outside + 1);
  if (item.turns.length === 0) return noTurn(item.id);
  const boards = item.boards.filter((b) => rooms.has(b));
  if (boards.length === 0) return noBoardAllowed(item.id, item.boards);
  const sizes = item.turns.map((turn) => {
    const b = ringBounds(moveRing({ mirror: false, turn, dx: 0, dy: 0 }, item.outline));
    return [b.maxX - b.minX, b.maxY - b.minY] as const;
  });
  const open = boards.flatMap((board) => {
    const room = rooms.get(board);
    return room ? [{ board, ...room }] : [];
  });
  if (open.some((r) => sizes.some(([w, h]) => w <= r.width + FITS && h <= r.height + FITS))) return undefined;
  const largest = open.reduce<(typeof open)[number] | undefined>(
    (best, r) => (!best || r.width * r.height > best.width * best.height ? r : best),
    undefined,
  );
  return partExceedsBoards(item.id, sizes[0]!, largest);
}

/**
 * What is wrong with a layout problem before any strategy tries it: nothing to lay or to lay on, names given
 * twice, empty outlines, boards without room, parts that no board can take. Boxes decide, so that a part that
 * passes may still find no room. Diagnostics of the stage `lay`, boards first, then items, in their order.
 * @throws RangeError when spacing or edge margin is negative or not finite.
 */
export function instanceProblems(instance: NestingInstance): Diagnostic[] {
  assertInstance(instance);
  const out: Diagnostic[] = [];
  if (instance.items.length === 0) out.push(noItems());
  if (instance.boards.length === 0) return [...out, noBoards()];
  out.push(...repeated(instance.boards.map((b) => b.id)).map(boardTwice));
  const rooms = new Map<string, Room | undefined>();
  for (const board of instance.boards) {
    const room = roomOrProblem(board, instance.edgeMargin);
    if ('kind' in room) out.push(room);
    rooms.set(board.id, 'kind' in room ? undefined : room);
  }
  out.push(...repeated(instance.items.map((i) => i.id)).map(itemTwice));
  for (const item of instance.items) {
    const problem = itemProblem(item, rooms);
    if (problem) out.push(problem);
  }
  return out;
}
