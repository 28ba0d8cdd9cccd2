import { type Ring, rectangleRing, ringArea, ringBounds } from '@haunch/geometry';
import type { Diagnostic, NestingBoard, NestingInstance, NestingItem } from '@haunch/model';
import { crossingOfRing } from '../crossing-of-ring.js';
import { crossedOutline, emptyOutline, holeOutside, noItems } from '../diagnostics.js';
import { reachOutside } from '../ring-gap.js';

/** An item as the literature states it: an outline, how many of it, and its turns in radians. */
export interface ProblemItem {
  readonly id: string;
  readonly demand: number;
  readonly outline: Ring;
  /** Openings in which other items may lie. */
  readonly holes?: readonly Ring[];
  readonly turns: readonly number[];
}

/** A kind of board as the literature states it; `stock` is undefined where there are as many as one likes. */
export interface ProblemBoard {
  readonly width: number;
  readonly height: number;
  readonly stock?: number;
}

/** What is known of the best layout of a problem, and who says so. */
export interface KnownBest {
  /** Share of the strip covered, 0 … 1. */
  readonly density?: number;
  readonly boards?: number;
  /** Nothing better can exist. */
  readonly proved: boolean;
  readonly source: string;
}

/**
 * A layout problem to compare strategies on. A strip problem has one board of fixed width (along y) and ample
 * length (along x), and asks for the least length; a board problem asks for the fewest boards. The instance is in
 * millimetres, everything else in the problem's own unit.
 */
export interface LayoutProblem {
  readonly kind: 'layout-problem';
  readonly name: string;
  /** Where the data come from, as the file says. */
  readonly source: string;
  readonly instance: NestingInstance;
  /** How many millimetres stand for one of the problem's units: 1, or a power of ten below where sizes are great. */
  readonly unit: number;
  /** The fixed width of a strip, in the problem's unit; undefined for a board problem. */
  readonly stripWidth?: number;
  /** Area of all items, in the problem's unit. */
  readonly itemArea: number;
  readonly known?: KnownBest;
  /** What a reader of results must know: turns sampled where the problem allows any. */
  readonly notes: readonly string[];
}

/** What the file or the generator says besides items and boards. */
export interface ProblemFacts {
  readonly name: string;
  readonly source: string;
  readonly known?: KnownBest;
  readonly notes?: readonly string[];
}

/** How large a strip or a board may be, mm: coordinates then stay small enough to be exact. */
const LARGEST = 1000;

/** Millimetres that stand for one unit where a strip or board is so wide. */
function unitFor(width: number): number {
  let per = 1;
  while (width / per > LARGEST) per *= 10;
  return 1 / per;
}

const scaled = (r: Ring, unit: number): Ring =>
  unit === 1 ? r : { vertices: r.vertices.map((v) => ({ ...v, x: v.x * unit, y: v.y * unit })) };

/** Corners nearer than this to the one before are the rounding of whoever wrote the file, mm: two grid steps. */
const ROUNDING = 0.0002;

/** A ring of lines without corners that are the same but for rounding: it would cross itself there. */
function withoutDoubles(r: Ring): Ring {
  if (r.vertices.some((v) => v.bulge !== 0)) return r;
  const kept: Ring['vertices'][number][] = [];
  const apart = (p: { x: number; y: number }, q: { x: number; y: number } | undefined): boolean =>
    !q || Math.hypot(p.x - q.x, p.y - q.y) > ROUNDING;
  for (const v of r.vertices) if (apart(v, kept.at(-1))) kept.push(v);
  while (kept.length > 3 && !apart(kept.at(-1)!, kept[0])) kept.pop();
  return kept.length === r.vertices.length || kept.length < 3 ? r : { ...r, vertices: kept };
}

/** Says so where corners were left out. */
const doublesNote = (items: readonly ProblemItem[], unit: number): string[] => {
  const fewer = items.filter(({ outline }) => {
    const r = scaled(outline, unit);
    return withoutDoubles(r) !== r;
  });
  return fewer.length > 0
    ? [
        `corners nearer than ${ROUNDING} mm to the one before are left out of ${fewer.map((i) => i.id).join(', ')}`,
      ]
    : [];
};

const copies = (items: readonly ProblemItem[], unit: number, boards: readonly string[]): NestingItem[] =>
  items.flatMap((i) =>
    Array.from({ length: i.demand }, (_, k) => ({
      id: k === 0 ? i.id : `${i.id}/${k + 1}`,
      outline: withoutDoubles(scaled(i.outline, unit)),
      ...(i.holes ? { holes: i.holes.map((h) => withoutDoubles(scaled(h, unit))) } : {}),
      turns: i.turns,
      boards,
    })),
  );

const areaOf = (items: readonly ProblemItem[]): number =>
  items.reduce(
    (sum, i) =>
      sum +
      i.demand *
        (Math.abs(ringArea(i.outline)) - (i.holes ?? []).reduce((h, r) => h + Math.abs(ringArea(r)), 0)),
    0,
  );

/** Why these items make no problem: none at all, one without area or that crosses itself, or one with a hole that is none. */
export function problemFaults(items: readonly ProblemItem[]): Diagnostic[] {
  if (items.length === 0) return [noItems()];
  return items.flatMap((i): Diagnostic[] => {
    if (!(Math.abs(ringArea(i.outline)) > 0)) return [emptyOutline(i.id)];
    const crossed = [i.outline, ...(i.holes ?? [])].map(crossingOfRing).find((p) => p !== null);
    if (crossed) return [crossedOutline(i.id, crossed)];
    const bad = (i.holes ?? []).findIndex(
      (h) => !(Math.abs(ringArea(h)) > 0) || reachOutside(h, i.outline).distance > 0,
    );
    return bad < 0 ? [] : [holeOutside(i.id, bad + 1)];
  });
}

const reachOf = (outline: Ring): number => {
  const b = ringBounds(outline);
  return Math.hypot(b.maxX - b.minX, b.maxY - b.minY);
};

/**
 * A strip of the given width (along y) on which the items are to take the least length along x. The board is twice as
 * long as all items in a row, each as long as it may lie: then even that row, which leaves a strip along the board free, takes
 * more by the score than a layout half as dense that leaves the board's end free.
 * @throws RangeError for a width that is no positive number.
 */
export function stripProblem(
  facts: ProblemFacts,
  width: number,
  items: readonly ProblemItem[],
): LayoutProblem {
  if (!(width > 0 && Number.isFinite(width))) throw new RangeError(`stripProblem: a strip ${width} wide`);
  const itemArea = areaOf(items);
  const length = Math.ceil(2 * items.reduce((sum, i) => sum + i.demand * reachOf(i.outline), 0));
  const unit = unitFor(width);
  const outline = rectangleRing(0, 0, length * unit, width * unit);
  const strip: NestingBoard = { id: 'strip', outline, keepOuts: [] };
  return {
    kind: 'layout-problem',
    ...facts,
    notes: [...(facts.notes ?? []), ...doublesNote(items, unit)],
    instance: { items: copies(items, unit, ['strip']), boards: [strip], spacing: 0, edgeMargin: 0 },
    unit,
    stripWidth: width,
    itemArea,
  };
}

/** Boards given beyond the area bound where the stock has no end: half as many again and three. */
const ample = (bound: number, items: number): number => Math.min(items, Math.ceil(bound * 1.5) + 3);

/**
 * Boards of which the fewest are to be used. A kind without a stock is given as often as its own area bound asks,
 * half as many again and three, and never more often than there are items.
 * @throws RangeError when there is no board or a size is no positive number.
 */
export function boardProblem(
  facts: ProblemFacts,
  kinds: readonly ProblemBoard[],
  items: readonly ProblemItem[],
): LayoutProblem {
  if (kinds.length === 0 || kinds.some((k) => !(k.width > 0 && k.height > 0)))
    throw new RangeError('boardProblem: there must be boards, each with a width and a height');
  const itemArea = areaOf(items);
  const count = items.reduce((n, i) => n + i.demand, 0);
  const unit = unitFor(Math.max(...kinds.flatMap((k) => [k.width, k.height])));
  const boards = kinds.flatMap(({ width, height, stock }, k) =>
    Array.from({ length: stock ?? ample(itemArea / (width * height), count) }, (_, n) => ({
      id: `b${k + 1}.${n + 1}`,
      outline: rectangleRing(0, 0, width * unit, height * unit),
      keepOuts: [],
    })),
  );
  return {
    kind: 'layout-problem',
    ...facts,
    notes: [...(facts.notes ?? []), ...doublesNote(items, unit)],
    instance: {
      items: copies(
        items,
        unit,
        boards.map((b) => b.id),
      ),
      boards,
      spacing: 0,
      edgeMargin: 0,
    },
    unit,
    itemArea,
  };
}
