/** Text of a DXF file, and how its bytes were read. */
export interface DecodedText {
  readonly text: string;
  /** True where the file promises UTF-8 but holds other bytes, so that ANSI_1252 was taken. */
  readonly notUtf8: boolean;
}

const headerValue = (head: string, name: string): string | null =>
  new RegExp(`\\$${name}\\s*\\r?\\n\\s*\\d+\\s*\\r?\\n\\s*([^\\r\\n]*)`).exec(head)?.[1]?.trim() ?? null;

/**
 * Decodes the bytes of a text DXF: UTF-8 from AC1021 on, ANSI_1252 before it (DXF reference, $ACADVER and
 * $DWGCODEPAGE). A file that states no version is read as UTF-8 where its bytes are valid UTF-8. Never throws.
 */
export function decodeBytes(bytes: Uint8Array): DecodedText {
  const ansi = (b: Uint8Array) => new TextDecoder('windows-1252').decode(b);
  const version = headerValue(ansi(bytes.subarray(0, 65_536)), 'ACADVER');
  if (version !== null && /^AC10(0\d|1[0-8])$/.test(version)) return { text: ansi(bytes), notUtf8: false };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), notUtf8: false };
  } catch {
    return { text: ansi(bytes), notUtf8: version !== null };
  }
}

/** How the first line of a binary DXF closes. */
const BINARY = ' Binary DXF\r\n\u001a\0';

/** Whether bytes or text begin as a binary DXF does: a short line that ends in `Binary DXF`, CR LF SUB NUL. */
export function isBinaryDxf(source: string | Uint8Array): boolean {
  const head =
    typeof source === 'string' ? source.slice(0, 22) : String.fromCharCode(...source.subarray(0, 22));
  return head.includes(BINARY);
}
