import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { assemble } from './assemble.js';
import { checkFreeing, checkHolding, checkSheet } from './check-holding.js';
import { checkInput } from './check-input.js';
import { checkLayout } from './check-layout.js';
import { checkMoves } from './check-moves.js';
import { contextsOf, directionsOf } from './contexts-of.js';
import { noRouter } from './diagnostics.js';
import { checkFeeds } from './feeds/check-feeds.js';
import type { Operation } from './operation.js';
import { orderOperations } from './order.js';
import type { Plan, PlanInput } from './plan-input.js';
import { planItem } from './plan-item.js';
import { planTrims } from './plan-trims.js';

const hasError = (ds: readonly Diagnostic[]): boolean => ds.some((d) => d.level === 'error');

/** All that is to be machined on a board, in no order yet, and what is to be said of it. */
export function operationsOf(input: PlanInput): {
  readonly operations: readonly Operation[];
  readonly diagnostics: readonly Diagnostic[];
} {
  const planned = contextsOf(input).map((c) => planItem(c, input));
  const trims = input.staysInSheet
    ? { operations: [], diagnostics: [] }
    : planTrims(input, directionsOf(input).outline);
  return {
    operations: [...planned.flatMap((p) => p.operations), ...trims.operations],
    diagnostics: [...planned.flatMap((p) => p.diagnostics), ...trims.diagnostics],
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
  const { operations, diagnostics } = operationsOf(input);
  notes.push(...diagnostics);
  if (hasError(notes)) return fail(...notes);
  const ordered = orderOperations(operations, input.effort);
  notes.push(...ordered.flatMap((o) => checkMoves(o, input)));
  if (hasError(notes)) return fail(...notes);
  notes.push(
    ...checkFeeds(ordered, input),
    ...checkHolding(ordered, input),
    ...checkFreeing(ordered, input),
    ...checkSheet(ordered, input),
  );
  if (hasError(notes)) return fail(...notes);
  return ok({ ...assemble(ordered, input), notes }, notes);
}
