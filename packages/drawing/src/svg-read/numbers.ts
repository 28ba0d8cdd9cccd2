/** A coordinate beyond this is no drawing's; the same bound as for DXF. */
export const LARGEST = 1e9;

const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;

/** Reads one number at a place of a text: its value and where it ends, or null. Linear, never backtracks. */
export function numberAt(text: string, at: number): { readonly value: number; readonly end: number } | null {
  NUMBER.lastIndex = at;
  const m = NUMBER.exec(text);
  return m === null ? null : { value: Number(m[0]), end: NUMBER.lastIndex };
}

/** Skips white space and at most one comma; answers where the next word begins and whether there was a comma. */
export function skipComma(text: string, at: number): { readonly end: number; readonly comma: boolean } {
  let [end, comma] = [at, false];
  for (; end < text.length; end++) {
    const c = text.charCodeAt(end);
    if (c === 0x2c && !comma) comma = true;
    else if (!isSpace(c)) break;
  }
  return { end, comma };
}

export const isSpace = (c: number): boolean =>
  c === 0x20 || c === 0x09 || c === 0x0a || c === 0x0d || c === 0x0c;

/** All numbers of a list parted by commas or white space, or null where anything else stands in it. */
export function readNumbers(text: string): number[] | null {
  const out: number[] = [];
  for (let at = skipComma(text, 0).end; at < text.length; ) {
    const n = numberAt(text, at);
    if (n === null || !(Math.abs(n.value) <= LARGEST)) return null;
    out.push(n.value);
    at = skipComma(text, n.end).end;
  }
  return out;
}
