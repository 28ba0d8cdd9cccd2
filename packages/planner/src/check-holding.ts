import type { Diagnostic } from '@haunch/model';
import { weakHolding } from './diagnostics.js';
import { cuttingForce, SPECIFIC_ENERGY } from './forces/cutting-force.js';
import { checkHold } from './forces/hold-down.js';
import type { Operation } from './operation.js';
import type { PlanInput } from './plan-input.js';
import { speedsOf } from './speeds.js';

/** The hardest sheet that is met, N/mm²: the high end of birch plywood. */
const HARDEST = SPECIFIC_ENERGY['birch plywood'][2];

/**
 * Pieces that their tabs would not hold against the cutter, with the usual safety: the peak force of the last pass in a full kerf, in the
 * hardest sheet, against the tabs alone, as if there were no screw or vacuum.
 */
export function checkHolding(operations: readonly Operation[], input: PlanInput): Diagnostic[] {
  return operations.flatMap((o): Diagnostic[] => {
    if (o.tabs.length === 0) return [];
    const { cut, rpm } = speedsOf(o.cutter, input.machine);
    const steps = o.depths.map((d, i) => d - (o.depths[i - 1] ?? 0));
    const depth = Math.max(...steps);
    const { diameter, flutes } = o.cutter;
    const { peak } = cuttingForce({ diameter, flutes, depth, width: diameter, feed: cut, rpm }, HARDEST);
    const check = checkHold({ tabs: o.tabs, area: 0, pressure: 0 }, peak);
    if (check.holds) return [];
    return [
      weakHolding(
        { item: o.item, feature: o.feature, board: input.board.id },
        check.holding,
        peak,
        o.tabs.length,
      ),
    ];
  });
}
