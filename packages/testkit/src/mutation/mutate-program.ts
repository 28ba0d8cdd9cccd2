import { type WordAt, wordsOfLine } from './words-of-line.js';

/** What a mutation does to a program. */
export type MutationKind =
  | 'sign'
  | 'digit'
  | 'dropped word'
  | 'swapped digits'
  | 'swapped words'
  | 'swapped blocks'
  | 'deleted block'
  | 'doubled block'
  | 'wrong code';

/** All kinds of mutations, in a fixed order. */
export const MUTATION_KINDS: readonly MutationKind[] = [
  'sign',
  'digit',
  'dropped word',
  'swapped digits',
  'swapped words',
  'swapped blocks',
  'deleted block',
  'doubled block',
  'wrong code',
];

/** A program with one mistake in it. */
export interface Mutation {
  readonly kind: MutationKind;
  readonly text: string;
  /** The line, from 1, and what it says before and after. */
  readonly line: number;
  readonly was: string;
  readonly now: string;
}

/** Codes that a slip of the finger puts for each other, within the modal groups of NISTIR 6556, table 4. */
const CONFUSED: ReadonlyMap<string, readonly string[]> = new Map([
  ['G0', ['G1', 'G2', 'G3']],
  ['G1', ['G0', 'G2', 'G3']],
  ['G2', ['G3', 'G1', 'G0']],
  ['G3', ['G2', 'G1', 'G0']],
  ['G4', ['G1', 'G0']],
  ['G17', ['G18', 'G19']],
  ['G20', ['G21']],
  ['G21', ['G20']],
  ['G70', ['G71']],
  ['G71', ['G70']],
  ['G40', ['G41', 'G42']],
  ['G49', ['G43']],
  ['G54', ['G55', 'G59']],
  ['G80', ['G81']],
  ['G90', ['G91']],
  ['G94', ['G93']],
  ['M2', ['M0', 'M5']],
  ['M30', ['M0', 'M5']],
  ['M3', ['M4', 'M5']],
  ['M5', ['M3', 'M4']],
  ['M6', ['M3', 'M5']],
]);

const codeOf = ({ letter, number }: WordAt): string => `${letter}${Number(number)}`;

/** One line changed, or null where this kind has nothing to change in it. */
function changed(kind: MutationKind, line: string, random: () => number): string | null {
  const words = wordsOfLine(line);
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)];
  const put = (w: WordAt, letter: string, number: string): string =>
    `${line.slice(0, w.from)}${letter}${number}${line.slice(w.to)}`;
  switch (kind) {
    case 'sign': {
      const w = pick(words.filter((x) => !'GMNT'.includes(x.letter) && Number(x.number) !== 0));
      if (!w) return null;
      return put(w, w.letter, w.number.startsWith('-') ? w.number.slice(1) : `-${w.number.replace('+', '')}`);
    }
    case 'digit': {
      const w = pick(words);
      const places = w === undefined ? [] : [...w.number].flatMap((c, i) => (/\d/.test(c) ? [i] : []));
      const at = pick(places);
      if (!w || at === undefined) return null;
      const digit = (Number(w.number[at]) + 1 + Math.floor(random() * 9)) % 10;
      return put(w, w.letter, `${w.number.slice(0, at)}${digit}${w.number.slice(at + 1)}`);
    }
    case 'dropped word': {
      const w = pick(words);
      return w ? `${line.slice(0, w.from)}${line.slice(w.to)}` : null;
    }
    case 'swapped digits': {
      const pairs = words.flatMap((w) =>
        [...w.number].flatMap((c, i) => {
          const next = w.number[i + 1];
          return next !== undefined && /\d/.test(c) && /\d/.test(next) && c !== next ? [{ w, i }] : [];
        }),
      );
      const p = pick(pairs);
      if (!p) return null;
      const { w, i } = p;
      const n = w.number;
      return put(w, w.letter, `${n.slice(0, i)}${n[i + 1]}${n[i]}${n.slice(i + 2)}`);
    }
    case 'swapped words': {
      const swappable = words.filter((x) => !'GMN'.includes(x.letter));
      const k = Math.floor(random() * (swappable.length - 1));
      const [a, b] = [swappable[k], swappable[k + 1]];
      if (!a || !b || a.number === b.number) return null;
      return `${line.slice(0, a.from)}${a.letter}${b.number}${line.slice(a.to, b.from)}${b.letter}${a.number}${line.slice(b.to)}`;
    }
    case 'wrong code': {
      const w = pick(words.filter((x) => CONFUSED.has(codeOf(x))));
      const other = w && pick(CONFUSED.get(codeOf(w))!);
      return w && other ? put(w, '', other) : null;
    }
    default:
      return null;
  }
}

/**
 * A program with one mistake of a kind, at a place that chance finds: one word or one block changed. Null when the
 * kind finds nothing to change. The same text, kind and numbers from `random` give the same mutation.
 */
export function mutateProgram(text: string, kind: MutationKind, random: () => number): Mutation | null {
  const lines = text.split('\n');
  const spoken = lines.flatMap((l, i) => (wordsOfLine(l).length > 0 ? [i] : []));
  if (spoken.length < 2) return null;
  const mutation = (i: number, was: string, now: string, text: readonly string[]): Mutation => ({
    kind,
    text: text.join('\n'),
    line: i + 1,
    was,
    now,
  });
  for (let attempt = 0; attempt < 200; attempt++) {
    const k = Math.floor(random() * spoken.length);
    const i = spoken[k]!;
    const line = lines[i]!;
    if (kind === 'deleted block') return mutation(i, line, '', [...lines.slice(0, i), ...lines.slice(i + 1)]);
    if (kind === 'doubled block')
      return mutation(i, line, `${line} | ${line}`, [...lines.slice(0, i), line, ...lines.slice(i)]);
    if (kind === 'swapped blocks') {
      const j = spoken[k + 1];
      if (j === undefined || lines[j] === line) continue;
      const swapped = lines.map((l, n) => (n === i ? lines[j]! : n === j ? line : l));
      return mutation(i, `${line} | ${lines[j]}`, `${lines[j]} | ${line}`, swapped);
    }
    const now = changed(kind, line, random);
    if (now !== null && now !== line)
      return mutation(
        i,
        line,
        now,
        lines.map((l, n) => (n === i ? now : l)),
      );
  }
  return null;
}
