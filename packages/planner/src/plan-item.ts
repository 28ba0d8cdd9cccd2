import type { Diagnostic, Outcome } from '@haunch/model';
import type { Operation } from './operation.js';
import { cutting, type PlanContext } from './plan-context.js';
import { planOutline, planThrough } from './plan-contour.js';
import { planHole } from './plan-hole.js';
import type { PlanInput } from './plan-input.js';
import { planOpenSlots } from './plan-open-slots.js';
import { planRecess } from './plan-recess.js';
import { planTicket } from './tickets/plan-ticket.js';

/** Everything that is machined on one item, and all that was noticed. */
export function planItem(
  c: PlanContext,
  { tickets = [], cutters, staysInSheet = false }: Pick<PlanInput, 'tickets' | 'cutters' | 'staysInSheet'>,
): {
  readonly operations: Operation[];
  readonly diagnostics: Diagnostic[];
} {
  const { part } = c.placed;
  const open = planOpenSlots(cutting(c, 'opening'));
  const outcomes: Outcome<Operation>[] = [
    ...part.holes.map((h) => planHole(cutting(c, 'opening'), h)),
    ...part.pockets.map((p) => planRecess(cutting(c, 'pocket'), p)),
    ...tickets.filter((t) => t.item === c.placed.item).map((t) => planTicket(c, t, cutters)),
    ...(staysInSheet
      ? []
      : [
          ...part.through.map((t) => planThrough(cutting(c, 'opening'), t, 'inside profile')),
          planOutline(cutting(c, 'outline'), open),
        ]),
  ];
  return {
    operations: [
      ...open.operations,
      ...outcomes.flatMap((o) =>
        o.ok ? [o.value, ...(o.value.freeing === undefined ? [] : [o.value.freeing])] : [],
      ),
    ],
    diagnostics: [...open.diagnostics, ...outcomes.flatMap((o) => o.diagnostics)],
  };
}
