import { inscribedWidth, pointInRing, ringArea } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { cutFromMiddle, enterCavity } from './cavity-cut.js';
import { chooseRouter } from './choose-router.js';
import { depthPasses } from './depth-passes.js';
import * as say from './diagnostics.js';
import { finishOf, withFinishing } from './finishing.js';
import { BEYOND_EDGE } from './open-edges.js';
import { findOpenSlots, type OpenSlot, type SlottedOutline } from './open-slot.js';
import type { Operation } from './operation.js';
import { type PlanContext, throughDepth, where } from './plan-context.js';

/** Slots that are open at an item's edge, cut on their own, and what is left of its outline. */
export interface OpenSlotPlan extends SlottedOutline {
  readonly operations: readonly Operation[];
  readonly diagnostics: readonly Diagnostic[];
}

/** A slot cleared from its middle, met at its mouth outside the part. */
function planOpenSlot(c: PlanContext, { contour, mouth, width }: OpenSlot): Outcome<Operation> {
  const depth = throughDepth(c.board, c.machine);
  const chosen = chooseRouter(c, contour, 'inside', depth);
  if (!chosen.ok) return chosen;
  const { r, notes: said } = withFinishing(c, contour, chosen.value, 'inside');
  const { depths } = depthPasses(depth, r.cutter);
  const walls = contour.bare.vertices.flatMap((v) => (v.tag === undefined || v.tag === mouth ? [] : [v.tag]));
  const cut = enterCavity({ ...c, mating: new Set(walls) }, contour, r);
  const w = where(c, contour.id);
  if (cut === undefined) return fail(say.noEntry(w));
  const left = Math.min(width, inscribedWidth(r.bare)) - 2 * r.cutter.diameter;
  const notes = left > 0 ? [...said, say.slugToChips(w, left, 'it would whip, held at one end')] : said;
  return ok(
    {
      kind: 'open slot',
      item: c.placed.item,
      feature: contour.id,
      cutter: r.cutter,
      area: ringArea(r.bare),
      depths,
      ...finishOf(r),
      ...cutFromMiddle(c, r, cut, depths),
      slug: left > 0 ? 'cut to chips' : 'none',
      encloses: [],
    },
    notes,
  );
}

/** Plans the slots of an item's outline that are cut on their own; those that cannot be stay with the outline. */
export function planOpenSlots(c: PlanContext): OpenSlotPlan {
  const outline = c.placed.part.outline;
  const chosen = chooseRouter(c, outline, 'outside', throughDepth(c.board, c.machine));
  if (!chosen.ok) return { slots: [], rest: outline, mouths: new Set(), operations: [], diagnostics: [] };
  const { cutter } = chosen.value;
  const operations: Operation[] = [];
  const diagnostics: Diagnostic[] = [];
  const slotted = findOpenSlots(
    outline,
    cutter.diameter,
    { tongue: c.holding.clearSlugsBelow, by: cutter.diameter / 2 + BEYOND_EDGE },
    (slot) => {
      if (c.enclosedBy(slot.contour.bare).length > 0) return false;
      // A board's own edge may be the part's: beyond it there is nothing to cut.
      const beyond = slot.contour.bare.vertices.some((v) => pointInRing(c.board.outline, v) === 'outside');
      if (beyond) return false;
      const planned = planOpenSlot({ ...c, routers: [cutter] }, slot);
      if (!planned.ok) return false;
      operations.push(planned.value);
      diagnostics.push(...planned.diagnostics);
      return true;
    },
  );
  return { ...slotted, operations, diagnostics };
}
