import type { PostProcessor } from '@haunch/model';
import { assertChoices, defineDialect, type PostChoices, withChoices } from '@haunch/nc/write';

/**
 * What a shop may choose in the RS274/NGC dialect. When nothing is said: millimetres with four decimals (inches: five), no
 * line numbers, arcs of any sweep by their centre, holes as moves.
 */
export type Rs274ngcOptions = Omit<PostChoices, 'centres'>;

const KNOWN: readonly (keyof Rs274ngcOptions)[] = [
  'unit',
  'decimals',
  'lineNumbers',
  'arcs',
  'arcWords',
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
 * A post-processor for RS274/NGC: centre-form arcs with incremental I and J, full circles and helices in one block,
 * comments in round brackets. The program states plane, unit and every mode at its start, raises the cutter before it
 * moves sideways from an unknown place, and never stops the spindle on a line that cuts.
 * @throws RangeError when an option is unknown or its value is none of its.
 * @see NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000)
 */
export function rs274ngcWith(options: Rs274ngcOptions = {}): PostProcessor {
  assertChoices('rs274ngcWith', { ...options }, KNOWN);
  const { unit = 'mm' } = options;
  return defineDialect(
    withChoices(
      {
        name: 'rs274ngc',
        dialect: {
          name: 'RS274/NGC',
          extension: 'ngc',
          unit,
          decimals: unit === 'mm' ? 4 : 5,
          feedDecimals: unit === 'mm' ? 1 : 2,
          arcs: {
            form: 'centre',
            centre: 'incremental',
            greatestSweep: 2 * Math.PI,
            helix: true,
            chordTolerance: 0.01,
          },
          modal: true,
          lineNumbers: null,
          blockLength: 256,
          comments: { open: '(', close: ')' },
        },
        start: ['({title})', '(board {board})', `G17 G${unit === 'mm' ? 21 : 20} G40 G49 G80 G90 G94 G54`],
        cutter: ['T{number} M6 (cutter {id})'],
        spindle: { clockwise: 'S{rpm} M3', counterClockwise: 'S{rpm} M4', stop: 'M5' },
        dwell: 'G4 P{seconds}',
        note: '({text})',
        end: ['M2'],
      },
      options,
    ),
  );
}

/** The RS274/NGC post as most shops want it: millimetres, four decimals, no line numbers. */
export const rs274ngc: PostProcessor = rs274ngcWith();
