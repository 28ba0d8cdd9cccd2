const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text for an XML element or attribute: markup escaped, characters that XML 1.0 forbids (lone surrogates too) left out. */
export const xmlText = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"']/g, (c) => ENTITIES[c]!);

/** A name as an id or class that XML and style sheets take: anything but letters, digits, `-`, `_`, `.` is `_`. */
export function xmlName(name: string): string {
  const plain = name.replace(/[^\p{L}\p{N}_.-]/gu, '_');
  return /^[\p{L}_]/u.test(plain) ? plain : `_${plain}`;
}
