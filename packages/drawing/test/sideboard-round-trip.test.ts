import type { Ring } from '@haunch/geometry';
import { type Part, partOnTable } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { type DrawnSheet, findParts, formatDxf, readDxf, sheetOfParts } from '../src/index.js';
import { sideboardParts } from './sideboard.js';

const parts = sideboardParts();

function partsOfText(text: string): { parts: readonly Part[]; codes: readonly string[] } {
  const drawing = readDxf(text, { file: 'sheet.dxf' });
  if (!drawing.ok) throw new Error(JSON.stringify(drawing.diagnostics));
  const found = findParts(drawing.value);
  if (!found.ok) throw new Error(JSON.stringify(found.diagnostics));
  return { parts: found.value, codes: [...drawing.diagnostics, ...found.diagnostics].map((d) => d.code) };
}

/** The greatest distance between the corners of two rings, and between their bulges, in the same order. */
function ringDifference(a: Ring, b: Ring): { corner: number; bulge: number } {
  expect(a.vertices.length).toBe(b.vertices.length);
  let corner = 0;
  let bulge = 0;
  a.vertices.forEach((v, i) => {
    const w = b.vertices[i]!;
    corner = Math.max(corner, Math.abs(v.x - w.x), Math.abs(v.y - w.y));
    bulge = Math.max(bulge, Math.abs(v.bulge - w.bulge));
  });
  return { corner, bulge };
}

function expectSame(read: Part, drawn: Part): void {
  expect(read.id).toBe(drawn.id);
  expect(read.name).toBe(drawn.name);
  expect(read.thickness).toBe(drawn.thickness);
  expect(read.cutFace).toBe('n+');
  const rings = (p: Part) => [p.outline, ...p.through, ...p.pockets].map((c) => c.ring);
  expect(rings(read).length).toBe(rings(drawn).length);
  rings(drawn).forEach((r, i) => {
    const d = ringDifference(r, rings(read)[i]!);
    expect(d.corner).toBeLessThanOrEqual(0.0001);
    expect(d.bulge).toBeLessThanOrEqual(1e-11);
  });
  expect(read.pockets.map((c) => [c.face, c.depth])).toEqual(
    drawn.pockets.map((c) => [c.face === drawn.cutFace ? 'n+' : 'n-', c.depth]),
  );
  const holes = (p: Part) =>
    p.holes.map((h) => `${h.centre.x} ${h.centre.y} ${h.diameter} ${h.depth}`).sort();
  expect(holes(read)).toEqual(holes(drawn));
}

describe.each(['R12', '2000'] as const)('the sideboard drawn in version %s', (version) => {
  it('comes back with all parts stacked where their own coordinates put them', () => {
    const back = partsOfText(formatDxf(sheetOfParts(parts), { version }));
    expect(back.parts.map((p) => p.id)).toEqual(parts.map((p) => p.id));
    for (const [i, p] of parts.entries()) expectSame(back.parts[i]!, partOnTable(p));
    expect(back.codes.filter((c) => c !== 'read/pocket')).toEqual([]);
  });

  it('comes back part by part, in drawings of one part', () => {
    for (const p of parts) {
      const back = partsOfText(formatDxf(sheetOfParts([p]), { version }));
      expect(back.parts.length).toBe(1);
      expectSame(back.parts[0]!, partOnTable(p));
    }
  });

  it('comes back from rows, moved and nothing else', () => {
    const back = partsOfText(formatDxf(sheetOfParts(parts, { arrange: 'rows' }), { version }));
    for (const [i, p] of parts.entries()) {
      const drawn = partOnTable(p);
      const read = back.parts[i]!;
      const [a, b] = [drawn.outline.ring.vertices[0]!, read.outline.ring.vertices[0]!];
      const shift = (r: Ring): Ring => ({
        vertices: r.vertices.map((v) => ({ ...v, x: v.x + b.x - a.x, y: v.y + b.y - a.y })),
      });
      expect(ringDifference(shift(drawn.outline.ring), read.outline.ring).corner).toBeLessThanOrEqual(0.0001);
      expect([
        read.id,
        read.name,
        read.thickness,
        read.through.length,
        read.holes.length,
        read.pockets.length,
      ]).toEqual([
        drawn.id,
        drawn.name,
        drawn.thickness,
        drawn.through.length,
        drawn.holes.length,
        drawn.pockets.length,
      ]);
    }
  });

  it('is written byte for byte the same after it was read', () => {
    const sheet: DrawnSheet = sheetOfParts(parts, { title: 'Sideboard' });
    const text = formatDxf(sheet, { version });
    const again = formatDxf(sheetOfParts(partsOfText(text).parts, { title: 'Sideboard' }), { version });
    expect(again).toBe(text);
  });
});

it('notices a part that came back changed', () => {
  const p = partOnTable(parts[0]!);
  const moved: Part = { ...p, holes: p.holes.map((h, i) => (i === 3 ? { ...h, diameter: 6 } : h)) };
  expect(() => expectSame({ ...moved, cutFace: 'n+' }, p)).toThrow();
});
