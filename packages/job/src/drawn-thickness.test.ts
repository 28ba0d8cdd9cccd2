import { describe, expect, it } from 'vitest';
import { describeFile, describePartly, importFile } from './describe-file.js';

const groups = (...g: readonly (string | number)[]): string => g.map((v) => `${v}\n`).join('');
const box = (layer: string, x0: number, y0: number, x1: number, y1: number, thickness?: number): string =>
  groups(0, 'LWPOLYLINE', 8, layer, 90, 4, 70, 1, ...(thickness === undefined ? [] : [39, thickness])) +
  groups(10, x0, 20, y0, 10, x1, 20, y0, 10, x1, 20, y1, 10, x0, 20, y1);
const text = (words: string): string => groups(0, 'TEXT', 8, 'NOTES', 10, 20, 20, -30, 40, 8, 1, words);
const dxf = (...entities: readonly string[]): string =>
  groups(0, 'SECTION', 2, 'HEADER', 9, '$INSUNITS', 70, 4, 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES') +
  entities.join('') +
  groups(0, 'ENDSEC', 0, 'EOF');
/** A board with slots of these widths. */
const board = (widths: readonly number[], layer = 'BOARD', thickness?: number): string =>
  box(layer, 0, 0, 600, 200, thickness) +
  widths.map((w, k) => box(layer, 40 + k * 80, 50, 40 + k * 80 + w, 150)).join('');

const read = (content: string) => {
  const outcome = describeFile(content, 'board.dxf');
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
  return outcome.value.thickness;
};

describe('the thickness of a drawing', () => {
  it('is stated by its entities alone; lettering and layers are evidence, and quoted', () => {
    const lettered = read(dxf(board([12, 12, 12, 12]), text('Material: 12mm plywood')));
    expect(lettered.value).toBe(null);
    expect(lettered.reasons.join('; ')).toMatch(
      /^no entity states it; the text at line \d+ states 12 mm; 12 mm is the likeliest: confirm it/,
    );
    expect(lettered.candidates[0]!.reasons.join(' ')).toMatch(/4 slots are 12 mm wide.*states 12 mm/);
    expect(read(dxf(board([12, 12, 12, 12], 'PLY 12mm'))).reasons).toContain("layer 'PLY 12mm' states 12 mm");
    const both = read(dxf(board([12, 12, 12, 12], 'BOARD', 12.3), text('12 mm board')));
    expect([both.value, both.reasons.length]).toEqual([12.3, 2]);
  });

  it('is decided by lettering between two that are as likely, and left open without it', () => {
    const two = [18, 18, 18, 12, 12, 12];
    expect(read(dxf(board(two))).reasons.at(-1)).toMatch(
      /(18 mm and 12|12 mm and 18) mm are about as likely/,
    );
    expect(read(dxf(board(two), text('all sheets 18 mm'))).reasons.at(-1)).toMatch(/^18 mm is the likeliest/);
  });

  it('is none where nothing slots, whatever the lettering says', () => {
    const plain = read(dxf(board([]), text('thickness 18 mm')));
    expect([plain.value, plain.candidates]).toEqual([null, []]);
    expect(plain.reasons).toEqual([
      'no entity states it',
      expect.stringMatching(/^the text at line \d+ states 18 mm$/),
      'nothing in the drawing slots into anything',
    ]);
  });
});

describe('a drawing that is not understood as a whole', () => {
  it('is refused, and what is sound in it is described all the same', () => {
    const content = dxf(board([12, 12, 12]), box('BOARD', 0, 300, 100, 400), box('BOARD', 50, 350, 150, 450));
    expect(describeFile(content, 'b.dxf')).toMatchObject({ ok: false });
    const imported = importFile(content, 'b.dxf');
    if (!imported.ok) throw new Error('the file itself can be read');
    const partly = describePartly(imported.value, imported.diagnostics);
    expect(partly.parts.map((p) => [p.outline.width, p.outline.height, p.through.length])).toEqual([
      [600, 200, 3],
    ]);
    expect(partly.diagnostics.filter((d) => d.level === 'error').map((d) => d.code)).toEqual([
      'read/crossing-curves',
    ]);
  });
});
