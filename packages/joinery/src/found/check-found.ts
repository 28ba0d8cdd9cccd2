import type { AssemblyStep, Diagnostic, Master } from '@haunch/model';
import type { AssemblyPlan } from '../dryfit/assembly-order.js';
import { dryAssemble } from '../dryfit/dry-assemble.js';
import type { DryRun } from '../dryfit/dry-run.js';
import { refitMaster } from '../refit-master.js';
import { foundFault } from './diagnostics.js';

/** Thicker and thinner by this share is tried: what a sheet of a nominal thickness may measure. Common practice, no source. */
const TRIED = [0.04, -0.04];
/** So many faults are named in each trial. */
const MOST = 6;

const stepsOf = (plan: AssemblyPlan): AssemblyStep[] =>
  plan.steps.map((s) => ({
    step: s.step,
    fixed: [...s.fixed],
    moving: [...s.moving],
    move: /^[+-][XYZ]$/.test(s.direction)
      ? (s.direction as AssemblyStep['move'])
      : (s.direction
          .split(/[^-0-9.e]+/)
          .filter(Boolean)
          .map(Number) as [number, number, number]),
    travel: s.travel,
    text: s.text,
  }));

/** A found master with the steps in which it goes together, and the faults that a dry assembly and two refits show. */
export function checkFound(
  master: Master,
  run?: DryRun,
): { readonly master: Master; readonly said: readonly Diagnostic[] } {
  const said: Diagnostic[] = [];
  const name = (diagnostics: readonly Diagnostic[], when: string): void => {
    const faults = diagnostics.filter((d) => d.level === 'error').slice(0, MOST);
    said.push(...faults.map((d) => foundFault(d, when)));
  };
  const dry = dryAssemble(master, {}, run);
  if (!dry.ok) name(dry.diagnostics, 'put together as found');
  for (const share of TRIED) {
    const thicknesses = Object.fromEntries(
      master.parts.map((p) => [p.id, +(p.thickness * (1 + share)).toFixed(3)]),
    );
    const refitted = refitMaster(master, { thicknesses });
    if (!refitted.ok) name(refitted.diagnostics, `refitted to ${100 * (1 + share)} % of its thickness`);
  }
  const plan = dry.ok ? dry.value.plan : null;
  return { master: plan ? { ...master, assembly: stepsOf(plan) } : master, said };
}
