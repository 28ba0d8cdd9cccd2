/** Groups of a text DXF: codes and values in turn. */
export const groups = (...g: readonly (string | number)[]): string => g.map((v) => `${v}\n`).join('');

/** A block of a text DXF with its base point at 0 or where told. */
export const block = (name: string, contents: string, base: readonly [number, number] = [0, 0]): string =>
  groups(0, 'BLOCK', 8, 0, 2, name, 70, 0, 10, base[0], 20, base[1], 30, 0) + contents + groups(0, 'ENDBLK');

/** A text DXF in mm. */
export const dxfText = (
  entities: string,
  parts: { readonly blocks?: string; readonly tables?: string; readonly header?: string } = {},
): string =>
  groups(0, 'SECTION', 2, 'HEADER') +
  (parts.header ?? groups(9, '$INSUNITS', 70, 4)) +
  groups(0, 'ENDSEC') +
  (parts.tables === undefined ? '' : groups(0, 'SECTION', 2, 'TABLES') + parts.tables + groups(0, 'ENDSEC')) +
  (parts.blocks === undefined ? '' : groups(0, 'SECTION', 2, 'BLOCKS') + parts.blocks + groups(0, 'ENDSEC')) +
  groups(0, 'SECTION', 2, 'ENTITIES') +
  entities +
  groups(0, 'ENDSEC', 0, 'EOF');

/** The first bytes of a binary file, after the reference: a word of seven letters, then these. */
const SENTINEL = `${String.fromCharCode(65, 117, 116, 111, 67, 65, 68)} Binary DXF\r\n\u001a\0`;

/**
 * The same groups in binary form, after the table of value types of the DXF reference, with group codes of one
 * byte (to R12) or two. Written apart from the reader, by ranges as the reference lists them.
 */
export function binaryDxf(text: string, codeBytes: 1 | 2): Uint8Array {
  const lines = text.split(/\r?\n/);
  const out: number[] = [...SENTINEL].map((c) => c.charCodeAt(0));
  const view = new DataView(new ArrayBuffer(8));
  const bytes = (n: number): void => {
    for (let i = 0; i < n; i++) out.push(view.getUint8(i));
  };
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number(lines[i]);
    const value = lines[i + 1]!;
    const long = codeBytes === 2 || code >= 255;
    if (codeBytes === 1 && long) out.push(255);
    out.push(code & 255);
    if (long) out.push(code >> 8);
    const real =
      (code >= 10 && code <= 59) ||
      (code >= 110 && code <= 149) ||
      (code >= 210 && code <= 239) ||
      (code >= 460 && code <= 469) ||
      (code >= 1010 && code <= 1059);
    const short =
      (code >= 60 && code <= 79) ||
      (code >= 170 && code <= 179) ||
      (code >= 270 && code <= 289) ||
      (code >= 370 && code <= 389) ||
      (code >= 400 && code <= 409) ||
      (code >= 1060 && code <= 1070);
    const integer =
      (code >= 90 && code <= 99) ||
      (code >= 420 && code <= 429) ||
      (code >= 440 && code <= 459) ||
      code === 1071;
    if (real) {
      view.setFloat64(0, Number(value), true);
      bytes(8);
    } else if (short) {
      view.setInt16(0, Number(value), true);
      bytes(2);
    } else if (integer) {
      view.setInt32(0, Number(value), true);
      bytes(4);
    } else if (code >= 290 && code <= 299) out.push(Number(value));
    else out.push(...new TextEncoder().encode(value), 0);
  }
  return Uint8Array.from(out);
}
