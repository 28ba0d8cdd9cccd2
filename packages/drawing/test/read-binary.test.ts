/// <reference types="node" />
import { describe, expect, it } from 'vitest';
import { formatDxf, readDxf, sheetOfParts } from '../src/index.js';
import { binaryDxf, dxfText, groups } from './dxf-text.js';
import { FIXTURES, fixtureBytes } from './fixtures.js';
import { sideboardParts } from './sideboard.js';

const TEXTS: readonly (readonly [string, string])[] = [
  ['the sideboard of R12', formatDxf(sheetOfParts(sideboardParts()), { version: 'R12' })],
  ['the sideboard of 2000', formatDxf(sheetOfParts(sideboardParts()), { version: '2000' })],
  ...FIXTURES.filter(
    (f) =>
      !['bad-group-code', 'bad-number', 'truncated', 'not-dxf', 'code-page', 'wrong-encoding'].includes(f),
  ).map((f): [string, string] => [f, new TextDecoder('windows-1252').decode(fixtureBytes(f))]),
];

describe.each([1, 2] as const)('binary DXF with group codes of %i bytes', (codeBytes) => {
  it.each(TEXTS)('says the same as the text form: %s', (_, text) => {
    expect(readDxf(binaryDxf(text, codeBytes))).toEqual(readDxf(text));
  });

  it('is refused where it breaks off, at every byte', () => {
    const whole = binaryDxf(dxfText(groups(0, 'LINE', 8, 'A', 10, 0, 20, 0, 11, 5, 21, 5)), codeBytes);
    for (let n = 0; n < whole.length - 4; n++) {
      const cut = readDxf(whole.slice(0, n));
      // Between two sections nothing is lost but the end.
      if (cut.ok) expect(cut.diagnostics[0]!.code).toBe('read/no-end');
      else expect(cut.diagnostics[0]!.code).toMatch(/read\/(truncated|not-dxf)/);
    }
    expect(readDxf(whole).ok).toBe(true);
  });

  it('says where a group code is none', () => {
    const whole = binaryDxf(dxfText(groups(0, 'LINE', 8, 'A', 85, 0)), codeBytes);
    expect(readDxf(whole).diagnostics[0]).toMatchObject({ code: 'read/bad-group-code', locus: { line: 19 } });
  });

  it('refuses doubles that are no numbers', () => {
    const whole = binaryDxf(dxfText(groups(0, 'LINE', 8, 'A', 10, 'NaN', 20, 0, 11, 5, 21, 5)), codeBytes);
    expect(readDxf(whole).diagnostics[0]!.code).toBe('read/bad-number');
  });
});

describe('code pages', () => {
  const named = (version: string, page: string | null, layer: readonly number[]): Uint8Array => {
    const header =
      groups(9, '$ACADVER', 1, version) +
      (page === null ? '' : groups(9, '$DWGCODEPAGE', 3, page)) +
      groups(9, '$INSUNITS', 70, 4);
    const [before, after] = dxfText(groups(0, 'CIRCLE', 8, '@', 10, 0, 20, 0, 40, 50), { header }).split('@');
    const ascii = (s: string): number[] => [...s].map((c) => c.charCodeAt(0));
    return Uint8Array.from([...ascii(before!), ...layer, ...ascii(after!)]);
  };
  const layerOf = (bytes: Uint8Array): string => {
    const r = readDxf(bytes);
    if (!r.ok) throw new Error('not read');
    return r.value.entities[0]!.layer;
  };

  // Bytes by the mapping tables that the Unicode consortium publishes for these pages.
  it.each([
    ['ANSI_1250', [0xb3, 0xf3, 0x9f], 'łóź'],
    ['ANSI_1251', [0xcf, 0xee, 0xeb], 'Пол'],
    ['ANSI_1252', [0x54, 0xfc, 0x72], 'Tür'],
    ['ANSI_1253', [0xd0, 0xfc, 0xf1], 'Πόρ'],
    ['ANSI_1254', [0xfd, 0xfe, 0xf0], 'ışğ'],
    ['ANSI_932', [0x94, 0xc2], '板'],
    ['ansi_1251', [0xcf], 'П'],
  ] as const)('%s', (page, bytes, text) => {
    expect(layerOf(named('AC1015', page, bytes))).toBe(text);
    expect(readDxf(named('AC1015', page, bytes)).diagnostics).toEqual([]);
  });

  it('takes ANSI_1252 for a page that nobody knows, and says so only where letters depend on it', () => {
    const bytes = named('AC1009', 'dos437', [0x54, 0xfc]);
    expect(layerOf(bytes)).toBe('Tü');
    expect(readDxf(bytes).diagnostics.map((d) => d.code)).toEqual(['read/code-page']);
    expect(readDxf(named('AC1009', 'dos437', [0x54])).diagnostics).toEqual([]);
  });

  it('reads UTF-8 from AC1021 on whatever page is named, and UTF-16 by its mark', () => {
    expect(layerOf(named('AC1024', 'ANSI_1253', [0x54, 0xc3, 0xbc]))).toBe('Tü');
    const text = dxfText(groups(0, 'CIRCLE', 8, 'Tü', 10, 0, 20, 0, 40, 50));
    const words = Uint8Array.from([
      0xff,
      0xfe,
      ...[...text].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8]),
    ]);
    expect(layerOf(words)).toBe('Tü');
  });

  it('decodes escapes in names and lettering', () => {
    const r = readDxf(
      dxfText(groups(0, 'TEXT', 8, 'T\\U+00FCr', 10, 0, 20, 0, 40, 5, 1, '%%c8 %%p0.1 %%d \\U+2300')),
    );
    expect(r.ok && r.value.entities[0]).toMatchObject({ layer: 'Tür', text: 'Ø8 ±0.1 ° ⌀' });
  });
});
