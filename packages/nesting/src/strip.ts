import { moveRing, polygonRing, type Ring, ringArea, ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance } from '@haunch/model';

/** A kind of item of a strip problem: how many are wanted, which turns they may take, and their outline. */
export interface StripItem {
  readonly id: string;
  readonly demand: number;
  /** Degrees, counter-clockwise. */
  readonly turns: readonly number[];
  readonly polygon: readonly (readonly [number, number])[];
}

/** A strip problem as the literature has it: fixed height, least length wanted. Any unit of length. */
export interface StripProblem {
  readonly name: string;
  readonly height: number;
  readonly items: readonly StripItem[];
}

/** The board that stands for the strip. */
export const STRIP = 'strip';

/** How high a strip is laid out at the most, mm: coordinates then stay small enough to be exact. */
const HIGHEST = 1000;

/**
 * How many millimetres stand for one unit of a problem: 1, or the power of ten that brings the strip's height to at
 * most 1000 mm.
 */
export function millimetresAUnit(problem: StripProblem): number {
  let per = 1;
  while (problem.height / per > HIGHEST) per *= 10;
  return 1 / per;
}

const turnOf = (degrees: number): number => (degrees * Math.PI) / 180;

/** The area of all items, square units. */
export const stripArea = (problem: StripProblem): number =>
  problem.items.reduce(
    (sum, i) => sum + i.demand * Math.abs(ringArea(polygonRing(i.polygon.map(([x, y]) => ({ x, y }))))),
    0,
  );

/**
 * A strip problem as a layout problem with one board, long enough to lay all items in a row; no spacing, no margin.
 * Items are named `id/1`, `id/2` … The problem's unit becomes `millimetresAUnit` mm.
 * @throws RangeError when the height is not positive.
 */
export function stripInstance(problem: StripProblem): NestingInstance {
  if (!(problem.height > 0)) throw new RangeError(`stripInstance: a strip ${problem.height} high`);
  const mm = millimetresAUnit(problem);
  const outlineOf = (i: StripItem): Ring =>
    polygonRing(i.polygon.map(([x, y]) => ({ x: x * mm, y: y * mm })));
  let length = 0;
  const items = problem.items.flatMap((i) => {
    const outline = outlineOf(i);
    const turns = i.turns.map(turnOf);
    const longest = Math.max(
      ...turns.map((turn) => {
        const b = ringBounds(moveRing({ mirror: false, turn, dx: 0, dy: 0 }, outline));
        return b.maxX - b.minX;
      }),
    );
    length += i.demand * longest;
    return Array.from({ length: i.demand }, (_, k) => ({
      id: `${i.id}/${k + 1}`,
      outline,
      turns,
      boards: [STRIP],
    }));
  });
  const outline = polygonRing([
    { x: 0, y: 0 },
    { x: Math.ceil(length), y: 0 },
    { x: Math.ceil(length), y: problem.height * mm },
    { x: 0, y: problem.height * mm },
  ]);
  return { items, boards: [{ id: STRIP, outline, keepOuts: [] }], spacing: 0, edgeMargin: 0 };
}

/** How much of the strip's length a layout takes, in the problem's unit. */
export function stripLength(problem: StripProblem, instance: NestingInstance, layout: Layout): number {
  const items = new Map(instance.items.map((i) => [i.id, i]));
  let least = Infinity;
  let most = -Infinity;
  for (const p of layout.placements) {
    const b = ringBounds(moveRing(p.motion, items.get(p.item)!.outline));
    least = Math.min(least, b.minX);
    most = Math.max(most, b.maxX);
  }
  return layout.placements.length === 0 ? 0 : (most - least) / millimetresAUnit(problem);
}

/** Density by the literature's definition: area of the items over height times length, 0 … 1. */
export const stripDensity = (problem: StripProblem, length: number): number =>
  stripArea(problem) / (problem.height * length);
