import type { PostProcessor } from '@haunch/model';
import { defineDialect } from '@haunch/nc/write';

/** What a shop may choose in the plain ISO 6983-1 dialect. */
export interface Iso6983Options {
  readonly unit?: 'mm' | 'inch';
  /** Decimals of coordinates: 3 for millimetres and 4 for inches when nothing is said. */
  readonly decimals?: number;
  readonly lineNumbers?: { readonly start: number; readonly step: number } | null;
  /** The greatest arc of one block: a whole turn, half circles, or quarters. */
  readonly arcs?: 'whole' | 'halves' | 'quarters';
  /** Centres from the arc's start or from the origin. */
  readonly centres?: 'incremental' | 'absolute';
  /** `G70 G71` as the standard has them, or `G20 G21`. */
  readonly unitCodes?: 'G70 G71' | 'G20 G21';
  /** Repeat every word in every block. */
  readonly repeat?: boolean;
  /** Dwell in seconds (P) or in milliseconds (P). */
  readonly dwell?: 'seconds' | 'milliseconds';
}

const SWEEPS = { whole: 2 * Math.PI, halves: Math.PI, quarters: Math.PI / 2 } as const;

/**
 * A post-processor for plain word address by ISO 6983-1: line numbers, no comments, capital letters and digits alone,
 * centre-form arcs, no helices (they become chords), G70 or G71 for the unit, M30 at the end.
 * @throws RangeError when `decimals` is not a whole number from 0 to 6.
 * @see ISO 6983-1:2009 (block, word and address; the codes' meanings from memory, as in EIA RS-274-D)
 */
export function iso6983With(options: Iso6983Options = {}): PostProcessor {
  const {
    unit = 'mm',
    arcs = 'halves',
    centres = 'incremental',
    unitCodes = 'G70 G71',
    repeat = false,
    dwell = 'seconds',
  } = options;
  const decimals = options.decimals ?? (unit === 'mm' ? 3 : 4);
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 6)
    throw new RangeError(`iso6983With: ${decimals} decimals; a whole number from 0 to 6 is wanted`);
  const unitCode = unitCodes === 'G70 G71' ? (unit === 'mm' ? 71 : 70) : unit === 'mm' ? 21 : 20;
  return defineDialect({
    name: 'iso6983',
    dialect: {
      name: 'ISO 6983-1',
      extension: 'nc',
      unit,
      decimals,
      feedDecimals: unit === 'mm' ? 0 : 1,
      arcs: {
        form: 'centre',
        centre: centres,
        greatestSweep: SWEEPS[arcs],
        helix: false,
        chordTolerance: 0.005,
      },
      modal: !repeat,
      lineNumbers: options.lineNumbers === undefined ? { start: 10, step: 10 } : options.lineNumbers,
      blockLength: 80,
      comments: null,
      meaning: { units: unitCodes, centres, dwell },
    },
    start: [`G17 G${unitCode} G40 G90 G94`],
    cutter: ['T{number} M6'],
    spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
    dwell: dwell === 'seconds' ? 'G4 P{seconds}' : 'G4 P{milliseconds}',
    end: ['M30'],
  });
}

/** The plain ISO 6983-1 post as most shops want it: millimetres, three decimals, half circles. */
export const iso6983: PostProcessor = iso6983With();
