import { decoderOf } from './text-decoding.js';

/** Longer names are cut where they are told to a person. */
const LONGEST_NAME = 80;

/** A name without control characters, short enough to stand in a sentence. */
export function plainName(name: string): string {
  const plain = name.replace(/\p{Cc}+/gu, ' ').trim();
  return plain.length <= LONGEST_NAME ? plain : `${plain.slice(0, LONGEST_NAME)}…`;
}

const CONTROL: Readonly<Record<string, string>> = { c: 'Ø', d: '°', p: '±', '%': '%', o: '', u: '', k: '' };

/** Code pages of the `\M+n` escape by n (DXF reference, "character encoding"; from memory). */
const MULTIBYTE: Readonly<Record<string, string>> = {
  1: 'shift_jis',
  2: 'big5',
  3: 'euc-kr',
  5: 'gbk',
};
const ESCAPE = /\\U\+([0-9A-Fa-f]{4})|\\M\+([1235])([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})/;
const ESCAPES = new RegExp(ESCAPE, 'g');

function escaped(all: string, unicode?: string, page?: string, high?: string, low?: string): string {
  if (unicode !== undefined) return String.fromCharCode(Number.parseInt(unicode, 16));
  const bytes = Uint8Array.of(Number.parseInt(high!, 16), Number.parseInt(low!, 16));
  return decoderOf(MULTIBYTE[page!]!)?.decode(bytes) ?? all;
}

/** Characters written as `\U+00E4` or `\M+1xxxx` escapes, which any text in a DXF may hold. */
export const decodeEscapes = (text: string): string =>
  text.includes('\\') ? text.replace(ESCAPES, escaped) : text;

/** The plain content of a TEXT: `%%c`, `%%d`, `%%p`, `%%nnn` and escapes resolved, over- and underlining dropped. */
export const plainText = (text: string): string => controlCodes(decodeEscapes(text));

const controlCodes = (text: string): string =>
  text.replace(/%%(\d{3}|.)/g, (all, code: string) =>
    /^\d{3}$/.test(code) ? String.fromCharCode(Number(code)) : (CONTROL[code.toLowerCase()] ?? all),
  );

/** Control characters as `^J` and the like, a caret itself as `^ ` (DXF reference, MTEXT). */
const CARETS: Readonly<Record<string, string>> = { I: ' ', J: '\n', M: '', ' ': '^' };

/**
 * The plain content of an MTEXT: paragraph breaks become line breaks, stacked fractions become `a/b`, all other
 * formatting codes and braces are taken out.
 */
export function plainMtext(text: string): string {
  let out = '';
  const s = text;
  for (let i = 0; i < s.length; i++) {
    const c = s[i]!;
    if (c === '{' || c === '}') continue;
    if (c === '^' && CARETS[s[i + 1] ?? ''] !== undefined) {
      out += CARETS[s[++i]!]!;
      continue;
    }
    if (c !== '\\') {
      out += c;
      continue;
    }
    // An escape may stand for any character, also for one that would begin a code.
    const special = ESCAPE.exec(s.slice(i, i + 8));
    if (special?.index === 0) {
      out += escaped(special[0], special[1], special[2], special[3], special[4]);
      i += special[0].length - 1;
      continue;
    }
    const code = s[++i] ?? '';
    if (code === 'P' || code === 'N' || code === 'X') out += '\n';
    else if (code === '~') out += ' ';
    else if (code === '\\' || code === '{' || code === '}') out += code;
    else if (code === 'S') {
      const stop = s.indexOf(';', i);
      out += s.slice(i + 1, stop < 0 ? s.length : stop).replace(/[#^]\s?/, '/');
      i = stop < 0 ? s.length : stop;
    } else if ('ACFHQTWfcpacqth'.includes(code) && code !== '') {
      const stop = s.indexOf(';', i);
      if (stop >= 0) i = stop;
    }
  }
  return controlCodes(out).trim();
}
