import { segmentOfBulge } from '@haunch/geometry';
import { parseString } from 'dxf';
import DxfParser from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import { formatDxf, readDxf, sheetOfParts } from '../src/index.js';
import { sideboardParts } from './sideboard.js';

// Two general-purpose readers of other authors (MIT) as independent witnesses of what our files say.
const sheet = sheetOfParts(sideboardParts());
type Corner = readonly [number, number, number];
const wanted = sheet.curves.map((c) => c.ring.vertices.map((v): Corner => [v.x, v.y, v.bulge]));

function expectCorners(read: readonly (readonly Corner[])[]): void {
  expect(read.length).toBe(wanted.length);
  wanted.forEach((ring, i) => {
    expect(read[i]!.length).toBe(ring.length);
    ring.forEach(([x, y, bulge], k) => {
      const [rx, ry, rb] = read[i]![k]!;
      expect([rx, ry]).toEqual([x, y]);
      expect(Math.abs(rb - bulge)).toBeLessThanOrEqual(1e-11);
    });
  });
}

describe.each(['R12', '2000'] as const)('version %s as others read it', (version) => {
  const text = formatDxf(sheet, { version });

  it('has the same corners and bulges for the first witness', () => {
    const read = new DxfParser().parseSync(text)!;
    type Poly = { vertices: { x: number; y: number; bulge?: number }[]; shape?: boolean; layer: string };
    const polys = read.entities.filter(
      (e) => e.type === 'LWPOLYLINE' || e.type === 'POLYLINE',
    ) as unknown as Poly[];
    expect(polys.every((p) => p.shape)).toBe(true);
    expect(polys.map((p) => p.layer)).toEqual(sheet.curves.map((c) => c.layer));
    expectCorners(polys.map((p) => p.vertices.map((v) => [v.x, v.y, v.bulge ?? 0])));
    const circles = read.entities.filter((e) => e.type === 'CIRCLE') as unknown as { radius: number }[];
    expect(circles.map((c) => c.radius)).toEqual(sheet.circles.map((c) => c.radius));
    if (version === '2000') expect(read.header.$INSUNITS).toBe(4);
  });

  it('has the same corners and bulges for the second witness', () => {
    const polys = parseString(text).entities.filter((e) => e.vertices !== undefined);
    expect(polys.every((p) => p.closed)).toBe(true);
    expectCorners(polys.map((p) => p.vertices!.map((v) => [v.x, v.y, v.bulge ?? 0])));
  });
});

it('gives every entity, table and object of 2000 a handle of its own, and owners that exist', () => {
  const lines = formatDxf(sheet).split('\n');
  const handles: string[] = [];
  const owners: string[] = [];
  let record = '';
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const [code, value] = [lines[i]!.trim(), lines[i + 1]!];
    if (code === '0') record = value;
    if (code === '5' && record !== 'SECTION') handles.push(value);
    if (code === '105') handles.push(value);
    if (code === '330' && value !== '0') owners.push(value);
    if (code === '350') owners.push(value);
  }
  expect(new Set(handles).size).toBe(handles.length);
  for (const o of owners) expect(handles).toContain(o);
});

// DXF reference: bulge = tan of a quarter of the included angle. Centre, radius and angle computed independently.
const ARCS = [
  { bulge: 1, centre: [5, 0], radius: 5, degrees: 180 },
  { bulge: 0.5, centre: [5, 3.75], radius: 6.25, degrees: 106.260205 },
  { bulge: -0.5, centre: [5, -3.75], radius: 6.25, degrees: -106.260205 },
  { bulge: 2, centre: [5, -3.75], radius: 6.25, degrees: 253.739795 },
  { bulge: Math.SQRT2 - 1, centre: [5, 5], radius: 7.071068, degrees: 90 },
] as const;

it.each(ARCS)('reads bulge $bulge as an arc of $degrees degrees', ({ bulge, centre, radius, degrees }) => {
  const text = `0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\n0\n90\n2\n70\n0\n10\n0\n20\n0\n42\n${bulge}\n10\n10\n20\n0\n0\nENDSEC\n0\nEOF\n`;
  const read = readDxf(text, { unit: 'mm' });
  if (!read.ok) throw new Error('not read');
  const e = read.value.entities[0]!;
  if (e.kind !== 'polyline') throw new Error(e.kind);
  const s = segmentOfBulge(e.vertices[0]!, e.vertices[1]!, e.vertices[0]!.bulge);
  if (s.kind !== 'arc') throw new Error(s.kind);
  expect(s.centre.x).toBeCloseTo(centre[0], 9);
  expect(s.centre.y).toBeCloseTo(centre[1], 9);
  expect(s.radius).toBeCloseTo(radius, 6);
  expect((s.sweep * 180) / Math.PI).toBeCloseTo(degrees, 6);
});
