import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPdf, textOfPdf } from '../../../test/paper/pdf-text.js';
import { readOutlineFont } from './outline-font.js';
import { PdfDocument } from './pdf-document.js';
import { POINT_MM } from './pen.js';

// A font with Greek and Cyrillic under the SIL Open Font Licence, which comes with the reader.
const font = readFileSync(
  new URL('standard_fonts/LiberationSans-Regular.ttf', import.meta.resolve('pdfjs-dist/package.json')),
);
const outline = readOutlineFont(font);

const oneLine = (text: string, options: { outline?: typeof outline } = {}) => {
  const doc = new PdfDocument({ title: 'a page', ...options });
  doc.addPage(210, 297).text({ x: 20, y: 30 }, text, { size: 12 });
  return doc;
};

describe('a PDF', () => {
  it('is read by another program: size of the page, text, every letter of the encoding', async () => {
    const text = 'Façade № 3 — “née” 17.4 mm ≤ £5 €5 Šž (a\\b) ½';
    const [page] = await readPdf(oneLine(text).bytes());
    expect(page!.width).toBeCloseTo(210 / POINT_MM, 1);
    expect(page!.height).toBeCloseTo(297 / POINT_MM, 1);
    expect(page!.text.trim()).toBe('Façade [U+2116] 3 — “née” 17.4 mm [U+2264] £5 €5 Šž (a\\b) ½');
  });

  it('gives back any text of western letters', async () => {
    const letter = fc.constantFrom(...'abcXYZ019 äöüÄÖÜßéèñçøÅ.,;:!?()[]{}<>%&/\\#\'"+-=€£½×');
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: letter, minLength: 1, maxLength: 30 }), async (s) => {
        const words = s.replace(/\s+/g, ' ').trim();
        expect((await textOfPdf(oneLine(s).bytes())).replace(/\s+/g, ' ').trim()).toBe(words);
      }),
      { numRuns: 25 },
    );
  });

  it('has no date and no random id: the same pages give the same bytes', async () => {
    const [a, b] = [await oneLine('once').bytes(), await oneLine('once').bytes()];
    expect(a).toEqual(b);
    const file = new TextDecoder('latin1').decode(a);
    expect(file).not.toMatch(/CreationDate|ModDate/);
    expect(file).toContain('/PrintScaling /None');
  });

  it('drops no letter without a word: what has no type stands by its number and is told', async () => {
    const doc = oneLine('Полка 棚');
    expect((await textOfPdf(doc.bytes())).trim()).toBe('[U+041F][U+043E][U+043B][U+043A][U+0430] [U+68DA]');
    expect([...doc.strange].sort()).toEqual([...'Полка棚'].sort());
  });

  it('sets other scripts in a font that is given, and embeds the glyphs that are used alone', async () => {
    const doc = oneLine('Полка Ράφι shelf', { outline });
    const bytes = await doc.bytes();
    expect((await textOfPdf(bytes)).replace(/\s+/g, ' ').trim()).toBe('Полка Ράφι shelf');
    expect(doc.strange.size).toBe(0);
    expect(bytes.length).toBeLessThan(60_000);
    expect(font.length).toBeGreaterThan(100_000);
    expect(bytes).toEqual(await oneLine('Полка Ράφι shelf', { outline }).bytes());
  });

  it('measures text by the published widths: 556 thousandths a figure, 278 a blank', () => {
    const pen = new PdfDocument({ title: '' }).addPage(100, 100);
    expect(pen.widthOf('00 ', { size: 10 })).toBeCloseTo(((2 * 556 + 278) / 1000) * 10 * POINT_MM, 9);
    expect(pen.widthOf('W', { size: 10, bold: true })).toBeCloseTo(0.944 * 10 * POINT_MM, 9);
  });
});

describe('a font', () => {
  it.each([
    ['no font', new Uint8Array([1, 2, 3])],
    ['text', new TextEncoder().encode('this is no font at all, but long enough')],
    ['a font cut short', font.subarray(0, 2000)],
  ])('is refused with a sentence: %s', (_, bytes) =>
    expect(() => readOutlineFont(bytes)).toThrow(/readOutlineFont: /),
  );
});
