import { type MachineCalibration, unmeasuredBy } from '@haunch/gauge';
import type { JobFile } from './job-schema.js';
import type { MachineEffect } from './machine-effects.js';

const mm = (n: number): string => n.toFixed(3);
/** The first eight names, and how many more there are. */
const named = (names: readonly string[]): string =>
  names.length <= 8 ? names.join(', ') : `${names.slice(0, 8).join(', ')} and ${names.length - 8} more`;
const perCent = (n: number): string => `${n > 0 ? '+' : ''}${(n * 100).toFixed(3)} %`;
/** Effects below this are not worth naming: the proof's own tolerance of lengths. mm */
const WORTH = 0.005;

/** What the machine still does to a mate that is not turned, mm. */
export const leftOver = (effects: readonly MachineEffect[]): number =>
  Math.max(0, ...effects.map((e) => Math.max(e.askew, Math.abs(e.across))));

/** What a calibration cut showed, what was done about it and what that means for mates, in sentences. */
export function machineWords(
  c: MachineCalibration | null,
  programs: NonNullable<JobFile['machine']['calibration']>['programs'] | undefined,
  effects: readonly MachineEffect[],
): string[] {
  if (!c || !programs) return ['The machine was not calibrated: it is taken to be true along both axes.'];
  const unknown = unmeasuredBy(c);
  const lost = ({ value, u }: { readonly value: number; readonly u: number }, axis: 'X' | 'Y'): string =>
    unknown.includes(`backlash${axis}`)
      ? `backlash along ${axis} was not measured, and no mate is judged for it`
      : `backlash along ${axis} is ${mm(Math.abs(value))} ± ${mm(2 * u)} mm`;
  const square = unknown.includes('shear')
    ? 'squareness was not measured'
    : `${(c.shear.value * 1000).toFixed(2)} mrad out of square`;
  const measured = `The calibration cut shows X ${perCent(c.scaleX.value)}, Y ${perCent(c.scaleY.value)}; ${square}; ${lost(c.backlashX, 'X')}; ${lost(c.backlashY, 'Y')}.`;
  const turned = effects.filter((e) => e.turned > 1e-6);
  const off = (e: MachineEffect): number => Math.max(Math.abs(e.along), Math.abs(e.across), e.askew);
  const worst = Math.max(0, ...effects.map(off));
  const names = effects.filter((e) => off(e) >= WORTH).map((e) => e.joint);
  const reach =
    names.length === 0
      ? 'No mate would be off by as much as 0.005 mm without that.'
      : `Left alone, ${names.length} of ${effects.length} mates would be off, by up to ${mm(worst)} mm: ${named(names)}.`;
  const done =
    programs === 'correct'
      ? `Programs are written through the inverse of the machine's map, so that scale and squareness spoil no mate. ${reach}`
      : programs === 'no turned mates'
        ? `Programs are left as they are and no mate is turned: what comes out too long does so in both plates. The piece comes out in the machine's own millimetres and is proved in them. What is left: up to ${mm(leftOver(effects))} mm out of square or across a slot.`
        : `Programs are left as they are; ${turned.length} of ${effects.length} mates are turned. ${names.length === 0 ? 'None is off by as much as 0.005 mm.' : `${names.length} are off, by up to ${mm(worst)} mm: ${named(names)}.`}`;
  const bound = effects.reduce((most, e) => Math.max(most, e.backlash), 0);
  const lossy = effects.filter((e) => e.backlash >= WORTH).map((e) => e.joint);
  const backlash = `Backlash is not compensated but bounded: a slot whose walls are reached from opposite sides may come out up to ${mm(bound)} mm narrower, in ${named(lossy)}; a ladder's rungs across the same axis have felt that already, and its other axis has not.`;
  return [measured, done, ...(bound >= WORTH ? [backlash] : [])];
}
