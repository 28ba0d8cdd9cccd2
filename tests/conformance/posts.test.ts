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
])('%s keeps every rule of the kit', (_, post) => {
  for (const c of postCases(post)) it(c.name, c.run);
});
