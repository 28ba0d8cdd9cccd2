import type { Cutter, DialectMeaning, Machine } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import { originsOf } from './origins.js';
import { stretchSeconds } from './run-time.js';
import { findStretches } from './sweep/find-stretches.js';
import { type Stretch, withinReason } from './sweep/stretch.js';

/** A motion of a program with the time at which it is done. Program coordinates, mm. */
export interface TimedStretch {
  readonly stretch: Stretch;
  /** Seconds from the first motion, waits left out. */
  readonly until: number;
}

/** What a timeline is made from. */
export interface TimelineInput {
  readonly text: string;
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  /** Program height of the sheet's top, mm. */
  readonly top: number;
  /** Of the sheet, mm: where the Z zero of the machine's second work offset lies; needed only where it has one. */
  readonly thickness?: number;
  readonly meaning?: DialectMeaning;
}

/**
 * The motions of a program's text in order, each with the time at which a machine of one acceleration has done it.
 * Waits and changes of the cutter take no time here. Motions far off every machine are left out.
 */
export function timeline({ text, cutters, machine, top, thickness, meaning }: TimelineInput): TimedStretch[] {
  const reading = readProgram(text, {
    ...(meaning === undefined ? {} : { meaning }),
    ...(thickness === undefined ? {} : originsOf(machine, { thickness })),
  });
  const only = cutters.length === 1 ? cutters[0]! : null;
  const stretches = findStretches(reading, {
    cutters,
    safe: top + machine.clearance,
    only,
    distortion: machine.distortion,
  }).filter(withinReason);
  let until = 0;
  return stretchSeconds(stretches, machine).map((seconds, i) => {
    until += seconds;
    return { stretch: stretches[i]!, until };
  });
}
