/** Letters that do not come apart into ASCII and an accent. */
const SPELT: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  ø: 'o',
  Ø: 'O',
  œ: 'oe',
  đ: 'd',
  ł: 'l',
  Ł: 'L',
  '–': '-',
  '—': '-',
  '−': '-',
  '×': 'x',
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  '′': "'",
  '″': '"',
  '…': '...',
  '°': ' deg',
  µ: 'u',
};

/**
 * A text as a program's comment may hold it: printable ASCII, none of the characters that open or close a comment,
 * and no beginning that a control would take for a message to show (NISTIR 6556, 3.3.4).
 */
export function commentText(text: string, marks: { readonly open: string; readonly close: string }): string {
  const ascii = [...text]
    .map((c) => SPELT[c] ?? c)
    .join('')
    .normalize('NFKD')
    .replace(/\p{Mn}/gu, '')
    .replace(/\s/g, ' ')
    .replace(/[^ -~]/gu, '?');
  let out = '';
  for (const c of ascii)
    out += !marks.open.includes(c) && !marks.close.includes(c) ? c : c === '(' ? '[' : c === ')' ? ']' : ' ';
  return out
    .replace(/ +/g, ' ')
    .trim()
    .replace(/^(m ?s ?g ?),/i, '$1:');
}
