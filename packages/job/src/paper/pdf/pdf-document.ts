import { zlibSync } from 'fflate';
import type { OutlineFont } from './outline-font.js';
import { Pen } from './pen.js';

/** What a document is made with. */
export interface PdfOptions {
  readonly title: string;
  /** A font for letters that the standard fonts have not; they stand as their code points in brackets without it. */
  readonly outline?: OutlineFont;
}

const POINT = 72 / 25.4;
function latin(text: string): Uint8Array {
  const out = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) out[i] = text.charCodeAt(i);
  return out;
}
const size = (v: number): string => String(Math.round(v * POINT * 100) / 100);

/** A text string of PDF that any letter can stand in: UTF-16 with its mark, in hexadecimal. */
const textString = (text: string): string =>
  `<FEFF${[...Array(text.length).keys()].map((i) => text.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0')).join('')}>`;

/**
 * A PDF document, written from its pages (ISO 32000-1, version 1.7): two standard fonts, vectors, grey tones. No date, no random id: the
 * same pages give the same bytes, in Node and in a browser.
 */
export class PdfDocument {
  readonly title: string;
  readonly outline: OutlineFont | undefined;
  /** Letters for which no font had a glyph, over all pages. */
  readonly strange = new Set<string>();
  readonly #pages: Pen[] = [];
  /** Glyphs of the embedded font that were set, and the letters that they stand for. */
  readonly #glyphs = new Map<number, string>();

  constructor({ title, outline }: PdfOptions) {
    this.title = title;
    this.outline = outline;
  }

  get pages(): readonly Pen[] {
    return this.#pages;
  }

  /** Adds a page of a size in mm and gives the pen that draws on it. */
  addPage(width: number, height: number): Pen {
    const pen = new Pen(width, height, this.outline, {
      strange: (letter) => void this.strange.add(letter),
      glyph: (glyph, letter) => void this.#glyphs.set(glyph, letter),
    });
    this.#pages.push(pen);
    return pen;
  }

  /** The file. */
  bytes(): Uint8Array {
    const objects: Uint8Array[] = [];
    const add = (body: string | Uint8Array): number =>
      objects.push(typeof body === 'string' ? latin(body) : body);
    const stream = (content: Uint8Array, more = ''): Uint8Array => {
      const packed = zlibSync(content, { level: 3 });
      const head = latin(`<</Filter/FlateDecode/Length ${packed.length}${more}>>\nstream\n`);
      const out = new Uint8Array(head.length + packed.length + 10);
      out.set(head);
      out.set(packed, head.length);
      out.set(latin('\nendstream'), head.length + packed.length);
      return out;
    };
    const standard = (name: string): string =>
      `<</Type/Font/Subtype/Type1/BaseFont/${name}/Encoding/WinAnsiEncoding>>`;
    const CATALOG = add('');
    const PAGES = add('');
    const fonts = [`/R ${add(standard('Helvetica'))} 0 R`, `/B ${add(standard('Helvetica-Bold'))} 0 R`];
    if (this.outline && this.#glyphs.size > 0) fonts.push(`/O ${this.#embed(this.outline, add, stream)} 0 R`);
    const resources = add(`<</Font<<${fonts.join('')}>>>>`);
    const kids = this.#pages.map((pen) => {
      const content = add(stream(latin(pen.content())));
      return add(
        `<</Type/Page/Parent ${PAGES} 0 R/MediaBox[0 0 ${size(pen.width)} ${size(pen.height)}]/Resources ${resources} 0 R/Contents ${content} 0 R>>`,
      );
    });
    objects[PAGES - 1] = latin(
      `<</Type/Pages/Count ${kids.length}/Kids[${kids.map((k) => `${k} 0 R`).join(' ')}]>>`,
    );
    objects[CATALOG - 1] = latin(
      `<</Type/Catalog/Pages ${PAGES} 0 R/Lang(en)/ViewerPreferences<</DisplayDocTitle true/PrintScaling/None>>>>`,
    );
    const info = add(`<</Title${textString(this.title)}/Producer(Haunch)>>`);
    return fileOf(objects, `/Root ${CATALOG} 0 R/Info ${info} 0 R`);
  }

  #embed(
    font: OutlineFont,
    add: (body: string | Uint8Array) => number,
    stream: (content: Uint8Array, more?: string) => Uint8Array,
  ): number {
    const glyphs = [...this.#glyphs].sort((a, b) => a[0] - b[0]);
    const file = font.subset(new Set(glyphs.map(([g]) => g)));
    const data = add(stream(file, `/Length1 ${file.length}`));
    const descriptor = add(
      `<</Type/FontDescriptor/FontName/HAUNCH+Outline/Flags 4/FontBBox[${font.box.join(' ')}]/ItalicAngle 0/Ascent ${font.ascent}/Descent ${font.descent}/CapHeight ${font.ascent}/StemV 80/FontFile2 ${data} 0 R>>`,
    );
    const widths = glyphs.map(([g]) => `${g}[${font.widthOf(g)}]`).join('');
    const descendant = add(
      `<</Type/Font/Subtype/CIDFontType2/BaseFont/HAUNCH+Outline/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor ${descriptor} 0 R/W[${widths}]/CIDToGIDMap/Identity>>`,
    );
    const hex = (v: number): string => v.toString(16).toUpperCase().padStart(4, '0');
    const utf16 = (s: string): string =>
      [...Array(s.length).keys()].map((i) => hex(s.charCodeAt(i))).join('');
    const lines = glyphs.map(([g, letter]) => `<${hex(g)}> <${utf16(letter)}>`);
    // A block of a map holds a hundred lines at the most.
    const blocks = Array.from({ length: Math.ceil(lines.length / 100) }, (_, i) => {
      const some = lines.slice(100 * i, 100 * i + 100);
      return `${some.length} beginbfchar\n${some.join('\n')}\nendbfchar\n`;
    });
    const unicode = add(
      stream(
        latin(
          `/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /Haunch def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n${blocks.join('')}endcmap\nend\nend`,
        ),
      ),
    );
    return add(
      `<</Type/Font/Subtype/Type0/BaseFont/HAUNCH+Outline/Encoding/Identity-H/DescendantFonts[${descendant} 0 R]/ToUnicode ${unicode} 0 R>>`,
    );
  }
}

/** Objects, numbered from 1, as a file with its table of places. */
function fileOf(objects: readonly Uint8Array[], trailer: string): Uint8Array {
  const pieces: Uint8Array[] = [];
  let at = 0;
  const put = (piece: Uint8Array): void => {
    pieces.push(piece);
    at += piece.length;
  };
  // The second line tells programs that move files that this one is no text.
  put(latin('%PDF-1.7\n%\u00e2\u00e3\u00cf\u00d3\n'));
  const places = objects.map((body, i) => {
    const place = at;
    put(latin(`${i + 1} 0 obj\n`));
    put(body);
    put(latin('\nendobj\n'));
    return place;
  });
  const table = at;
  put(
    latin(
      `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${places.map((p) => `${String(p).padStart(10, '0')} 00000 n \n`).join('')}trailer\n<</Size ${objects.length + 1}${trailer}>>\nstartxref\n${table}\n%%EOF\n`,
    ),
  );
  const out = new Uint8Array(at);
  let to = 0;
  for (const p of pieces) {
    out.set(p, to);
    to += p.length;
  }
  return out;
}
