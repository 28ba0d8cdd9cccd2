import { create } from 'fontkit';

/** A TrueType or OpenType font of which used glyphs can be embedded. */
export interface OutlineFont {
  /** Whether it has a glyph for a character. */
  has(codePoint: number): boolean;
  /** The font's file. */
  readonly bytes: Uint8Array;
}

/** Where the tables of a font file lie in it. */
interface Directory {
  readonly tables: Readonly<Record<string, { readonly offset: number; readonly length: number }>>;
}

/**
 * Reads a font's file.
 *
 * @throws RangeError where the bytes are no single font with outlines, or the file is cut short.
 */
export function readOutlineFont(bytes: Uint8Array): OutlineFont {
  const font = opened(bytes);
  if (font.type !== 'TTF')
    throw new RangeError(`readOutlineFont: this is a file of type ${font.type}; give one TrueType font`);
  const { tables } = (font as unknown as { readonly directory: Directory }).directory;
  for (const tag of ['cmap', 'head', 'hhea', 'hmtx', 'maxp'])
    if (!tables[tag]) throw new RangeError(`readOutlineFont: the font has no table '${tag}'`);
  for (const [tag, { offset, length }] of Object.entries(tables))
    if (offset + length > bytes.length)
      throw new RangeError(`readOutlineFont: the file is cut short in its table '${tag.trim()}'`);
  return { has: (codePoint) => font.hasGlyphForCodePoint(codePoint), bytes };
}

function opened(bytes: Uint8Array): ReturnType<typeof create> {
  try {
    return create(bytes as Parameters<typeof create>[0]);
  } catch {
    // The library's own words are of its insides.
    throw new RangeError('readOutlineFont: these bytes are no TrueType font');
  }
}
