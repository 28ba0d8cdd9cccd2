/** Characters of WinAnsiEncoding at 128 to 159, in order; a blank where a code has none (ISO 32000-1, annex D.2). */
const HIGH = '€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ';

const CODES = new Map<string, number>();
for (let code = 32; code < 127; code++) CODES.set(String.fromCharCode(code), code);
for (let code = 160; code < 256; code++) CODES.set(String.fromCharCode(code), code);
for (const [i, letter] of [...HIGH].entries()) if (letter !== ' ') CODES.set(letter, 128 + i);

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

/** The code of a character in WinAnsiEncoding; undefined where it has none. */
export const winAnsiCode = (letter: string): number | undefined => CODES.get(ALIKE[letter] ?? letter);
