import type { Cutter, Machine } from '@haunch/model';
import { RAMP_FEED } from './practice.js';

/** The speeds at which a cutter runs on a machine: mm/min and rev/min. */
export interface Speeds {
  readonly rpm: number;
  /** Level cutting; for a drill, into the wood. */
  readonly cut: number;
  readonly ramp: number;
  /** Feed where there is only air below the height of rapids. */
  readonly air: number;
}

/** Feed F = z·f_z·n (reference value C1), with n and F held to what the machine can do; ramps at half of it. */
export function speedsOf(
  cutter: Pick<Cutter, 'rpm' | 'flutes' | 'chipLoad'>,
  machine: Pick<Machine, 'maxRpm' | 'maxFeed'>,
): Speeds {
  const rpm = Math.min(cutter.rpm, machine.maxRpm);
  const cut = Math.min(cutter.flutes * cutter.chipLoad * rpm, machine.maxFeed);
  const whole = (feed: number) => Math.max(1, Math.round(feed));
  return { rpm, cut: whole(cut), ramp: whole(cut * RAMP_FEED), air: whole(machine.maxFeed) };
}
