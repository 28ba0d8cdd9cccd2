import { Kit, type KitDocument } from './kit.js';
import type { OutlineFont } from './outline-font.js';
import { Pen, POINTS } from './pen.js';

/** What a document is made with. */
export interface PdfOptions {
  readonly title: string;
  /** A font for letters that the standard fonts have not; they stand as their code points in brackets without it. */
  readonly outline?: OutlineFont;
}

/**
 * A PDF document (of version 1.3; ISO 32000-1 describes it too): two standard fonts, vectors, grey tones. No date, no random id, and nothing packed, as packers
 * differ: the same pages give the same bytes, in Node and in a browser.
 */
export class PdfDocument {
  /** Letters for which no font had a glyph, over all pages. */
  readonly strange = new Set<string>();
  readonly #kit: KitDocument;
  readonly #outline: OutlineFont | undefined;
  readonly #pages: Pen[] = [];
  readonly #chunks: Uint8Array[] = [];
  readonly #ended: Promise<void>;

  constructor({ title, outline }: PdfOptions) {
    this.#outline = outline;
    this.#kit = new Kit({
      autoFirstPage: false,
      bufferPages: true,
      compress: false,
      // Later versions carry a second copy of the title as XML, into which the library puts it as it is.
      pdfVersion: '1.3',
      lang: 'en',
      displayTitle: true,
      // The library makes the file's id of a date, so there is one; it is not written.
      info: { Title: title, Producer: 'Haunch', Creator: 'Haunch', CreationDate: new Date(0) },
    });
    // Labels and pictures to scale want full size; the library has no option that asks for it.
    const { _root } = this.#kit as unknown as {
      readonly _root: {
        readonly data: { readonly ViewerPreferences: { readonly data: Record<string, string> } };
      };
    };
    _root.data.ViewerPreferences.data.PrintScaling = 'None';
    Object.defineProperty(this.#kit.info, 'CreationDate', { enumerable: false });
    if (outline) this.#kit.registerFont('outline', outline.bytes as never);
    this.#kit.on('data', (chunk: Uint8Array) => this.#chunks.push(chunk));
    this.#ended = new Promise((resolve, reject) => {
      this.#kit.on('end', resolve);
      this.#kit.on('error', reject);
    });
  }

  get pages(): readonly Pen[] {
    return this.#pages;
  }

  /** Adds a page of a size in mm and gives the pen that draws on it. */
  addPage(width: number, height: number): Pen {
    this.#kit.addPage({ size: [width * POINTS, height * POINTS], margin: 0 });
    const pen = new Pen(this.#kit, this.#pages.length, { width, height }, this.#outline, this.strange);
    this.#pages.push(pen);
    return pen;
  }

  /** The file. Nothing can be drawn any more. */
  async bytes(): Promise<Uint8Array> {
    this.#kit.end();
    await this.#ended;
    const out = new Uint8Array(this.#chunks.reduce((sum, c) => sum + c.length, 0));
    let at = 0;
    for (const c of this.#chunks) {
      out.set(c, at);
      at += c.length;
    }
    return out;
  }
}
