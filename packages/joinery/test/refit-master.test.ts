import { snap } from '@haunch/geometry';
import type { Master } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refitMaster } from '../src/index.js';
import { all, copy, demo, masterOf, TRUTH_TEXT } from './demo.js';

function refitted(master: Master, thicknesses: Record<string, number>): Master {
  const out = refitMaster(master, { thicknesses });
  if (!out.ok) throw new Error(JSON.stringify(out.diagnostics, null, 1));
  return out.value;
}

/** Every number of a value, by its path; strings and the like as they are. */
function leaves(value: unknown, path = ''): [string, unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([k, v]) => (k === 'on' ? [] : leaves(v, `${path}.${k}`)));
}

/** The greatest difference between two values of the same structure, mm. */
function difference(a: unknown, b: unknown): { worst: number; unlike: string[]; numbers: number } {
  const mine = leaves(a);
  const theirs = new Map(leaves(b));
  let worst = 0;
  let numbers = 0;
  const unlike: string[] = [];
  for (const [path, value] of mine) {
    const other = theirs.get(path);
    theirs.delete(path);
    if (typeof value === 'number' && typeof other === 'number') {
      numbers++;
      worst = Math.max(worst, Math.abs(value - other));
    } else if (value !== other) unlike.push(path);
  }
  return { worst, unlike: [...unlike, ...theirs.keys()], numbers };
}

describe('refit by marks', () => {
  it('makes of 18 mm the truth at 17.4 mm, in every coordinate, frame, centre and depth', () => {
    const truth = masterOf(TRUTH_TEXT.replace('"parts"', '"marks": [], "parts"'));
    const d = difference(refitted(demo, all(demo, 17.4)).parts, truth.parts);
    expect(d.unlike).toEqual([]);
    expect(d.numbers).toBeGreaterThan(900);
    expect(d.worst).toBeLessThanOrEqual(0.0001);
  });
});
void [snap, fc, copy];
