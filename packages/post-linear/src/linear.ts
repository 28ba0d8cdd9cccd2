import type { PostProcessor } from '@haunch/model';
import { defineDialect } from '@haunch/nc/write';

/** What a shop may choose in the dialect without circular words. */
export interface LinearOptions {
  readonly unit?: 'mm' | 'inch';
  /** Decimals of coordinates: 3 for millimetres and 4 for inches when nothing is said. */
  readonly decimals?: number;
  /** How far a chord may be off its arc, mm: a fit lives in tenths, so a hundredth of a fit's window by default. */
  readonly chordTolerance?: number;
  readonly lineNumbers?: { readonly start: number; readonly step: number } | null;
}

/**
 * A post-processor for controls that know straight moves alone: every arc is written as chords within the tolerance, in
 * millimetres or inches, with the report's codes for the unit.
 * @throws RangeError when `decimals` is not a whole number from 0 to 6 or the tolerance is not positive.
 */
export function linearWith(options: LinearOptions = {}): PostProcessor {
  const { unit = 'mm', chordTolerance = 0.002, lineNumbers = null } = options;
  const decimals = options.decimals ?? (unit === 'mm' ? 3 : 4);
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 6)
    throw new RangeError(`linearWith: ${decimals} decimals; a whole number from 0 to 6 is wanted`);
  if (!(chordTolerance > 0)) throw new RangeError(`linearWith: a chord tolerance of ${chordTolerance} mm`);
  return defineDialect({
    name: 'linear',
    dialect: {
      name: 'straight moves',
      extension: 'nc',
      unit,
      decimals,
      feedDecimals: unit === 'mm' ? 0 : 1,
      arcs: { form: 'none', centre: 'incremental', greatestSweep: Math.PI, helix: false, chordTolerance },
      modal: true,
      lineNumbers,
      blockLength: 128,
      comments: { open: '(', close: ')' },
    },
    start: ['({title})', '(board {board})', `G${unit === 'mm' ? 21 : 20} G90 G94`],
    cutter: ['T{number} M6 (cutter {id})'],
    spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
    dwell: 'G4 P{seconds}',
    note: '({text})',
    end: ['M30'],
  });
}

/** The post without circular words as most shops want it: millimetres, three decimals. */
export const linear: PostProcessor = linearWith();
