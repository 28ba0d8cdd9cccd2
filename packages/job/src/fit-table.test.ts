import { readFileSync } from 'node:fs';
import { readMaster } from '@haunch/joinery';
import { describe, expect, it } from 'vitest';
import { fitCell, readFitTable, SHOP_FITS, USUAL_FITS } from './fit-table.js';
import type { FitTable } from './fit-table-schema.js';
import { readJob } from './job.js';
import { allowancesOf, jointAims } from './job-allowances.js';

const SIDEBOARD = new URL('../../../docs/examples/sideboard/', import.meta.url);
const text = readFileSync(new URL('job.json', SIDEBOARD), 'utf8');
const read = readMaster(readFileSync(new URL('sideboard-18.master.json', SIDEBOARD), 'utf8'), 'm.json');
if (!read.ok) throw new Error('not read');
const master = read.value;

const table = (rows: object[], more: object = {}): FitTable => {
  const found = readFitTable(
    JSON.stringify({ format: 'haunch-fits', version: 1, rows, ...more }),
    'fits.json',
  );
  if (!found.ok) throw new Error(found.diagnostics[0]?.message);
  return found.value;
};
const snug = (wanted: number) => ({ snug: { wanted, window: [wanted - 0.05, wanted + 0.05] } });

describe('the shop’s fits', () => {
  it('say of every number where it comes from, and claim no published source for any', () => {
    const cells = USUAL_FITS.rows.flatMap((r) => [r.drive, r.snug, r.slip, r.ends, r.seat, r.swelling]);
    expect(cells).not.toContain(undefined);
    expect(new Set(cells.map((c) => c!.source))).toEqual(new Set(['common practice', 'from memory']));
    expect(fitCell(USUAL_FITS, 'snug', 'anything', 'cross-lap')).toMatchObject({
      wanted: 0.1,
      window: [0.05, 0.15],
    });
    expect(fitCell(USUAL_FITS, 'drive', null, null)).toMatchObject({ wanted: 0, window: [-0.05, 0.05] });
    expect(fitCell(USUAL_FITS, 'slip', null, null)).toMatchObject({ wanted: 0.25, window: [0.15, 0.4] });
  });

  it('are the file in docs/examples, to be copied and edited', () => {
    const file = readFileSync(
      new URL('../../../docs/examples/fits/haunch-fits.json', import.meta.url),
      'utf8',
    );
    const found = readFitTable(file, SHOP_FITS);
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    expect(found.value.rows[1]).toEqual(found.value.rows[0]);
    expect(found.value.doubts).toEqual(USUAL_FITS.doubts);
  });

  it('go from the particular to the general: material before joint, both before either, and silence falls through', () => {
    const fits = table([
      { material: 'birch', joint: 'cross-lap', ...snug(0.4) },
      { joint: 'cross-lap', ...snug(0.2) },
      { material: 'birch', ...snug(0.3) },
      { material: 'birch', joint: 'tenon' },
    ]);
    const wanted = (material: string | null, joint: string | null) =>
      fitCell(fits, 'snug', material, joint).wanted;
    expect(wanted('birch', 'cross-lap')).toBe(0.4);
    expect(wanted('oak', 'Cross-lap, stopped')).toBe(0.2);
    expect(wanted('birch', 'through mortise and tenon')).toBe(0.3);
    expect(wanted('oak', 'through mortise and tenon')).toBe(0.1);
    expect(wanted(null, null)).toBe(0.1);
  });

  it('are refused with the path and the line of what is wrong', () => {
    const bad = readFitTable(
      '{ "format": "haunch-fits", "version": 1,\n"rows": [\n{ "snug": { "wanted": 0.3, "window": [0, 0.1] } }] }',
      'fits.json',
    );
    expect(bad.diagnostics.map((d) => [d.code, d.locus.path, d.locus.line])).toEqual([
      ['job/value', 'rows[0].snug', 3],
    ]);
    expect(readFitTable('{', 'fits.json').diagnostics[0]?.code).toBe('job/malformed-json');
  });

  it('are found beside the job, or where it says; a table that it names and is not there is refused', () => {
    const fits = JSON.stringify({ format: 'haunch-fits', version: 1, rows: [snug(0.2)] });
    const job = JSON.parse(text);
    delete job.fit.clearance;
    const of = (edit: object, files: Record<string, string>) =>
      readJob(JSON.stringify({ ...job, fit: { ...job.fit, ...edit } }), 'job.json', {
        source: (n) => files[n],
      });
    const wanted = (edit: object, files: Record<string, string>) => {
      const found = of(edit, files);
      if (!found.ok) throw new Error(found.diagnostics[0]?.message);
      return allowancesOf(found.value, 'usual').thickness.wanted;
    };
    expect(wanted({}, {})).toBe(0.1);
    expect(wanted({}, { 'haunch-fits.json': fits })).toBe(0.2);
    expect(of({}, { 'haunch-fits.json': fits }).diagnostics.map((d) => d.code)).toContain('job/fits-beside');
    expect(wanted({ table: 'ours.json' }, { 'ours.json': fits })).toBe(0.2);
    expect(of({ table: 'ours.json' }, {}).diagnostics.map((d) => d.code)).toContain('job/source-missing');
  });
});

describe('how a joint’s clearance comes about', () => {
  const aims = (fit: object, basis: 'usual' | 'ladder' = 'ladder', fits?: string) => {
    const job = JSON.parse(text);
    const found = readJob(
      JSON.stringify({ ...job, fit: { family: 'snug', ...fit } }),
      'job.json',
      fits === undefined ? {} : { source: (n) => (n === 'haunch-fits.json' ? fits : undefined) },
    );
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    const all = jointAims(found.value, basis, master, () => 'birch 18');
    const allowances = allowancesOf(found.value, basis, master, () => 'birch 18');
    return { all, of: (id: string) => all.find((a) => a.joint === id)!, allowances };
  };

  it('a joint’s own wish is added to what was felt, whatever that was', () => {
    for (const wish of [0.05, -0.08]) {
      const { all, of } = aims({ perJoint: { 'M-D1-S2': wish } });
      const rest = all.filter((a) => a.joint !== 'M-D1-S2');
      expect(new Set(rest.map((a) => a.wanted)).size).toBe(1);
      expect(of('M-D1-S2').basis).toBe('ladder');
      expect(of('M-D1-S2').wanted - rest[0]!.wanted).toBeCloseTo(wish, 9);
    }
    // Felt 0.1 where 0.3 was expected: the wish is as large as ever.
    const usual = aims({ clearance: 0.3, perJoint: { 'M-D1-S2': 0.05 } }, 'usual');
    expect(usual.of('M-D1-S2').wanted).toBeCloseTo(0.35, 9);
    const felt = aims({ clearance: 0.3, perJoint: { 'M-D1-S2': 0.05 } });
    expect(felt.of('M-D1-S2').wanted - felt.of('M-EL-S1').wanted).toBeCloseTo(0.05, 9);
  });

  it('the window goes along with the wish, so that the proof asks for it', () => {
    const { allowances } = aims({ perJoint: { 'M-D1-S2': 0.2 } });
    const [wish, rest] = ['M-D1-S2', 'M-EL-S1'].map((id) => allowances.perJoint![id]!.thickness!);
    expect(wish!.window[0] - rest!.window[0]).toBeCloseTo(0.2, 9);
    expect(wish!.window[1] - rest!.window[1]).toBeCloseTo(0.2, 9);
  });

  it('what the fits give a type of joint more is added to what was felt as well', () => {
    const fits = JSON.stringify({
      format: 'haunch-fits',
      version: 1,
      rows: [
        { joint: 'cross-lap', ...snug(0.13) },
        { joint: 'tenon', ends: { wanted: 0.3, window: [0.1, 0.5] } },
      ],
    });
    const { of, allowances } = aims({}, 'ladder', fits);
    expect(of('M-D1-S2').forType).toBeCloseTo(0.03, 9);
    expect(of('M-D1-S2').wanted - of('M-EL-S1').wanted).toBeCloseTo(0.03, 9);
    expect(allowances.perJoint!['M-EL-S1']!.ends!.wanted).toBe(0.3);
    expect(allowances.perJoint!['M-D1-S2']!.ends!.wanted).toBe(0.2);
  });

  it('equal knock is counted by joint, towards slack, and never beyond the window', () => {
    const { all, allowances } = aims({ knock: 'equal' });
    const crowded = all.filter((a) => a.together > 1);
    expect(crowded.length).toBeGreaterThan(2);
    for (const a of crowded) {
      expect(a.knock).toBeGreaterThan(0);
      expect(a.wanted).toBeLessThanOrEqual(allowances.perJoint![a.joint]!.thickness!.window[1]);
      expect(a.family + a.forType + a.wish + a.extras + a.knock).toBeCloseTo(a.wanted, 9);
    }
    expect(aims({}).all.every((a) => a.knock === 0)).toBe(true);
  });
});
