import type { Block, Dialect, PostContext, PostMove, PostProcessor, PostState, Word } from '@haunch/model';

/**
 * A dialect declared with data alone. Blocks are written as text, such as `"T{number} M6"`: words with blanks between, a number
 * or a field in braces after each letter. Fields: `{number}` and `{id}` of a cutter, `{rpm}`, `{seconds}`, `{milliseconds}`. A block in
 * the dialect's comment brackets, such as `"({title})"`, is a comment; fields there: `{title}`, `{board}`, `{id}`, `{text}`.
 */
export interface DialectDeclaration {
  readonly name: string;
  readonly dialect: Dialect;
  /** Blocks at the start. */
  readonly start: readonly string[];
  /** Blocks of a change of cutter; the spindle was stopped before. */
  readonly cutter: readonly string[];
  readonly spindle: { readonly clockwise: string; readonly counterClockwise: string; readonly stop: string };
  readonly dwell: string;
  /** What a note of the plan becomes; left out where the dialect has no comments. */
  readonly note?: string;
  /** Blocks at the end; the spindle was stopped before. */
  readonly end: readonly string[];
  /** Motion codes; G0, G1, G2 and G3 when left out. */
  readonly motion?: {
    readonly rapid: number;
    readonly linear: number;
    readonly clockwise: number;
    readonly counterClockwise: number;
  };
}

type Fields = Readonly<Record<string, number | string>>;

/** Addresses whose numbers are whole by nature. */
const WHOLE = new Set(['G', 'M', 'T', 'S', 'N', 'D', 'H', 'O', 'L']);

const G: Required<DialectDeclaration>['motion'] = { rapid: 0, linear: 1, clockwise: 2, counterClockwise: 3 };

/** One block of a declaration, its fields still open. */
interface Template {
  readonly words: readonly { readonly letter: string; readonly value: number | string }[];
  readonly comment: string | null;
}

/**
 * Reads a block's text.
 * @throws RangeError naming the text when it is neither words nor a comment of the dialect.
 */
function templateOf(text: string, { name, comments }: Dialect): Template {
  let rest = text.trim();
  let comment: string | null = null;
  if (comments) {
    const open = rest.indexOf(comments.open);
    if (open >= 0 && (comments.close === '' || rest.endsWith(comments.close))) {
      comment = rest.slice(open + comments.open.length, rest.length - comments.close.length);
      rest = rest.slice(0, open).trim();
    }
  }
  const words = rest === '' ? [] : rest.split(/\s+/);
  return {
    comment,
    words: words.map((w) => {
      const [, letter, number, field] = /^([A-Z])(?:([+-]?\d+(?:\.\d+)?)|\{(\w+)\})$/.exec(w) ?? [];
      if (letter === undefined)
        throw new RangeError(
          `defineDialect: ${name}: "${w}" in "${text}" is no word; write a capital letter and a number or {field}`,
        );
      return { letter, value: number === undefined ? field! : Number(number) };
    }),
  };
}

/** Fills a block's fields. */
function fill({ words, comment }: Template, fields: Fields): Block {
  return {
    words: words.map(({ letter, value }): Word => {
      const number = typeof value === 'number' ? value : Number(fields[value]);
      return {
        letter,
        value: number,
        ...(WHOLE.has(letter) && Number.isInteger(number) ? { integer: true } : {}),
      };
    }),
    ...(comment === null
      ? {}
      : { comment: comment.replace(/\{(\w+)\}/g, (_, f: string) => String(fields[f] ?? '')) }),
  };
}

const code = (letter: string, value: number): Word => ({ letter, value, integer: true });
const word = (letter: string, value: number): Word => ({ letter, value });

/**
 * A post-processor of a dialect that is declared with data alone: typography only, as the host has lowered what the dialect
 * lacks. It raises the cutter before it moves sideways from an unknown place, and stops the spindle before a change of cutter and at
 * the end.
 * @throws RangeError when a block of the declaration cannot be read, or names a field that its place does not have.
 */
export function defineDialect(declaration: DialectDeclaration): PostProcessor {
  const { name, dialect, motion = G } = declaration;
  const read = (texts: readonly string[]): Template[] => texts.map((t) => templateOf(t, dialect));
  const one = (text: string): Template => templateOf(text, dialect);
  const start = read(declaration.start);
  const cutter = read(declaration.cutter);
  const end = read(declaration.end);
  const [clockwise, counterClockwise, stop, dwell] = [
    one(declaration.spindle.clockwise),
    one(declaration.spindle.counterClockwise),
    one(declaration.spindle.stop),
    one(declaration.dwell),
  ];
  const note = declaration.note === undefined ? null : one(declaration.note);
  const check = (templates: readonly Template[], known: readonly string[]): void => {
    for (const t of templates)
      for (const w of t.words)
        if (typeof w.value === 'string' && !known.includes(w.value))
          throw new RangeError(
            `defineDialect: ${name}: {${w.value}} has no value here; known: ${known.join(', ') || 'none'}`,
          );
  };
  check(start, []);
  check(end, []);
  check(cutter, ['number']);
  check([clockwise, counterClockwise], ['rpm']);
  check([stop], []);
  check([dwell], ['seconds', 'milliseconds']);

  const spindleOff = ({ rpm, cutter: inHand }: PostState): readonly Block[] =>
    rpm === 0 && inHand !== null ? [] : [fill(stop, {})];
  const [rapid, linear] = [code('G', motion.rapid), code('G', motion.linear)];
  const turns = { cw: code('G', motion.clockwise), ccw: code('G', motion.counterClockwise) };
  const centre = (m: Extract<PostMove, { kind: 'circular' }>): Word[] =>
    dialect.arcs.form === 'radius' ? [word('R', m.r)] : [word('I', m.i), word('J', m.j)];
  /** A block of a motion code and its place, and of what else it needs. */
  const go = (g: Word, m: { readonly x: number; readonly y: number; readonly z: number }): Word[] => [
    g,
    word('X', m.x),
    word('Y', m.y),
    word('Z', m.z),
  ];

  function move(m: PostMove, state: PostState): readonly Block[] {
    switch (m.kind) {
      case 'rapid':
        return state.z === null
          ? [{ words: [rapid, word('Z', m.z)] }, { words: [rapid, word('X', m.x), word('Y', m.y)] }]
          : [{ words: go(rapid, m) }];
      case 'linear':
        return [{ words: [linear, word('X', m.x), word('Y', m.y), word('Z', m.z), word('F', m.feed)] }];
      case 'circular':
        return [{ words: [...go(turns[m.turn], m), ...centre(m), word('F', m.feed)] }];
      case 'dwell':
        return [fill(dwell, { seconds: m.seconds, milliseconds: Math.round(m.seconds * 1000) })];
      case 'spindle':
        return m.rpm === 0
          ? [fill(stop, {})]
          : [fill(m.rpm > 0 ? clockwise : counterClockwise, { rpm: Math.round(Math.abs(m.rpm)) })];
      case 'cutter':
        return [...spindleOff(state), ...cutter.map((t) => fill(t, { number: m.number, id: m.id }))];
      case 'note':
        return note ? [fill(note, { text: m.text })] : [];
    }
  }

  return {
    name,
    contract: 1,
    dialect,
    start: ({ title, board }: PostContext) => start.map((t) => fill(t, { title, board })),
    move,
    end: (state) => [...spindleOff(state), ...end.map((t) => fill(t, {}))],
  };
}
