import type { Block, Dialect, PostProcessor } from '@haunch/model';

type Data = Readonly<Record<string, unknown>>;

const isData = (v: unknown): v is Data => typeof v === 'object' && v !== null && !Array.isArray(v);
const isWhole = (v: unknown, least: number, most: number): boolean =>
  Number.isInteger(v) && (v as number) >= least && (v as number) <= most;
const oneOf = (v: unknown, values: readonly unknown[]): boolean => values.includes(v);
const isFlag = (v: unknown): boolean => v === undefined || typeof v === 'boolean';
const isAbove = (v: unknown): boolean => typeof v === 'number' && v > 0 && v < Infinity;

/** What is wrong with a comment's marks. */
const commentsFault = (v: unknown): string | null =>
  v === null || (isData(v) && typeof v.open === 'string' && v.open !== '' && typeof v.close === 'string')
    ? null
    : 'comments must be null, or what opens and what closes one';

const arcsFault = (v: unknown): string | null => {
  if (!isData(v)) return 'it says nothing of arcs';
  if (!oneOf(v.form, ['none', 'centre', 'radius'])) return 'arcs.form must be none, centre or radius';
  if (!oneOf(v.centre, ['incremental', 'absolute'])) return 'arcs.centre must be incremental or absolute';
  if (!isAbove(v.greatestSweep)) return 'arcs.greatestSweep must be an angle above zero';
  if (!isAbove(v.chordTolerance)) return 'arcs.chordTolerance must be a length above zero';
  return typeof v.helix === 'boolean' && isFlag(v.quadrants) ? null : 'arcs.helix must be true or false';
};

/** The field of an object that has none of its values, none by name when it is no object; undefined when all is well or left out. */
const strange = (
  v: unknown,
  fields: Readonly<Record<string, (v: unknown) => boolean>>,
): string | undefined =>
  v === undefined
    ? undefined
    : isData(v)
      ? Object.keys(fields).find((f) => v[f] !== undefined && !fields[f]!(v[f]))
      : '';

const fieldFault = (of: string, field: string | undefined): string | null =>
  field === undefined
    ? null
    : field === ''
      ? `${of} must be an object`
      : `${of}.${field} is none of its values`;
const within =
  (...values: readonly unknown[]) =>
  (v: unknown) =>
    values.includes(v);
const isImplied = (v: unknown): boolean =>
  isData(v) && isWhole(v.whole, 1, 6) && oneOf(v.zeros, ['all', 'leading dropped', 'trailing dropped']);

const wordsFault = (v: unknown): string | null => {
  const field = strange(v, {
    blanks: isFlag,
    point: within('where needed', 'always'),
    leadingZero: isFlag,
    trailingZeros: isFlag,
    implied: isImplied,
  });
  return fieldFault('words', field);
};

/** What is wrong with the data that may be left out. */
const restFault = (d: Data): string | null => {
  const field = strange(d, {
    drilling: within('moves', 'cycles'),
    stopsAfterChange: isFlag,
    percent: isFlag,
  });
  if (field !== undefined) return `${field} is none of its values`;
  const meaning = strange(d.meaning, {
    units: within('G20 G21', 'G70 G71'),
    centres: within('incremental', 'absolute'),
    dwell: within('seconds', 'milliseconds'),
    implied: (v) => isImplied(v) && isWhole((v as Data).decimals, 0, 6),
  });
  return fieldFault('meaning', meaning);
};

/** What is wrong with a dialect's data, whose type cannot be relied on; null when nothing is. */
function dialectFault(d: Data): string | null {
  if (typeof d.name !== 'string' || d.name === '') return 'it has no name';
  // It becomes the ending of a file's name.
  if (typeof d.extension !== 'string' || !/^[A-Za-z0-9]{1,8}$/.test(d.extension))
    return 'extension must be one to eight letters or digits';
  if (!oneOf(d.unit, ['mm', 'inch'])) return 'unit must be mm or inch';
  if (!isWhole(d.decimals, 0, 6)) return 'decimals must be a whole number from 0 to 6';
  if (!isWhole(d.feedDecimals, 0, 6)) return 'feedDecimals must be a whole number from 0 to 6';
  if (typeof d.modal !== 'boolean') return 'modal must be true or false';
  if (!isWhole(d.blockLength, 1, 100_000)) return 'blockLength must be a whole number from 1';
  const n = d.lineNumbers;
  if (n !== null && !(isData(n) && isWhole(n.start, 0, 99_999) && isWhole(n.step, 1, 99_999)))
    return 'lineNumbers must be null, or a start from 0 and a step from 1';
  return commentsFault(d.comments) ?? arcsFault(d.arcs) ?? wordsFault(d.words) ?? restFault(d);
}

/**
 * Why something that a package gave is no post-processor of contract 1, in a few words: its version, its functions, and its manifest, the
 * dialect; null when it is one. Never throws.
 */
export function postFault(post: unknown): string | null {
  if (!isData(post)) return 'it gives no object';
  if (typeof post.then === 'function') return 'it gives a promise instead of the post-processor itself';
  if (post.contract === undefined) return 'it states no contract; 1 is known here';
  if (post.contract !== 1) return `it is of contract ${String(post.contract)}; 1 is known here`;
  if (typeof post.name !== 'string' || post.name === '') return 'it has no name';
  const missing = ['start', 'move', 'end'].find((f) => typeof post[f] !== 'function');
  if (missing !== undefined) return `it has no function ${missing}`;
  if (!isData(post.dialect)) return 'it has no dialect';
  const fault = dialectFault(post.dialect);
  return fault === null ? null : `its dialect is faulty: ${fault}`;
}

/** What is wrong with blocks that a post has given; null when nothing is. */
function blocksFault(blocks: unknown): string | null {
  if (!Array.isArray(blocks)) return 'it gave no list of blocks';
  for (const b of blocks as readonly unknown[]) {
    if (!isData(b) || !Array.isArray(b.words)) return 'it gave a block without words';
    if (b.comment !== undefined && typeof b.comment !== 'string') return 'it gave a comment that is no text';
    for (const w of b.words as readonly unknown[])
      if (
        !isData(w) ||
        typeof w.letter !== 'string' ||
        !/^[A-Z]$/.test(w.letter) ||
        !Number.isFinite(w.value)
      )
        return `it gave ${JSON.stringify(w) ?? String(w)}, which is no word`;
  }
  return null;
}

/**
 * A post from elsewhere behind a guard: where a function of it throws, or gives what are no blocks, `failed` is called with a few words, and
 * must throw. Its dialect is copied, so that it cannot change while a program is written.
 */
export function guardedPost(post: PostProcessor, failed: (problem: string) => never): PostProcessor {
  const checked = (name: string, make: () => readonly Block[]): readonly Block[] => {
    let blocks: readonly Block[];
    try {
      blocks = make();
    } catch (e) {
      return failed(`its function ${name} failed: ${e instanceof Error ? e.message : String(e)}`);
    }
    const fault = blocksFault(blocks);
    return fault === null ? blocks : failed(`its function ${name} is faulty: ${fault}`);
  };
  return {
    name: post.name,
    contract: 1,
    dialect: structuredClone(post.dialect) as Dialect,
    start: (context) => checked('start', () => post.start(context)),
    move: (move, state, context) => checked('move', () => post.move(move, state, context)),
    end: (state, context) => checked('end', () => post.end(state, context)),
  };
}
