import type { Block, Dialect, PostMove, PostProcessor, PostState, Word } from '@haunch/model';

/** Changes to the plain dialect that a test asks for. */
export type DialectChanges = Partial<Omit<Dialect, 'arcs'>> & { readonly arcs?: Partial<Dialect['arcs']> };

const g = (value: number): Word => ({ letter: 'G', value, integer: true });
const w = (letter: string, value: number): Word => ({ letter, value });
const block = (...words: readonly Word[]): Block => ({ words });

/** A post that does nothing but spell each move, in a dialect that a test may change. */
export function plainPost(changes: DialectChanges = {}): PostProcessor {
  const dialect: Dialect = {
    name: 'plain',
    extension: 'nc',
    unit: 'mm',
    decimals: 4,
    feedDecimals: 1,
    modal: true,
    lineNumbers: null,
    blockLength: 256,
    comments: { open: '(', close: ')' },
    ...changes,
    arcs: {
      form: 'centre',
      centre: 'incremental',
      greatestSweep: 2 * Math.PI,
      helix: true,
      chordTolerance: 0.01,
      ...changes.arcs,
    },
  };
  const move = (m: PostMove, state: PostState): readonly Block[] => {
    switch (m.kind) {
      case 'rapid':
        return state.z === null
          ? [block(g(0), w('Z', m.z)), block(g(0), w('X', m.x), w('Y', m.y))]
          : [block(g(0), w('X', m.x), w('Y', m.y), w('Z', m.z))];
      case 'linear':
        return [block(g(1), w('X', m.x), w('Y', m.y), w('Z', m.z), w('F', m.feed))];
      case 'circular':
        return [
          block(
            g(m.turn === 'cw' ? 2 : 3),
            w('X', m.x),
            w('Y', m.y),
            w('Z', m.z),
            w('I', m.i),
            w('J', m.j),
            w('F', m.feed),
          ),
        ];
      case 'dwell':
        return [block(g(4), w('P', m.seconds))];
      case 'spindle':
        return [block(w('S', m.rpm), { letter: 'M', value: m.rpm > 0 ? 3 : 5, integer: true })];
      case 'cutter':
        return [
          block({ letter: 'T', value: m.number, integer: true }, { letter: 'M', value: 6, integer: true }),
        ];
      case 'note':
        return [{ words: [], comment: m.text }];
    }
  };
  return {
    name: 'plain',
    contract: 1,
    dialect,
    start: ({ title }) => [
      { words: [], comment: title },
      block(g(dialect.unit === 'mm' ? 21 : 20), g(17), g(90)),
    ],
    move,
    end: () => [block({ letter: 'M', value: 2, integer: true })],
  };
}
