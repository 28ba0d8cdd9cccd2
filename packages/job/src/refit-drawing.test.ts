import { formatDxf, sheetOfParts } from '@haunch/drawing';
import { rectangleRing } from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { refitDrawing } from './refit-drawing.js';

const contour = (id: string, x0: number, y0: number, x1: number, y1: number): Contour => {
  const ring = rectangleRing(x0, y0, x1, y1);
  return { id, ring, bare: ring, reliefs: [] };
};

/** A plate with three slots 18 wide. */
const plate = (thickness: number | null): Part => ({
  kind: 'part',
  id: 'A',
  name: 'shelf',
  thickness,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour('A', 0, 0, 400, 200),
  through: [0, 1, 2].map((k) => contour(`A.c${k}`, 60 + 100 * k, 60, 78 + 100 * k, 140)),
  pockets: [],
  holes: [],
  from: [],
});

const dxf = (thickness: number | null): string => formatDxf(sheetOfParts([plate(thickness)]));
const request = (content: string, more = {}) => ({
  content,
  file: 'shelf.dxf',
  from: [],
  to: [17.4],
  ...more,
});

describe('a drawing without marks', () => {
  it('is not resized until somebody says what it was drawn for; the candidates are named', () => {
    const asked = refitDrawing(request(dxf(null), { out: 'x.dxf' }));
    expect(asked.ok).toBe(false);
    const last = asked.diagnostics.at(-1)!;
    expect([last.code, last.locus.file]).toEqual(['features/thickness-not-confirmed', 'shelf.dxf']);
    expect(last.message).toMatch(/18 mm \(3 slots\)/);
  });

  it('is refitted by what a person says or the drawing itself states', () => {
    for (const r of [request(dxf(null), { from: [18], out: 'x.dxf' }), request(dxf(18), { out: 'x.dxf' })]) {
      const done = refitDrawing(r);
      if (!done.ok) throw new Error(done.diagnostics[0]!.message);
      expect(done.value.parts[0]!.thickness).toBe(17.4);
      expect(done.value.moved).toEqual({ A: 12 });
      // What was written reads as slots 17.4 wide about the old middles, drawn for 17.4.
      const again = refitDrawing({ content: done.value.text!, file: 'again.dxf', from: [], to: [] });
      if (!again.ok) throw new Error(again.diagnostics[0]!.message);
      expect(again.value.table.thicknesses).toEqual([17.4]);
      expect(again.value.table.features.map((f) => [f.kind, f.size, f.at.x])).toEqual([
        ['slot', 17.4, 69],
        ['slot', 17.4, 169],
        ['slot', 17.4, 269],
      ]);
    }
  });

  it('takes a table back that was corrected by hand', () => {
    const first = refitDrawing(request(dxf(18), { to: [] }));
    if (!first.ok) throw new Error(first.diagnostics[0]!.message);
    expect(first.value.text).toBeNull();
    const text = first.value.tableText.replace('"follows":true', '"follows":false');
    const done = refitDrawing(request(dxf(18), { table: { text, file: 't.json' }, out: 'x.svg' }));
    if (!done.ok) throw new Error(done.diagnostics[0]!.message);
    expect(done.value.moved).toEqual({ A: 8 });
    expect(done.value.text).toMatch(/2 × slot 18 → 17.4/);
    const bad = refitDrawing(request(dxf(18), { table: { text: '{', file: 't.json' } }));
    expect(bad.diagnostics.at(-1)).toMatchObject({ code: 'features/table', locus: { file: 't.json' } });
  });

  it('says which thickness has no new one where the drawing was made for two', () => {
    const two = { ...plate(12), id: 'B', outline: contour('B', 500, 0, 900, 200) };
    const narrow = [0, 1].map((k) => contour(`B.c${k}`, 560 + 100 * k, 60, 572 + 100 * k, 140));
    const content = formatDxf(sheetOfParts([plate(18), { ...two, through: narrow }]));
    const asked = refitDrawing(request(content, { out: 'x.dxf' }));
    expect(asked.diagnostics.filter((d) => d.level === 'error').map((d) => d.code)).toEqual([
      'features/change-missing',
      'features/change-missing',
    ]);
    const done = refitDrawing(request(content, { from: [18, 12], to: [17.4, 12.3], out: 'x.dxf' }));
    if (!done.ok) throw new Error(done.diagnostics[0]!.message);
    expect(done.value.parts.map((p) => p.thickness)).toEqual([17.4, 12.3]);
  });

  it('is refused where nothing follows the thickness, and not given back unchanged', () => {
    const none = refitDrawing(request(dxf(null), { from: [6], to: [5], out: 'x.dxf' }));
    expect(none.ok).toBe(false);
    expect(none.diagnostics.filter((d) => d.code === 'features/nothing-follows')).toMatchObject([
      { level: 'error', locus: { file: 'shelf.dxf' } },
    ]);
    // Without a new thickness the table of what was found is still given, empty, with a warning.
    const table = refitDrawing(request(dxf(null), { from: [6], to: [] }));
    expect(table.ok).toBe(true);
    expect(table.diagnostics).toMatchObject([{ level: 'warning', code: 'features/nothing-follows' }]);
    // Nor by a table in which everything was set to stay.
    const first = refitDrawing(request(dxf(18), { to: [] }));
    if (!first.ok) throw new Error(first.diagnostics[0]!.message);
    const text = first.value.tableText.replaceAll('"follows":true', '"follows":false');
    const stays = refitDrawing(request(dxf(18), { table: { text, file: 't.json' }, out: 'x.dxf' }));
    expect(stays.diagnostics).toMatchObject([{ level: 'error', code: 'features/nothing-follows' }]);
    expect(stays.diagnostics[0]!.hint).toMatch(/--export-features/);
  });

  it('says once that several parts were not checked against each other, and where to', () => {
    const b = { ...plate(18), id: 'B', outline: contour('B', 500, 0, 900, 200) };
    const through = [0, 1].map((k) => contour(`B.c${k}`, 560 + 100 * k, 60, 578 + 100 * k, 140));
    const content = formatDxf(sheetOfParts([plate(18), { ...b, through }]));
    const notes = (r: Parameters<typeof refitDrawing>[0]) =>
      refitDrawing(r).diagnostics.filter((d) => d.code === 'features/parts-not-checked');
    const [note, ...more] = notes(request(content, { out: 'x.dxf' }));
    expect(more).toEqual([]);
    expect(note).toMatchObject({ level: 'note', locus: { file: 'shelf.dxf' } });
    expect(note!.hint).toMatch(/haunch mates/);
    expect(notes(request(dxf(18), { out: 'x.dxf' }))).toEqual([]);
    expect(notes(request(content, { to: [18], out: 'x.dxf' }))).toEqual([]);
  });

  it('makes no master, and no file of an ending that says nothing', () => {
    const codes = (out: string) => refitDrawing(request(dxf(18), { out })).diagnostics.map((d) => d.code);
    expect(codes('x.json')).toEqual(['job/bare-drawing']);
    expect(codes('x.txt')).toEqual(['job/output-kind']);
  });
});
