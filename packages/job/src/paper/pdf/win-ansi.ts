/** Letters of WinAnsiEncoding, which the standard fonts have, at 128 to 159 (ISO 32000-1, annex D.2). */
const HIGH = '€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ';

/** Characters that are told from a letter of the encoding only by their looks; what is read stays the same. */
const ALIKE: Readonly<Record<string, string>> = {
  '\u2212': '\u2013',
  '\u2010': '-',
  '\u2011': '-',
  '\u02bc': '\u2019',
  '\u00a0': ' ',
  '\u2009': ' ',
  '\u202f': ' ',
  '\t': ' ',
};

/** The letter of WinAnsiEncoding that stands for a character; undefined where none does. */
export function winAnsi(character: string): string | undefined {
  const letter = ALIKE[character] ?? character;
  const code = letter.codePointAt(0)!;
  const has = (code >= 32 && code < 127) || (code >= 160 && code < 256) || HIGH.includes(letter);
  return has ? letter : undefined;
}
