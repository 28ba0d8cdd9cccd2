import type { Block, Dialect, PostContext, PostMove, PostProcessor, PostState, Word } from '@haunch/model';

/** What a shop may choose in the RS274/NGC dialect. */
export interface Rs274ngcOptions {
  /** Decimals of coordinates: 4 for millimetres and 5 for inches when nothing is said. */
  readonly decimals?: number;
  readonly unit?: 'mm' | 'inch';
  /** Line numbers such as { start: 10, step: 10 }; none when nothing is said. */
  readonly lineNumbers?: { readonly start: number; readonly step: number } | null;
}

const code = (letter: 'G' | 'M' | 'S' | 'T', value: number): Word => ({ letter, value, integer: true });
const word = (letter: string, value: number): Word => ({ letter, value });
const block = (...words: readonly Word[]): Block => ({ words });
const comment = (text: string): Block => ({ words: [], comment: text });
const place = (m: { readonly x: number; readonly y: number; readonly z: number }): Word[] => [
  word('X', m.x),
  word('Y', m.y),
  word('Z', m.z),
];

/**
 * A post-processor for RS274/NGC: centre-form arcs with incremental I and J, full circles and helices in one block,
 * comments in round brackets. The program states plane, unit and every mode at its start, raises the cutter before it
 * moves sideways from an unknown place, and never stops the spindle on a line that cuts.
 * @throws RangeError when `decimals` is not a whole number from 0 to 6.
 * @see NISTIR 6556, The NIST RS274/NGC Interpreter, Version 3 (2000)
 */
export function rs274ngcWith(options: Rs274ngcOptions): PostProcessor {
  const unit = options.unit ?? 'mm';
  const decimals = options.decimals ?? (unit === 'mm' ? 4 : 5);
  if (!Number.isInteger(decimals) || decimals < 0 || decimals > 6)
    throw new RangeError(`rs274ngcWith: ${decimals} decimals; a whole number from 0 to 6 is wanted`);
  const dialect: Dialect = {
    name: 'RS274/NGC',
    extension: 'ngc',
    unit,
    decimals,
    feedDecimals: unit === 'mm' ? 1 : 2,
    arcs: {
      form: 'centre',
      centre: 'incremental',
      greatestSweep: 2 * Math.PI,
      helix: true,
      chordTolerance: 0.01,
    },
    modal: true,
    lineNumbers: options.lineNumbers ?? null,
    blockLength: 256,
    comments: { open: '(', close: ')' },
  };
  return { name: 'rs274ngc', contract: 1, dialect, start, move, end };
}

/** The RS274/NGC post as most shops want it: millimetres, four decimals, no line numbers. */
export const rs274ngc: PostProcessor = rs274ngcWith({});

function start({ title, board, dialect }: PostContext): readonly Block[] {
  const modes = [17, dialect.unit === 'mm' ? 21 : 20, 40, 49, 80, 90, 94, 54];
  return [comment(title), comment(`board ${board}`), block(...modes.map((g) => code('G', g)))];
}

function move(m: PostMove, state: PostState): readonly Block[] {
  switch (m.kind) {
    case 'rapid':
      // From an unknown place the cutter is raised before it goes anywhere.
      return state.z === null
        ? [block(code('G', 0), word('Z', m.z)), block(code('G', 0), word('X', m.x), word('Y', m.y))]
        : [block(code('G', 0), ...place(m))];
    case 'linear':
      return [block(code('G', 1), ...place(m), word('F', m.feed))];
    case 'circular':
      return [
        block(
          code('G', m.turn === 'cw' ? 2 : 3),
          ...place(m),
          word('I', m.i),
          word('J', m.j),
          word('F', m.feed),
        ),
      ];
    case 'dwell':
      return [block(code('G', 4), word('P', m.seconds))];
    case 'spindle':
      return m.rpm === 0
        ? [block(code('M', 5))]
        : [block(code('S', Math.round(Math.abs(m.rpm))), code('M', m.rpm > 0 ? 3 : 4))];
    case 'cutter':
      return [
        ...spindleOff(state),
        { words: [code('T', m.number), code('M', 6)], comment: `cutter ${m.id}` },
      ];
    case 'note':
      return [comment(m.text)];
  }
}

/** M6 stops the spindle itself, but M5 says so, also to those who change cutters by hand; not twice, though. */
const spindleOff = ({ rpm, cutter }: PostState): readonly Block[] =>
  rpm === 0 && cutter !== null ? [] : [block(code('M', 5))];

function end(state: PostState): readonly Block[] {
  return [...spindleOff(state), block(code('M', 2))];
}
