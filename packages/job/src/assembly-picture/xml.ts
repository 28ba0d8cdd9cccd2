const NAMED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as XML: what the standard forbids in it (XML 1.0, production 2) is left out, what it reserves is escaped. */
export const xml = (text: string): string =>
  text
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '')
    .replace(/[&<>"']/g, (c) => NAMED[c]!);
