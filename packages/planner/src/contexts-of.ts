import { type Box, pointInRing, type Ring, ringBounds } from '@haunch/geometry';
import { edgesOf } from './check-layout.js';
import { type Obstacle, obstacleOf, together } from './clear-of.js';
import { CUT_DIRECTIONS, type WallKind } from './feeds/cut-directions.js';
import type { PlanContext } from './plan-context.js';
import { type CutDirection, hardestOf, materialOf, type PlacedPart, type PlanInput } from './plan-input.js';
import { FINISH_STOCK } from './practice.js';

/** Parts farther apart than this do not see each other, mm. */
const NEAR = 150;

const near = (a: Box, b: Box): boolean =>
  a.minX - NEAR <= b.maxX && b.minX - NEAR <= a.maxX && a.minY - NEAR <= b.maxY && b.minY - NEAR <= a.maxY;

const everyWall = (d: CutDirection) => ({ outline: d, opening: d, pocket: d });

/** In which direction each kind of wall is cut: as the job says, or by wall and material. */
export const directionsOf = (input: PlanInput): Readonly<Record<WallKind, CutDirection>> =>
  input.direction === undefined
    ? (input.directions ?? CUT_DIRECTIONS).of[materialOf(input)]
    : everyWall(input.direction);

/** What is reckoned once for all items of a board. */
interface Surroundings {
  /** Each item's outline: its box. */
  readonly boxes: readonly Box[];
  /** Each item's outline and openings. */
  readonly edges: readonly Obstacle[];
  readonly keepOuts: Obstacle;
}

function contextOf(input: PlanInput, placed: PlacedPart, around: Surroundings): PlanContext {
  const { board, items, mating, cutters, machine, holding, finishStock = FINISH_STOCK } = input;
  const of = directionsOf(input);
  const { boxes, edges, keepOuts } = around;
  const own = boxes[items.indexOf(placed)]!;
  const beside = items.flatMap((p, i) => (p !== placed && near(own, boxes[i]!) ? [i] : []));
  const neighbours = beside.map((i) => items[i]!);
  return {
    board,
    placed,
    mating,
    machine,
    holding,
    direction: of.outline,
    directions: of,
    finishStock,
    energy: hardestOf(input),
    others: together(beside.map((i) => edges[i]!)),
    keepOuts,
    routers: cutters.filter((c) => c.kind === 'router'),
    drills: cutters.filter((c) => c.kind === 'drill'),
    enclosedBy: (opening: Ring) =>
      neighbours
        .filter((p) => pointInRing(opening, p.part.outline.bare.vertices[0]!) === 'inside')
        .map((p) => p.item),
  };
}

/** What planning each item's features needs to know, in the order of the items. */
export function contextsOf(input: PlanInput): PlanContext[] {
  const { board, items } = input;
  const around: Surroundings = {
    boxes: items.map((p) => ringBounds(p.part.outline.bare)),
    edges: items.map((p) => obstacleOf(edgesOf(p))),
    keepOuts: obstacleOf(board.keepOuts),
  };
  return items.map((p) => contextOf(input, p, around));
}
