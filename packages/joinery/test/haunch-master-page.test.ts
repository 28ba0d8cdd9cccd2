/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { defaultAllowances, findJoints, formatMaster, refitMaster } from '../src/index.js';
import { masterOf, valueIn } from './demo.js';

const page = readFileSync(new URL('../../../docs/formats/haunch-master.md', import.meta.url), 'utf8');
const example = masterOf(/```json\n([\s\S]*?)```/.exec(page)![1]!);

it('the example of the format page is a sound master, laid out as it is written', () => {
  expect(page).toContain(formatMaster(example));
  const { joints } = valueIn(findJoints(example, defaultAllowances('snug')));
  expect(joints[0]!.fits.map((f) => f.id)).toEqual(['M-U-S:U.m:thickness', 'M-U-S:U.m:ends']);
});

it('the example refits as the format page says', () => {
  const { parts } = valueIn(refitMaster(example, { thicknesses: { U: 17.3, S: 18.4 } }));
  const [u, s] = parts;
  expect(u!.through[0]!.loop.segments.map((x) => x.to)).toEqual([
    [140, 181.6],
    [140, 200],
    [60, 200],
    [60, 181.6],
  ]);
  expect(s!.frame.origin).toEqual([0, 0, 181.6]);
  expect(s!.outline.segments[3]!.to).toEqual([17.3, 140]);
  expect(s!.outline.segments[5]!.to).toEqual([0, 60]);
});
