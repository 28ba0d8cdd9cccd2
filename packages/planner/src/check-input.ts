import type { Diagnostic } from '@haunch/model';
import { badValue, noOvercut, tabTooHigh, thickSpot } from './diagnostics.js';
import { throughDepth } from './plan-context.js';
import type { PlanInput } from './plan-input.js';

/** Below these a plan would have no end. mm, radians */
const LEAST_DIAMETER = 0.5;
const LEAST_DEPTH = 0.1;
const LEAST_RAMP = (0.1 * Math.PI) / 180;

const isPositive = (v: number): boolean => Number.isFinite(v) && v > 0;

/** What in the board, cutters, machine and holding cannot be planned with, and what is doubtful. */
export function checkInput({ board, cutters, machine, holding }: PlanInput): Diagnostic[] {
  const out: Diagnostic[] = [];
  const positive = (what: string, path: string, values: Readonly<Record<string, number>>) => {
    for (const [name, v] of Object.entries(values))
      if (!isPositive(v))
        out.push(badValue(what, `${path}.${name}`, `its ${name} is ${v}, not a positive number`));
  };
  positive(`Board ${board.id}`, 'board', { thickness: board.thickness });
  const { workOffset = 1, secondOffset } = machine;
  if (secondOffset !== undefined && (workOffset > 6 || secondOffset === workOffset))
    out.push(
      badValue(
        `Machine ${machine.name}`,
        'machine.secondOffset',
        `its offsets ${workOffset} and ${secondOffset} are not two of 1 to 6`,
      ),
    );
  const skin = holding.skin?.thickness;
  if (skin !== undefined && !(skin > 0 && skin < board.thickness / 2))
    out.push(
      badValue('The holding', 'holding.skin', `a skin of ${skin} mm under a sheet of ${board.thickness} mm`),
    );
  for (const c of cutters) {
    const { diameter, flutes, fluteLength, rpm, chipLoad, depthPerPass, rampAngle, number } = c;
    positive(`Cutter ${c.id}`, `cutters.${c.id}`, {
      diameter,
      flutes,
      fluteLength,
      rpm,
      chipLoad,
      depthPerPass,
    });
    if (diameter > 0 && diameter < LEAST_DIAMETER)
      out.push(
        badValue(`Cutter ${c.id}`, `cutters.${c.id}.diameter`, `a diameter of ${diameter} mm cuts no sheet`),
      );
    if (depthPerPass > 0 && depthPerPass < LEAST_DEPTH)
      out.push(
        badValue(`Cutter ${c.id}`, `cutters.${c.id}.depthPerPass`, `a pass of ${depthPerPass} mm never ends`),
      );
    if (!(rampAngle >= LEAST_RAMP && rampAngle < Math.PI / 2))
      out.push(
        badValue(`Cutter ${c.id}`, `cutters.${c.id}.rampAngle`, 'its ramp angle is not between 0.1° and 90°'),
      );
    if (!Number.isInteger(number) || number < 1)
      out.push(
        badValue(`Cutter ${c.id}`, `cutters.${c.id}.number`, `its number is ${number}, not 1 or more`),
      );
    if (c.upCutLength !== null && !(c.upCutLength >= 0))
      out.push(badValue(`Cutter ${c.id}`, `cutters.${c.id}.upCutLength`, 'its up-cut length is negative'));
  }
  const seen = new Set<string>();
  for (const c of cutters) {
    if (seen.has(c.id)) out.push(badValue(`Cutter ${c.id}`, `cutters.${c.id}`, 'two cutters have that id'));
    seen.add(c.id);
  }
  const { clearance, rapidRate, maxFeed, maxRpm, acceleration } = machine;
  positive('The machine', 'machine', { clearance, rapidRate, maxFeed, maxRpm, acceleration });
  for (const name of ['spoilboard', 'spinUp'] as const)
    if (!(machine[name] >= 0))
      out.push(badValue('The machine', `machine.${name}`, `its ${name} is negative`));
  const { tabWidth, tabHeight, tabSpacing, fewestTabs, clearSlugsBelow } = holding;
  positive('Holding', 'holding', { tabWidth, tabHeight, tabSpacing });
  if (!Number.isInteger(fewestTabs) || fewestTabs < 0)
    out.push(badValue('Holding', 'holding.fewestTabs', 'the fewest tabs are not 0 or more'));
  if (!(clearSlugsBelow >= 0))
    out.push(badValue('Holding', 'holding.clearSlugsBelow', 'that width is negative'));
  if (out.length > 0) return out;
  if (tabHeight >= board.thickness) out.push(tabTooHigh(tabHeight, board.thickness, board.id));
  if (machine.spoilboard === 0) out.push(noOvercut(board.id));
  const thickest = board.readings.reduce<(typeof board.readings)[number] | undefined>(
    (best, r) => (best !== undefined && best.thickness >= r.thickness ? best : r),
    undefined,
  );
  const depth = throughDepth(board, machine);
  // With zero on the bed the cut ends at the bed wherever the top is.
  if (machine.zZero === 'top' && thickest !== undefined && thickest.thickness > depth)
    out.push(thickSpot(board.id, thickest.thickness, depth, thickest.at));
  return out;
}
