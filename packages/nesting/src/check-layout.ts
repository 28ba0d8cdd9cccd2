import { type Box, moveRing, type Point, type Ring, ringArea, ringBounds } from '@haunch/geometry';
import type { Layout, NestingBoard, NestingInstance, NestingItem, Placement } from '@haunch/model';
import { assertInstance } from './assert-instance.js';
import { VIOLATION_TEXT as say } from './diagnostics.js';
import { overlapDepth, reachOutside, ringGap } from './ring-gap.js';

/**
 * How much a distance may fall short before the referee refuses it, mm: a hundredth of the 0.0001 mm grid, so
 * that one step off is always seen, and a thousand times the rounding of doubles at the size of a sheet, so that
 * a distance which is exactly right always passes.
 */
export const DISTANCE_TOLERANCE = 1e-6;

/** How far a turn may be from an allowed one, radians: at the end of a 2.5 m part less than 3 nm. */
export const TURN_TOLERANCE = 1e-9;

/** The rules a layout can break. */
export type ViolationKind =
  | 'unknown-item'
  | 'item-twice'
  | 'item-missing'
  | 'unknown-board'
  | 'board-not-allowed'
  | 'not-finite'
  | 'mirrored'
  | 'turn-not-allowed'
  | 'overlap'
  | 'spacing'
  | 'outside-board'
  | 'edge-margin'
  | 'keep-out'
  | 'defect';

/** One breach of a rule. */
export interface Violation {
  readonly kind: ViolationKind;
  readonly items: readonly string[];
  /** Where it is on a board. */
  readonly board?: string;
  /** Millimetres too near, too deep or too far out; radians off for a turn; 0 where there is nothing to measure. */
  readonly amount: number;
  /** The place on the board, mm. */
  readonly at?: Point;
  readonly message: string;
}

/** What the referee says of a layout. */
export interface RefereeReport {
  /** No rule is broken. An item named as unplaced breaks none. */
  readonly valid: boolean;
  readonly violations: readonly Violation[];
  /** The least distance between two items on one board, mm; 0 where some overlap; null where no board bears two. */
  readonly leastGap: number | null;
  /** Each board's share of area covered by items, 0 … 1. */
  readonly use: readonly { readonly board: string; readonly share: number }[];
}

interface Lying {
  readonly item: NestingItem;
  readonly board: NestingBoard;
  readonly ring: Ring;
  readonly holes: readonly Ring[];
  readonly box: Box;
}

/** Who is in the layout, and how often: items placed once, the rest named as unplaced. */
function checkNames(instance: NestingInstance, layout: Layout): Violation[] {
  const known = new Set(instance.items.map((i) => i.id));
  const count = new Map<string, number>();
  for (const id of [...layout.placements.map((p) => p.item), ...layout.unplaced])
    count.set(id, (count.get(id) ?? 0) + 1);
  const out: Violation[] = [];
  for (const [id, n] of count) {
    if (!known.has(id))
      out.push({ kind: 'unknown-item', items: [id], amount: 0, message: say.unknownItem(id) });
    if (n > 1) out.push({ kind: 'item-twice', items: [id], amount: 0, message: say.itemTwice(id) });
  }
  for (const { id } of instance.items)
    if (!count.has(id))
      out.push({ kind: 'item-missing', items: [id], amount: 0, message: say.itemMissing(id) });
  return out;
}

const offTurn = (turn: number, allowed: readonly number[]): number =>
  Math.min(Infinity, ...allowed.map((a) => Math.abs(Math.atan2(Math.sin(turn - a), Math.cos(turn - a)))));

/** Whether a placement may be at all: board, turn, no mirroring. */
function checkMotion(p: Placement, item: NestingItem, board: NestingBoard | undefined): Violation[] {
  const out: Violation[] = [];
  const put = (kind: ViolationKind, amount: number, message: string): void => {
    out.push({ kind, items: [p.item], board: p.board, amount, message });
  };
  if (!board) put('unknown-board', 0, say.unknownBoard(p.item, p.board));
  else if (!item.boards.includes(p.board)) put('board-not-allowed', 0, say.boardNotAllowed(p.item, p.board));
  const { mirror, turn, dx, dy } = p.motion;
  if (mirror) put('mirrored', 0, say.mirrored(p.item));
  if (![turn, dx, dy].every(Number.isFinite)) {
    put('not-finite', 0, say.notFinite(p.item));
    return out;
  }
  const off = offTurn(turn, item.turns);
  if (!(off <= TURN_TOLERANCE))
    put('turn-not-allowed', Number.isFinite(off) ? off : 0, say.turn(p.item, (turn * 180) / Math.PI));
  return out;
}

/**
 * How far an item's box is from the sides of its board, mm, where the board is a rectangle along the axes: its
 * outline is no nearer then. −∞ where it is none.
 */
function roomInRectangle({ box, board }: Lying): number {
  const [a, b, c, d, ...more] = board.outline.vertices;
  if (!a || !b || !c || !d || more.length > 0) return -Infinity;
  const isRectangle =
    [a, b, c, d].every((v) => v.bulge === 0) &&
    a.x !== c.x &&
    a.y !== c.y &&
    ((a.x === b.x && b.y === c.y && c.x === d.x && d.y === a.y) ||
      (a.y === b.y && b.x === c.x && c.y === d.y && d.x === a.x));
  if (!isRectangle) return -Infinity;
  const r = ringBounds(board.outline);
  return Math.min(box.minX - r.minX, box.minY - r.minY, r.maxX - box.maxX, r.maxY - box.maxY);
}

/** Whether an item lies on its board: within it by the edge margin, clear of keep-outs by the spacing. */
function checkOnBoard(l: Lying, spacing: number, edgeMargin: number): Violation[] {
  const out: Violation[] = [];
  const [id, board] = [l.item.id, l.board.id];
  const put = (kind: ViolationKind, amount: number, at: Point, message: string): void => {
    out.push({ kind, items: [id], board, amount, at, message });
  };
  if (!(roomInRectangle(l) >= edgeMargin)) {
    const edge = ringGap(l.ring, l.board.outline);
    const outside = reachOutside(l.ring, l.board.outline);
    if (outside.distance > DISTANCE_TOLERANCE)
      put('outside-board', outside.distance, outside.at, say.outside(id, board, outside.distance));
    else if (edge.distance < edgeMargin - DISTANCE_TOLERANCE)
      put(
        'edge-margin',
        edgeMargin - edge.distance,
        edge.at,
        say.margin(id, board, edge.distance, edgeMargin),
      );
  }
  for (const keepOut of l.board.keepOuts) {
    if (boxesApart(l.box, ringBounds(keepOut)) >= spacing && spacing > 0) continue;
    const depth = overlapDepth(l.ring, keepOut);
    const gap = ringGap(l.ring, keepOut);
    if (depth.distance > 0)
      put('keep-out', spacing + depth.distance, depth.at, say.inKeepOut(id, board, depth.distance));
    else if (gap.distance < spacing - DISTANCE_TOLERANCE)
      put('keep-out', spacing - gap.distance, gap.at, say.nearKeepOut(id, board, gap.distance, spacing));
  }
  return out;
}

/** Whether an item shows a defect of its board: any of it, but for what lies wholly in one of the item's holes. Touching is no showing. */
function checkDefects(l: Lying): Violation[] {
  const shows = l.item.shows ?? [];
  return (l.board.defects ?? []).flatMap(({ outline, face }): Violation[] => {
    if (!shows.includes(face)) return [];
    if (l.holes.some((h) => reachOutside(outline, h).distance <= DISTANCE_TOLERANCE)) return [];
    const { distance: amount, at } = overlapDepth(l.ring, outline);
    const [id, board] = [l.item.id, l.board.id];
    return amount > 0
      ? [{ kind: 'defect', items: [id], board, amount, at, message: say.onDefect(id, board, face, amount) }]
      : [];
  });
}

const boxesApart = (a: Box, b: Box): number =>
  Math.hypot(Math.max(0, a.minX - b.maxX, b.minX - a.maxX), Math.max(0, a.minY - b.maxY, b.minY - a.maxY));

/** Whether a box reaches no further than another, but for what the referee lets pass. */
const isWithin = (inner: Box, outer: Box): boolean =>
  inner.minX >= outer.minX - DISTANCE_TOLERANCE &&
  inner.minY >= outer.minY - DISTANCE_TOLERANCE &&
  inner.maxX <= outer.maxX + DISTANCE_TOLERANCE &&
  inner.maxY <= outer.maxY + DISTANCE_TOLERANCE;

/** The hole of one item that the other lies wholly in, if there is one. */
const holeRound = (a: Lying, b: Lying): Ring | undefined =>
  a.holes.find(
    (h) => isWithin(b.box, ringBounds(h)) && reachOutside(b.ring, h).distance <= DISTANCE_TOLERANCE,
  );

/** The nearer of two places. */
const nearer = <T extends { readonly distance: number }>(p: T, q: T): T => (q.distance < p.distance ? q : p);

/** Whether two items on one board keep their distance; answers with it. */
function checkPair(a: Lying, b: Lying, spacing: number, found: Violation[]): number {
  const items = [a.item.id, b.item.id];
  const around = holeRound(a, b);
  const within = around ? undefined : holeRound(b, a);
  const outlines = ringGap(a.ring, b.ring);
  const gap = around
    ? nearer(outlines, ringGap(around, b.ring))
    : within
      ? nearer(outlines, ringGap(within, a.ring))
      : outlines;
  const put = (kind: ViolationKind, amount: number, at: Point, message: string): void => {
    found.push({ kind, items, board: a.board.id, amount, at, message });
  };
  const depth = around || within ? undefined : overlapDepth(a.ring, b.ring);
  if (depth && depth.distance > 0) {
    put('overlap', spacing + depth.distance, depth.at, say.overlap(items, depth.distance));
    return 0;
  }
  if (gap.distance < spacing - DISTANCE_TOLERANCE)
    put('spacing', spacing - gap.distance, gap.at, say.spacing(items, gap.distance, spacing));
  return gap.distance;
}

/**
 * The referee: judges a layout from the true outlines, lines and arcs placed by their motions. Every item is
 * placed once or named as unplaced, on a board it may lie on, in an allowed turn, not mirrored; two items on a
 * board are at least the spacing apart, each lies within its board by the edge margin and clear of keep-outs by
 * the spacing, all within `DISTANCE_TOLERANCE`; it covers nothing of a defect of a face that it shows, which it may touch. An item inside another's outline overlaps it, unless it lies wholly in
 * one of its holes, the spacing kept from the hole's edge. At spacing 0 touching is allowed and an overlap is seen from half a grid step (0.00005 mm) on.
 * Violations come in the order names, motions, boards, pairs; each in the order of the instance. Mm, radians.
 * @throws RangeError when spacing or edge margin is negative or not finite.
 */
export function checkLayout(instance: NestingInstance, layout: Layout): RefereeReport {
  assertInstance(instance);
  const { spacing, edgeMargin } = instance;
  const boards = new Map(instance.boards.map((b) => [b.id, b]));
  const items = new Map(instance.items.map((i) => [i.id, i]));
  const violations = checkNames(instance, layout);
  const lying: Lying[] = [];
  for (const p of layout.placements) {
    const item = items.get(p.item);
    if (!item) continue;
    const board = boards.get(p.board);
    const wrong = checkMotion(p, item, board);
    violations.push(...wrong);
    if (!board || wrong.some((w) => w.kind === 'not-finite')) continue;
    const ring = moveRing(p.motion, item.outline);
    const holes = (item.holes ?? []).map((h) => moveRing(p.motion, h));
    lying.push({ item, board, ring, holes, box: ringBounds(ring) });
  }
  let leastGap = Infinity;
  const pairs: Violation[] = [];
  const use = instance.boards.map((board) => {
    const here = lying.filter((l) => l.board === board);
    for (const l of here) violations.push(...checkOnBoard(l, spacing, edgeMargin), ...checkDefects(l));
    here.forEach((a, i) => {
      for (const b of here.slice(i + 1)) {
        const apart = boxesApart(a.box, b.box);
        // Boxes far enough apart settle a pair, unless it might be the closest of all.
        if (apart > 0 && apart >= spacing && apart >= leastGap) continue;
        leastGap = Math.min(leastGap, checkPair(a, b, spacing, pairs));
      }
    });
    const covered = here.reduce((sum, l) => sum + Math.abs(ringArea(l.item.outline)), 0);
    const area = Math.abs(ringArea(board.outline));
    return { board: board.id, share: area > 0 ? covered / area : 0 };
  });
  violations.push(...pairs);
  return {
    valid: violations.length === 0,
    violations,
    leastGap: Number.isFinite(leastGap) ? leastGap : null,
    use,
  };
}
