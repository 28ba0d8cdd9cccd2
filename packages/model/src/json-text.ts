/** JSON that was read, with a way back to the lines it stands on. */
export interface JsonText {
  readonly value: unknown;
  /** The line (from 1) on which the value at a path such as `['parts', 3, 'id']` starts; the nearest parent's where it is missing. */
  lineOf(path: readonly PropertyKey[]): number;
}

/**
 * Reads JSON text (RFC 8259). Answers with the problem in words and its line where the text is malformed;
 * never throws.
 */
export function readJson(text: string): JsonText | { readonly problem: string; readonly line: number } {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (e) {
    const said = e instanceof Error ? e.message : String(e);
    const position = /position (\d+)/.exec(said)?.[1];
    const line = /line (\d+)/.exec(said)?.[1];
    const before = position === undefined ? text.trimEnd() : text.slice(0, Number(position));
    return {
      problem:
        text.trim() === ''
          ? 'the file is empty'
          : `the JSON is malformed: ${said.replace(/ in JSON.*$| \(line.*$/s, '')}`,
      line: line === undefined ? before.split('\n').length : Number(line),
    };
  }
  let index: Map<string, number> | undefined;
  return {
    value,
    lineOf(path) {
      index ??= lineIndex(text);
      for (let n = path.length; n >= 0; n--) {
        const line = index.get(JSON.stringify(path.slice(0, n).map(String)));
        if (line !== undefined) return line;
      }
      return 1;
    },
  };
}

/** A path inside JSON as people read it: `parts[3].outline.to`. */
export const formatJsonPath = (path: readonly PropertyKey[]): string =>
  path.map((k, i) => (typeof k === 'number' ? `[${k}]` : `${i > 0 ? '.' : ''}${String(k)}`)).join('');

/** The line of every value of a JSON text that is known to be well formed, by its path. */
function lineIndex(text: string): Map<string, number> {
  const lines = new Map<string, number>();
  const path: string[] = [];
  let at = 0;
  let line = 1;
  const blank = () => {
    for (; at < text.length; at++) {
      const c = text[at]!;
      if (c === '\n') line++;
      else if (c !== ' ' && c !== '\t' && c !== '\r') return;
    }
  };
  const string = (): string => {
    const start = at++;
    while (text[at] !== '"') at += text[at] === '\\' ? 2 : 1;
    return JSON.parse(text.slice(start, ++at)) as string;
  };
  const value = (): void => {
    blank();
    lines.set(JSON.stringify(path), line);
    const c = text[at];
    if (c === '"') string();
    else if (c === '{' || c === '[') {
      const close = c === '{' ? '}' : ']';
      at++;
      blank();
      for (let i = 0; text[at] !== close; i++) {
        if (c === '{') {
          path.push(string());
          blank();
          at++; // the colon
        } else path.push(String(i));
        value();
        path.pop();
        blank();
        if (text[at] === ',') {
          at++;
          blank();
        }
      }
      at++;
    } else while (at < text.length && !/[,\]}\s]/.test(text[at]!)) at++;
  };
  value();
  return lines;
}
