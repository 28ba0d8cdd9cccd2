/** A word of a program line and where it stands. */
export interface WordAt {
  readonly letter: string;
  /** Its number as written. */
  readonly number: string;
  readonly from: number;
  readonly to: number;
}

/** The words of a line outside its comments. */
export function wordsOfLine(line: string): WordAt[] {
  // A comment is blanked, so that places stay those of the line.
  const bare = line.replace(/\([^)]*\)|;.*$/g, (c) => ' '.repeat(c.length));
  return [...bare.matchAll(/([A-Za-z])[ \t]*([+-]?(?:\d+\.?\d*|\.\d+))/g)].map((m) => ({
    letter: m[1]!.toUpperCase(),
    number: m[2]!,
    from: m.index,
    to: m.index + m[0].length,
  }));
}
