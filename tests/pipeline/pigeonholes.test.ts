import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  defaultAllowances,
  dryAssemble,
  findJoints,
  formatMaster,
  readMaster,
  refitMaster,
} from '@haunch/joinery';
import { expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';

const FOLDER = join(ROOT, 'docs/examples/pigeonholes');
const text = readFileSync(join(FOLDER, 'pigeonholes.master.json'), 'utf8');
const read = readMaster(text, 'pigeonholes.master.json');
if (!read.ok) throw new Error(read.diagnostics[0]?.message);
const master = read.value;
const at = (thin: number, thick: number) =>
  Object.fromEntries(master.parts.map((p) => [p.id, p.thickness === 12 ? thin : thick]));

it('is what its generator writes', () => {
  expect(
    execFileSync(process.execPath, [join(FOLDER, 'make-master.mjs'), '--print'], {
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    }),
  ).toBe(text);
});

it('keeps the laws of refitting: the same changes nothing, there and back is the original', () => {
  const same = refitMaster(master, { thicknesses: at(12, 15) });
  if (!same.ok) throw new Error('refused');
  expect(same.value).toEqual(master);
  const there = refitMaster(master, { thicknesses: at(11.4, 15.6) });
  if (!there.ok) throw new Error('refused');
  const back = refitMaster(there.value, { thicknesses: at(12, 15) });
  if (!back.ok) throw new Error('refused');
  expect(formatMaster(back.value)).toBe(formatMaster(master));
});

it.each([
  [12, 15],
  [11.4, 15.6],
  [12.7, 14.2],
])('goes together without interference at %d and %d mm, every mate in contact', (thin, thick) => {
  const fitted = refitMaster(master, { thicknesses: at(thin, thick) });
  if (!fitted.ok) throw new Error('refused');
  const joinery = findJoints(fitted.value, defaultAllowances('snug'));
  expect(joinery.ok && joinery.value.joints.length).toBe(86);
  const dry = dryAssemble(fitted.value);
  expect(dry.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
  expect(dry.ok && dry.value.interference.total).toBe(0);
  expect(dry.ok && dry.value.plan?.steps.length).toBeGreaterThan(8);
});
