import type { DrawnAssembly } from '../../work/assembly-wire.js';

/** How far along an assembly is: the step that is under way, and the share of its move that is done. `at` counts steps from 0 to all. */
export interface Progress {
  readonly step: number;
  readonly share: number;
}

/** The step and share of a place on the slider; at a whole number that step is done, at 0 none has begun. */
export function progressAt(at: number, steps: number): Progress {
  const held = Math.min(steps, Math.max(0, at));
  const step = Math.ceil(held);
  return { step, share: step === 0 ? 0 : held - (step - 1) };
}

/** Where every plate is at a place on the slider, three figures each, in the order of the plates. */
export function offsetsAt(
  { offsets, steps }: Pick<DrawnAssembly, 'offsets' | 'steps'>,
  at: number,
): Float32Array {
  const { step, share } = progressAt(at, steps.length);
  const [a, b] = [offsets[Math.max(0, step - 1)]!, offsets[step]!];
  return a.map((v, i) => v + (b[i]! - v) * share);
}

/** The plates that are seen: all before the first step, then those that a step up to this one has touched. */
export function seenAt(
  { plates, steps }: Pick<DrawnAssembly, 'plates' | 'steps'>,
  at: number,
): ReadonlySet<string> {
  const { step } = progressAt(at, steps.length);
  if (step === 0) return new Set(plates.map((p) => p.id));
  return new Set(steps.slice(0, step).flatMap((s) => [...s.moving, ...s.standing]));
}

/** The step in which a joint goes home, from 1; 0 where none does. */
export const stepOfJoint = ({ steps }: Pick<DrawnAssembly, 'steps'>, joint: string): number =>
  steps.findIndex((s) => s.joints.includes(joint)) + 1;
