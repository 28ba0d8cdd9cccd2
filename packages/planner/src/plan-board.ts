import { type Box, pointInRing, type Ring, ringBounds } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { assemble } from './assemble.js';
import { checkFreeing, checkHolding } from './check-holding.js';
import { checkInput } from './check-input.js';
import { checkLayout, edgesOf } from './check-layout.js';
import { checkMoves } from './check-moves.js';
import { type Obstacle, obstacleOf, together } from './clear-of.js';
import { noRouter } from './diagnostics.js';
import { checkFeeds } from './feeds/check-feeds.js';
import { CUT_DIRECTIONS } from './feeds/cut-directions.js';
import { orderOperations } from './order.js';
import type { PlanContext } from './plan-context.js';
import { type CutDirection, materialOf, type PlacedPart, type Plan, type PlanInput } from './plan-input.js';
import { planItem } from './plan-item.js';
import { FINISH_STOCK } from './practice.js';

/** Parts farther apart than this do not see each other, mm. */
const NEAR = 150;

const near = (a: Box, b: Box): boolean =>
  a.minX - NEAR <= b.maxX && b.minX - NEAR <= a.maxX && a.minY - NEAR <= b.maxY && b.minY - NEAR <= a.maxY;

const hasError = (ds: readonly Diagnostic[]): boolean => ds.some((d) => d.level === 'error');

const everyWall = (d: CutDirection) => ({ outline: d, opening: d, pocket: d });

/** What is reckoned once for all items of a board. */
interface Surroundings {
  /** Each item's outline: its box. */
  readonly boxes: readonly Box[];
  /** Each item's outline and openings. */
  readonly edges: readonly Obstacle[];
  readonly keepOuts: Obstacle;
}

function contextOf(input: PlanInput, placed: PlacedPart, around: Surroundings): PlanContext {
  const {
    board,
    items,
    mating,
    cutters,
    machine,
    holding,
    direction,
    directions = CUT_DIRECTIONS,
    finishStock = FINISH_STOCK,
  } = input;
  const of = direction === undefined ? directions.of[materialOf(input)] : everyWall(direction);
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

/**
 * Plans what is machined on one board: workingsteps in order, and every move of the cutter's tip in program
 * coordinates (mm; z from the machine's zero). All drilling comes first, then pockets, inside profiles, outlines;
 * nothing is released with cuts still to come in it. Refuses, naming the part and the place, what a cutter does
 * not get round, what cannot be held, what lies in a keep-out or out of reach.
 * Guarantees: coordinates on the 0.0001 mm grid; no move of no length; rapids only at clearance height; both radii
 * of an arc equal within 0.0002 mm; never deeper than the board and the allowance in the bed sheet; the same
 * input gives the same plan.
 */
export function planBoard(input: PlanInput): Outcome<Plan> {
  const { board, items, cutters } = input;
  const notes: Diagnostic[] = checkInput(input);
  if (hasError(notes)) return fail(...notes);
  const routers = cutters.filter((c) => c.kind === 'router');
  if (items.length > 0 && routers.length === 0) return fail(...notes, noRouter(board.id));
  notes.push(...checkLayout(input, Math.min(...routers.map((r) => r.diameter))));
  if (hasError(notes)) return fail(...notes);
  const around: Surroundings = {
    boxes: items.map((p) => ringBounds(p.part.outline.bare)),
    edges: items.map((p) => obstacleOf(edgesOf(p))),
    keepOuts: obstacleOf(board.keepOuts),
  };
  const planned = items.map((p) => planItem(contextOf(input, p, around), input));
  const operations = planned.flatMap((p) => p.operations);
  notes.push(...planned.flatMap((p) => p.diagnostics));
  if (hasError(notes)) return fail(...notes);
  const ordered = orderOperations(operations, input.effort);
  notes.push(...ordered.flatMap((o) => checkMoves(o, input)));
  if (hasError(notes)) return fail(...notes);
  notes.push(...checkFeeds(ordered, input), ...checkHolding(ordered, input), ...checkFreeing(ordered, input));
  if (hasError(notes)) return fail(...notes);
  return ok({ ...assemble(ordered, input), notes }, notes);
}
