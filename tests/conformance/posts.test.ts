import { iso6983, iso6983With } from '@haunch/post-iso6983';
import { linear, linearWith } from '@haunch/post-linear';
import { rs274ngc, rs274ngcWith } from '@haunch/post-rs274ngc';
import { postCases } from '@haunch/testkit';
import { describe, it } from 'vitest';

describe.each([
  ['rs274ngc', rs274ngc],
  ['rs274ngc in inches, numbered', rs274ngcWith({ unit: 'inch', lineNumbers: { start: 10, step: 10 } })],
  ['iso6983', iso6983],
  ['iso6983 in inches', iso6983With({ unit: 'inch' })],
  ['iso6983, quarters, absolute centres', iso6983With({ arcs: 'quarters', centres: 'absolute' })],
  ['iso6983, whole arcs, every word repeated', iso6983With({ arcs: 'whole', repeat: true })],
  ['iso6983 that waits in milliseconds', iso6983With({ dwell: 'milliseconds' })],
  ['linear', linear],
  ['linear in inches', linearWith({ unit: 'inch' })],
  ['rs274ngc, arcs by radius', rs274ngcWith({ arcWords: 'radius' })],
  [
    'rs274ngc, quadrants, percent signs, dust',
    rs274ngcWith({ arcs: 'quadrants', percent: true, dust: 'M8' }),
  ],
  ['rs274ngc, holes as cycles', rs274ngcWith({ drilling: 'cycles' })],
  ['rs274ngc, changes by hand, M30', rs274ngcWith({ change: 'T M6, M0', end: 'M30' })],
  ['iso6983, arcs by radius', iso6983With({ arcWords: 'radius' })],
  [
    'iso6983, cycles that wait in milliseconds',
    iso6983With({ drilling: 'cycles', dwell: 'milliseconds', change: 'M6 T' }),
  ],
  [
    'iso6983, leading zeros dropped',
    iso6983With({ words: { implied: { whole: 4, zeros: 'leading dropped' } } }),
  ],
  [
    'iso6983, trailing zeros dropped',
    iso6983With({ words: { implied: { whole: 4, zeros: 'trailing dropped' } } }),
  ],
  ['iso6983, all zeros', iso6983With({ words: { implied: { whole: 4, zeros: 'all' } } })],
  ['linear, tight words', linearWith({ words: { blanks: false, point: 'always', leadingZero: false } })],
  ['linear, all decimals, short blocks', linearWith({ words: { trailingZeros: true }, blockLength: 64 })],
])('%s keeps every rule of the kit', (_, post) => {
  for (const c of postCases(post)) it(c.name, c.run);
});
