/** Text of an SVG file, or what kind of file it is instead. */
export type DecodedSvg =
  | { readonly kind: 'text'; readonly text: string; readonly notUtf8: boolean }
  | { readonly kind: 'compressed' };

const startsWith = (bytes: Uint8Array, ...head: number[]): boolean => head.every((b, i) => bytes[i] === b);

/**
 * Decodes an XML file: UTF-16 or UTF-8 by its byte order mark, else by the encoding of its XML declaration, else
 * UTF-8 (XML 1.0, 4.3.3 and appendix F); bytes that are no UTF-8 as windows-1252. Never throws.
 */
export function decodeSvg(source: string | Uint8Array): DecodedSvg {
  if (typeof source === 'string')
    return { kind: 'text', text: source.startsWith('\uFEFF') ? source.slice(1) : source, notUtf8: false };
  if (startsWith(source, 0x1f, 0x8b)) return { kind: 'compressed' };
  const text = (label: string): DecodedSvg => ({
    kind: 'text',
    text: new TextDecoder(label).decode(source),
    notUtf8: false,
  });
  if (startsWith(source, 0xff, 0xfe) || startsWith(source, 0x3c, 0x00)) return text('utf-16le');
  if (startsWith(source, 0xfe, 0xff) || startsWith(source, 0x00, 0x3c)) return text('utf-16be');
  const head = new TextDecoder('windows-1252').decode(source.subarray(0, 200));
  const named = /^<\?xml[^>]*\bencoding\s*=\s*["']([A-Za-z0-9._-]+)["']/.exec(head)?.[1]?.toLowerCase();
  if (named !== undefined && !/^utf-?(?:8|16)/.test(named)) {
    try {
      return text(named);
    } catch {
      // A name that the decoder does not know; the bytes decide.
    }
  }
  try {
    const utf8 = new TextDecoder('utf-8', { fatal: true }).decode(source);
    return { kind: 'text', text: utf8, notUtf8: false };
  } catch {
    return { kind: 'text', text: new TextDecoder('windows-1252').decode(source), notUtf8: true };
  }
}
