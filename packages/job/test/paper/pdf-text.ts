import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

const FONTS = join(fileURLToPath(import.meta.resolve('pdfjs-dist/package.json')), '../standard_fonts/');

/** Words that stand together, points: where they begin on their base line, and how wide they are. */
export interface ReadWords {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** A page of a PDF as another program reads it: its size in points and its text. */
export interface ReadPage {
  readonly width: number;
  readonly height: number;
  readonly text: string;
  readonly words: readonly ReadWords[];
}

/** Reads a PDF with a reader that shares nothing with the writer. */
export async function readPdf(bytes: Uint8Array | Promise<Uint8Array>): Promise<ReadPage[]> {
  const task = getDocument({ data: (await bytes).slice(), standardFontDataUrl: FONTS, verbosity: 0 });
  const pdf = await task.promise;
  const pages: ReadPage[] = [];
  for (let i = 1; i <= pdf.numPages; i++) {
    const page = await pdf.getPage(i);
    const [x0, y0, x1, y1] = page.view as [number, number, number, number];
    const { items } = await page.getTextContent();
    const text = items.map((t) => ('str' in t ? t.str + (t.hasEOL ? '\n' : ' ') : '')).join('');
    const words = items.flatMap((t) =>
      'str' in t ? [{ text: t.str, x: t.transform[4], y: t.transform[5], width: t.width }] : [],
    );
    pages.push({ width: x1 - x0, height: y1 - y0, text: text.replace(/\s+/g, ' '), words });
  }
  await task.destroy();
  return pages;
}

/** The text of all pages. */
export const textOfPdf = async (bytes: Uint8Array | Promise<Uint8Array>): Promise<string> =>
  (await readPdf(bytes)).map((p) => p.text).join(' ');
