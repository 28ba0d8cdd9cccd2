import type { Fit, Joint } from '@haunch/model';
import { expect, it } from 'vitest';
import { widerThanSlots } from './wider-than-slots.js';

const fit: Fit = {
  id: 'M:A.m1:thickness',
  joint: 'M',
  kind: 'thickness',
  slotPart: 'A',
  contour: 'A.m1',
  walls: ['A.m1/e0', 'A.m1/e2'],
  enteringPart: 'B',
  enteringEdges: [],
  wanted: 0.1,
  window: [0.05, 0.15],
};
const joint = (change: Partial<Fit> = {}): Joint => ({
  id: 'M',
  type: 'through mortise and tenon',
  slotPart: 'A',
  enteringPart: 'B',
  fits: [{ ...fit, ...change }],
});
const router = (id: string, diameter: number) => ({ id, kind: 'router', diameter }) as const;
const said = (joints: readonly Joint[], ...diameters: number[]) =>
  widerThanSlots(
    joints,
    { A: 18, B: 12 },
    diameters.map((d, i) => router(`router-${i}`, d)),
  );

it('a slot that no router gets into is refused with part, slot, joint, both figures and the ways out', () => {
  const [d] = said([joint()], 16, 12.5);
  expect(d).toMatchObject({
    level: 'error',
    code: 'job/cutter-wider-than-slot',
    locus: { part: 'A', feature: 'A.m1', joint: 'M' },
  });
  expect(d!.message).toContain('12.1 mm wide');
  expect(d!.message).toContain('router-1 cuts 12.5 mm');
  expect(d!.hint).toContain('12.1 mm at the most');
});

it('one router that gets in is enough, slots are told once, and a drill, one wall or a plate that leans is not asked', () => {
  expect(said([joint()], 16, 12.1)).toEqual([]);
  expect(said([joint(), { ...joint(), id: 'N' }], 13)).toHaveLength(1);
  expect(widerThanSlots([joint()], { B: 12 }, [{ ...router('d', 20), kind: 'drill' }])).toEqual([]);
  expect(said([joint({ walls: ['A.m1/e0'] })], 20)).toEqual([]);
  expect(said([joint({ kind: 'ends' })], 20)).toEqual([]);
  // What is known of the spot that is gripped goes before the plate's own thickness.
  expect(said([joint({ local: 13 })], 13)).toEqual([]);
});
