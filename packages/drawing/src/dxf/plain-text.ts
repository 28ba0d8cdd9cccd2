const CONTROL: Readonly<Record<string, string>> = { c: 'Ø', d: '°', p: '±', '%': '%', o: '', u: '', k: '' };

/** Characters written as `\U+00E4` or `\M+1xxxx` escapes, which any text in a DXF may hold. */
export const decodeEscapes = (text: string): string =>
  text.replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));

/** The plain content of a TEXT: `%%c`, `%%d`, `%%p`, `%%nnn` and escapes resolved, over- and underlining dropped. */
export const plainText = (text: string): string =>
  decodeEscapes(text).replace(/%%(\d{3}|.)/g, (all, code: string) =>
    /^\d{3}$/.test(code) ? String.fromCharCode(Number(code)) : (CONTROL[code.toLowerCase()] ?? all),
  );

/**
 * The plain content of an MTEXT: paragraph breaks become line breaks, stacked fractions become `a/b`, all other
 * formatting codes and braces are taken out.
 */
export function plainMtext(text: string): string {
  let out = '';
  const s = decodeEscapes(text);
  for (let i = 0; i < s.length; i++) {
    const c = s[i]!;
    if (c === '{' || c === '}') continue;
    if (c !== '\\') {
      out += c;
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
  return plainText(out).trim();
}
