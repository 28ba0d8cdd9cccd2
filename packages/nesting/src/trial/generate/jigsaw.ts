import { clockwise, offsetRing, polygonRing, type Ring, ringBounds } from '@haunch/geometry';
import type { Layout, Placement } from '@haunch/model';
import { boardProblem, type LayoutProblem, type ProblemItem, stripProblem } from '../problem.js';
import { dissect } from './dissect.js';
import {
  doubleArea,
  isInside,
  lowest,
  quarterTurned,
  segmentsMeet,
  type Whole,
  type WholePolygon,
} from './whole-polygon.js';

/** A problem together with the layout it was made from. */
export interface GeneratedProblem {
  readonly problem: LayoutProblem;
  readonly layout: Layout;
}

/** A puzzle to be made. Sizes are whole numbers of the problem's unit. */
export interface JigsawOptions {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly pieces: number;
  /** Turns each piece may take; the pieces are turned by one of them. 'grain' allows half turns, 'quarters' all four. */
  readonly turns: 'none' | 'grain' | 'quarters';
  readonly bends?: number;
  readonly least?: number;
}

const TURNS = { none: [0], grain: [0, 2], quarters: [0, 1, 2, 3] } as const;

interface Piece {
  readonly item: ProblemItem;
  readonly motion: Placement['motion'];
}

const ringOf = (p: WholePolygon): Ring => polygonRing(p.map(([x, y]) => ({ x, y })));

/** A piece as an item, turned and brought to the origin, with the motion that takes it back. */
function scattered(
  p: WholePolygon,
  id: string,
  turns: JigsawOptions['turns'],
  random: () => number,
  holes: readonly WholePolygon[] = [],
): Piece {
  const quarters = TURNS[turns];
  const by = quarters[Math.floor(random() * quarters.length)]!;
  const turned = quarterTurned(p, by);
  const [x, y] = lowest(turned);
  const local = turned.map(([u, v]): Whole => [u - x, v - y]);
  const [hx, hy] = lowest(p);
  const [bx, by2] = lowest(quarterTurned(local, -by));
  return {
    item: {
      id,
      demand: 1,
      outline: ringOf(local),
      ...(holes.length === 0
        ? {}
        : {
            holes: holes.map((h) =>
              clockwise(ringOf(quarterTurned(h, by).map(([u, v]): Whole => [u - x, v - y]))),
            ),
          }),
      turns: quarters.map((q) => (q * Math.PI) / 2),
    },
    motion: { mirror: false, turn: (((4 - by) % 4) * Math.PI) / 2, dx: hx - bx, dy: hy - by2 },
  };
}

const layoutOf = (pieces: readonly Piece[], board: (k: number) => string, unit: number): Layout => ({
  kind: 'layout',
  placements: pieces.map(({ item, motion }, k) => ({
    item: item.id,
    board: board(k),
    motion: { ...motion, dx: motion.dx * unit, dy: motion.dy * unit },
  })),
  unplaced: [],
});

const cutUp = (o: JigsawOptions, random: () => number, width = o.width, height = o.height): WholePolygon[] =>
  dissect({ width, height, pieces: o.pieces, bends: o.bends ?? 2, least: o.least ?? 0.22 }, random);

const SOURCE = 'generated: an exact dissection';

/**
 * A puzzle on a strip as wide as the rectangle is high: its best density is 100 %, by construction. Deterministic for
 * the same options and `random`.
 * @throws RangeError as `dissect`.
 */
export function jigsaw(o: JigsawOptions, random: () => number): GeneratedProblem {
  const pieces = cutUp(o, random).map((p, k) => scattered(p, `piece${k + 1}`, o.turns, random));
  const problem = stripProblem(
    { name: o.name, source: SOURCE, known: { density: 1, proved: true, source: 'by construction' } },
    o.height,
    pieces.map((p) => p.item),
  );
  return { problem, layout: layoutOf(pieces, () => 'strip', problem.unit) };
}

/** A rectangle of whole coordinates strictly inside a piece, or undefined where chance finds none that is worth having. */
function opening(p: WholePolygon, random: () => number): WholePolygon | undefined {
  const [xs, ys] = [p.map((c) => c[0]), p.map((c) => c[1])];
  const between = (lo: number, hi: number): number => lo + Math.floor(random() * (hi - lo));
  for (let attempt = 0; attempt < 200; attempt++) {
    const [x0, y0] = [between(Math.min(...xs), Math.max(...xs)), between(Math.min(...ys), Math.max(...ys))];
    const [x1, y1] = [between(x0 + 1, Math.max(...xs)), between(y0 + 1, Math.max(...ys))];
    const r: WholePolygon = [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ];
    const area = doubleArea(r);
    if (area < 0.1 * doubleArea(p) || area > 0.6 * doubleArea(p)) continue;
    if (!r.every((c) => isInside(p, c))) continue;
    const crossed = p.some((a, i) =>
      r.some((c, k) => segmentsMeet(a, p[(i + 1) % p.length]!, c, r[(k + 1) % 4]!)),
    );
    if (!crossed) return r;
  }
  return undefined;
}

/**
 * A puzzle whose pieces have holes that other pieces fill: each piece of a `jigsaw` gets a hole, what is cut from it is a
 * piece with a hole of its own, and so on, `depth` times. Only a layout that uses the holes reaches 100 %, and the one
 * it was made from does. Deterministic for the same options and `random`.
 * @throws RangeError as `dissect`, or for a depth that is no whole number from 1.
 */
export function nestedJigsaw(o: JigsawOptions, depth: number, random: () => number): GeneratedProblem {
  if (!(Number.isInteger(depth) && depth >= 1)) throw new RangeError(`nestedJigsaw: a depth of ${depth}`);
  const pieces: Piece[] = [];
  const put = (p: WholePolygon, left: number): void => {
    const hole = left > 0 ? opening(p, random) : undefined;
    const id = `piece${pieces.length + 1}`;
    pieces.push(scattered(p, id, o.turns, random, hole ? [hole] : []));
    if (hole) put(hole, left - 1);
  };
  for (const p of cutUp(o, random)) put(p, depth);
  const problem = stripProblem(
    { name: o.name, source: SOURCE, known: { density: 1, proved: true, source: 'by construction' } },
    o.height,
    pieces.map((p) => p.item),
  );
  return { problem, layout: layoutOf(pieces, () => 'strip', problem.unit) };
}

/**
 * A puzzle of several rectangles, each as large as a board: as few boards as there were rectangles are enough, and by
 * area no fewer. Deterministic for the same options and `random`.
 * @throws RangeError as `dissect`, or for a number of boards that is no whole number from 1.
 */
export function boardJigsaw(o: JigsawOptions, boards: number, random: () => number): GeneratedProblem {
  if (!(Number.isInteger(boards) && boards >= 1)) throw new RangeError(`boardJigsaw: ${boards} boards`);
  const pieces: Piece[] = [];
  const of: number[] = [];
  for (let b = 0; b < boards; b++)
    for (const p of cutUp(o, random)) {
      pieces.push(scattered(p, `piece${pieces.length + 1}`, o.turns, random));
      of.push(b);
    }
  const problem = boardProblem(
    { name: o.name, source: SOURCE, known: { boards, proved: true, source: 'by construction' } },
    [{ width: o.width, height: o.height }],
    pieces.map((p) => p.item),
  );
  return { problem, layout: layoutOf(pieces, (k) => `b1.${of[k]! + 1}`, problem.unit) };
}

/**
 * A puzzle with room for a cutter: the rectangle is cut up with `spacing` more on its width and height, and every piece
 * shrunk by half of it, so that all of them lie `spacing` apart on a strip `height` wide and `width` long. That length
 * is known to be possible, not to be the least. A piece that
 * shrinking would part or use up is dropped; the stated density is of those that remain. Deterministic for the same options and `random`.
 * @throws RangeError as `dissect`, or for a spacing that is no even whole number from 2.
 */
export function spacedJigsaw(o: JigsawOptions, spacing: number, random: () => number): GeneratedProblem {
  if (!(Number.isInteger(spacing) && spacing >= 2 && spacing % 2 === 0))
    throw new RangeError(`spacedJigsaw: a spacing of ${spacing}`);
  const half = spacing / 2;
  const pieces = cutUp(o, random, o.width + spacing, o.height + spacing).flatMap((p, k) => {
    const { item, motion } = scattered(p, `piece${k + 1}`, o.turns, random);
    const shrunk = offsetRing(item.outline, { by: -half });
    if (shrunk.length !== 1) return [];
    return [
      {
        item: { ...item, outline: shrunk[0]! },
        motion: { ...motion, dx: motion.dx - half, dy: motion.dy - half },
      },
    ];
  });
  const bare = stripProblem(
    { name: o.name, source: 'generated: a dissection, each piece shrunk by half the spacing' },
    o.height,
    pieces.map((p) => p.item),
  );
  const layout = layoutOf(pieces, () => 'strip', bare.unit);
  const boxes = pieces.map((p) => ringBounds(p.item.outline));
  if (boxes.length === 0) throw new RangeError('spacedJigsaw: shrinking uses up every piece');
  const known = {
    density: bare.itemArea / (o.height * o.width),
    proved: false,
    source: 'the layout that the problem was made from',
  };
  return {
    problem: { ...bare, known, instance: { ...bare.instance, spacing: spacing * bare.unit } },
    layout,
  };
}
