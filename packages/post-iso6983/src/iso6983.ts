import type { PostProcessor } from '@haunch/model';
import { assertChoices, defineDialect, type PostChoices, withChoices } from '@haunch/nc/write';

/**
 * What a shop may choose in the plain ISO 6983-1 dialect. When nothing is said: millimetres with three decimals (inches:
 * four), line numbers by tens, half circles with incremental centres, no helices, holes as moves.
 */
export interface Iso6983Options extends PostChoices {
  /** `G70 G71` as the standard has them, or `G20 G21`. */
  readonly unitCodes?: 'G70 G71' | 'G20 G21';
  /** Dwell in seconds (P) or in milliseconds (P). */
  readonly dwell?: 'seconds' | 'milliseconds';
}

const KNOWN: readonly (keyof PostChoices)[] = [
  'unit',
  'decimals',
  'lineNumbers',
  'arcs',
  'arcWords',
  'centres',
  'helix',
  'chordTolerance',
  'repeat',
  'blockLength',
  'words',
  'drilling',
  'percent',
  'dust',
  'change',
  'end',
];

/**
 * A post-processor for plain word address by ISO 6983-1: line numbers, no comments, capital letters and digits alone,
 * centre-form arcs, no helices (they become chords), G70 or G71 for the unit, M30 at the end.
 * @throws RangeError when an option is unknown or its value is none of its.
 * @see ISO 6983-1:2009 (block, word and address; the codes' meanings from memory, as in EIA RS-274-D)
 */
export function iso6983With(options: Iso6983Options = {}): PostProcessor {
  assertChoices('iso6983With', { ...options }, KNOWN, {
    unitCodes: ['G70 G71', 'G20 G21'],
    dwell: ['seconds', 'milliseconds'],
  });
  const { unit = 'mm', centres = 'incremental', unitCodes = 'G70 G71', dwell = 'seconds' } = options;
  const unitCode = unitCodes === 'G70 G71' ? (unit === 'mm' ? 71 : 70) : unit === 'mm' ? 21 : 20;
  return defineDialect(
    withChoices(
      {
        name: 'iso6983',
        dialect: {
          name: 'ISO 6983-1',
          extension: 'nc',
          unit,
          decimals: unit === 'mm' ? 3 : 4,
          feedDecimals: unit === 'mm' ? 0 : 1,
          arcs: {
            form: 'centre',
            centre: centres,
            greatestSweep: Math.PI,
            helix: false,
            chordTolerance: 0.005,
          },
          modal: true,
          lineNumbers: { start: 10, step: 10 },
          blockLength: 80,
          comments: null,
          meaning: { units: unitCodes, centres, dwell },
        },
        start: [`G17 G${unitCode} G40 G90 G94`],
        cutter: ['T{number} M6'],
        spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
        dwell: dwell === 'seconds' ? 'G4 P{seconds}' : 'G4 P{milliseconds}',
        end: ['M30'],
      },
      options,
    ),
  );
}

/** The plain ISO 6983-1 post as most shops want it: millimetres, three decimals, half circles. */
export const iso6983: PostProcessor = iso6983With();
