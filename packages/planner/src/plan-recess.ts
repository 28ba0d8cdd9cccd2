import { type Diagnostic, fail, type Outcome, type Pocket } from '@haunch/model';
import { noRouter, overrunIntoPart } from './diagnostics.js';
import { BEYOND_EDGE, openEdges } from './open-edges.js';
import type { Operation } from './operation.js';
import { type PlanContext, where } from './plan-context.js';
import { planPocket } from './plan-contour.js';

/** A recess; one that runs out over the part's edge is cut beyond it by the radius of the router that cuts it. */
export function planRecess(c: PlanContext, pocket: Pocket): Outcome<Operation> {
  if (c.routers.length === 0) return fail(noRouter(c.board.id));
  const outline = c.placed.part.outline.bare;
  const refusals: Diagnostic[] = [];
  for (const router of c.routers) {
    const by = router.diameter / 2 + BEYOND_EDGE;
    const { contour, intoPart, open } = openEdges(pocket, outline, by);
    if (open === 0) return planPocket(c, pocket, 'pocket');
    if (intoPart.length > 0) {
      refusals.push(overrunIntoPart(where(c, pocket.id), by, intoPart[0]!));
      continue;
    }
    const planned = planPocket({ ...c, routers: [router] }, contour, 'pocket');
    if (planned.ok) return planned;
    refusals.push(...planned.diagnostics.filter((d) => d.level === 'error'));
  }
  return fail(refusals[0]!);
}
