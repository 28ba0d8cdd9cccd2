/** A TrueType font whose glyphs can be embedded (ISO/IEC 14496-22: cmap 4 and 12, glyf outlines). */
export interface OutlineFont {
  /** The glyph of a character; 0 where the font has none. */
  glyphOf(codePoint: number): number;
  /** Its advance, in thousandths of the letter's size. */
  widthOf(glyph: number): number;
  /** Above and below the base line, and the box of all glyphs, in thousandths of the letter's size. */
  readonly ascent: number;
  readonly descent: number;
  readonly box: readonly [number, number, number, number];
  /** The font with the outlines of these glyphs alone, numbered as before. */
  subset(glyphs: ReadonlySet<number>): Uint8Array;
}

interface Table {
  readonly at: number;
  readonly length: number;
}

/** The tables that a reader of an embedded font needs, in the order of their tags. */
const KEPT = ['cvt ', 'fpgm', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp', 'prep'];
/** Flags of a glyph that is put together from others. */
const [WORDS, SCALE, MORE, TWO_SCALES, TWO_BY_TWO] = [0x1, 0x8, 0x20, 0x40, 0x80];

function tablesOf(view: DataView): Map<string, Table> {
  const tables = new Map<string, Table>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
    tables.set(tag, { at: view.getUint32(at + 8), length: view.getUint32(at + 12) });
  }
  return tables;
}

/** Glyphs by character, from the widest Unicode subtable that there is. */
function characters(view: DataView, { at }: Table): Map<number, number> {
  const subtables = Array.from({ length: view.getUint16(at + 2) }, (_, i) => {
    const entry = at + 4 + 8 * i;
    const where = at + view.getUint32(entry + 4);
    return { platform: view.getUint16(entry), format: view.getUint16(where), where };
  }).filter((s) => (s.platform === 0 || s.platform === 3) && (s.format === 4 || s.format === 12));
  const best = subtables.sort((a, b) => b.format - a.format || a.where - b.where)[0];
  const map = new Map<number, number>();
  if (best?.format === 12)
    for (let i = 0; i < view.getUint32(best.where + 12); i++) {
      const group = best.where + 16 + 12 * i;
      const [from, to, glyph] = [0, 4, 8].map((k) => view.getUint32(group + k)) as [number, number, number];
      for (let c = from; c <= to; c++) map.set(c, glyph + c - from);
    }
  else if (best) {
    const twice = view.getUint16(best.where + 6);
    for (let k = 0; k < twice; k += 2) {
      const end = best.where + 14 + k;
      const start = end + twice + 2;
      const delta = view.getUint16(start + twice);
      const offsetAt = start + 2 * twice;
      const offset = view.getUint16(offsetAt);
      for (let c = view.getUint16(start); c <= view.getUint16(end) && c !== 0xffff; c++) {
        const found = offset === 0 ? c : view.getUint16(offsetAt + offset + 2 * (c - view.getUint16(start)));
        if (found !== 0) map.set(c, (found + delta) & 0xffff);
      }
    }
  }
  return map;
}

/** Tables as a font file, checksums and all. */
function fontFile(tables: readonly (readonly [string, Uint8Array])[]): Uint8Array {
  const padded = (n: number): number => (n + 3) & ~3;
  const size = tables.reduce((sum, [, data]) => sum + padded(data.length), 12 + 16 * tables.length);
  const out = new Uint8Array(size);
  const view = new DataView(out.buffer);
  const power = Math.floor(Math.log2(tables.length));
  view.setUint32(0, 0x00010000);
  [tables.length, 16 << power, power, 16 * tables.length - (16 << power)].forEach((v, i) => {
    view.setUint16(4 + 2 * i, v);
  });
  const sum = (from: number, length: number): number => {
    let total = 0;
    for (let i = 0; i < padded(length); i += 4) total = (total + view.getUint32(from + i)) >>> 0;
    return total;
  };
  let at = 12 + 16 * tables.length;
  let head = 0;
  tables.forEach(([tag, data], i) => {
    const entry = 12 + 16 * i;
    for (let k = 0; k < 4; k++) view.setUint8(entry + k, tag.charCodeAt(k));
    out.set(data, at);
    if (tag === 'head') {
      head = at;
      view.setUint32(at + 8, 0);
    }
    view.setUint32(entry + 4, sum(at, data.length));
    view.setUint32(entry + 8, at);
    view.setUint32(entry + 12, data.length);
    at += padded(data.length);
  });
  if (head > 0) view.setUint32(head + 8, (0xb1b0afba - sum(0, size)) >>> 0);
  return out;
}

/**
 * Reads a TrueType font. Its bytes are the caller's to give, and their licence the caller's to know.
 * @throws RangeError when the bytes are no TrueType font with outlines of its own (`glyf`).
 */
export function readOutlineFont(bytes: Uint8Array): OutlineFont {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || (view.getUint32(0) !== 0x00010000 && view.getUint32(0) !== 0x74727565))
    throw new RangeError('readOutlineFont: these bytes are no TrueType font');
  const tables = tablesOf(view);
  const table = (tag: string): Table => {
    const found = tables.get(tag);
    if (!found || found.at + found.length > bytes.length)
      throw new RangeError(`readOutlineFont: the font has no table '${tag}', or it is cut short`);
    return found;
  };
  const [head, hhea, hmtx, loca, glyf, maxp] = ['head', 'hhea', 'hmtx', 'loca', 'glyf', 'maxp'].map(
    table,
  ) as [Table, Table, Table, Table, Table, Table];
  const thousandths = (v: number): number => Math.round((v * 1000) / view.getUint16(head.at + 18));
  const count = view.getUint16(maxp.at + 4);
  const long = view.getUint16(head.at + 50) === 1;
  const metrics = view.getUint16(hhea.at + 34);
  const map = characters(view, table('cmap'));
  const place = (i: number): number =>
    long ? view.getUint32(loca.at + 4 * i) : 2 * view.getUint16(loca.at + 2 * i);

  /** The glyphs of which a glyph is put together. */
  const components = (glyph: number): number[] => {
    const start = place(glyph);
    if (place(glyph + 1) <= start || view.getInt16(glyf.at + start) >= 0) return [];
    const found: number[] = [];
    for (let at = glyf.at + start + 10, flags = MORE; flags & MORE; ) {
      flags = view.getUint16(at);
      found.push(view.getUint16(at + 2));
      at +=
        4 +
        (flags & WORDS ? 4 : 2) +
        (flags & SCALE ? 2 : flags & TWO_SCALES ? 4 : flags & TWO_BY_TWO ? 8 : 0);
    }
    return found;
  };

  const subset = (glyphs: ReadonlySet<number>): Uint8Array => {
    const wanted = new Set([0, ...glyphs]);
    for (const g of wanted) for (const c of components(g)) wanted.add(c);
    const places = new Uint8Array(4 * (count + 1));
    const placeView = new DataView(places.buffer);
    const outlines: Uint8Array[] = [];
    let at = 0;
    for (let g = 0; g < count; g++) {
      placeView.setUint32(4 * g, at);
      if (!wanted.has(g)) continue;
      const data = bytes.subarray(glyf.at + place(g), glyf.at + place(g + 1));
      outlines.push(data);
      at += (data.length + 3) & ~3;
    }
    placeView.setUint32(4 * count, at);
    const shapes = new Uint8Array(at);
    let to = 0;
    for (const o of outlines) {
      shapes.set(o, to);
      to += (o.length + 3) & ~3;
    }
    const own = (tag: string): Uint8Array => {
      const t = table(tag);
      // A copy, whatever kind of array the bytes came in.
      return Uint8Array.from(bytes.subarray(t.at, t.at + t.length));
    };
    return fontFile(
      KEPT.flatMap((tag): (readonly [string, Uint8Array])[] => {
        if (tag === 'glyf') return [[tag, shapes]];
        if (tag === 'loca') return [[tag, places]];
        if (!tables.has(tag)) return [];
        const data = own(tag);
        // Places are written as 32-bit numbers, whatever they were.
        if (tag === 'head') new DataView(data.buffer).setUint16(50, 1);
        return [[tag, data]];
      }),
    );
  };

  return {
    glyphOf: (codePoint) => map.get(codePoint) ?? 0,
    widthOf: (glyph) => thousandths(view.getUint16(hmtx.at + 4 * Math.min(glyph, metrics - 1))),
    ascent: thousandths(view.getInt16(hhea.at + 4)),
    descent: thousandths(view.getInt16(hhea.at + 6)),
    box: [36, 38, 40, 42].map((k) => thousandths(view.getInt16(head.at + k))) as unknown as readonly [
      number,
      number,
      number,
      number,
    ],
    subset,
  };
}
