import type { PostProcessor } from '@haunch/model';
import { assertChoices, defineDialect, type PostChoices, withChoices } from '@haunch/nc/write';

/**
 * What a shop may choose in the dialect without circular words. When nothing is said: millimetres with three decimals
 * (inches: four), no line numbers, chords within 0.002 mm (a fit lives in tenths, so a hundredth of a fit's window and less).
 */
export type LinearOptions = Omit<PostChoices, 'arcs' | 'arcWords' | 'centres' | 'helix'>;

const KNOWN: readonly (keyof LinearOptions)[] = [
  'unit',
  'decimals',
  'lineNumbers',
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
 * A post-processor for controls that know straight moves alone: every arc is written as chords within the tolerance, in
 * millimetres or inches, with the report's codes for the unit.
 * @throws RangeError when an option is unknown or its value is none of its.
 */
export function linearWith(options: LinearOptions = {}): PostProcessor {
  assertChoices('linearWith', { ...options }, KNOWN);
  const { unit = 'mm' } = options;
  return defineDialect(
    withChoices(
      {
        name: 'linear',
        dialect: {
          name: 'straight moves',
          extension: 'nc',
          unit,
          decimals: unit === 'mm' ? 3 : 4,
          feedDecimals: unit === 'mm' ? 0 : 1,
          arcs: {
            form: 'none',
            centre: 'incremental',
            greatestSweep: Math.PI,
            helix: false,
            chordTolerance: 0.002,
          },
          modal: true,
          lineNumbers: null,
          blockLength: 128,
          comments: { open: '(', close: ')' },
        },
        start: ['({title})', '(board {board})', `G${unit === 'mm' ? 21 : 20} G90 G94`],
        cutter: ['T{number} M6 (cutter {id})'],
        spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
        dwell: 'G4 P{seconds}',
        note: '({text})',
        end: ['M30'],
      },
      options,
    ),
  );
}

/** The post without circular words as most shops want it: millimetres, three decimals. */
export const linear: PostProcessor = linearWith();
