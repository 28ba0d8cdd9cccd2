import { seededRandom } from '@haunch/nesting';
import {
  boardJigsaw,
  type GeneratedProblem,
  jigsaw,
  lattice,
  nestedJigsaw,
  spacedJigsaw,
} from '@haunch/nesting/trial';
import fc from 'fast-check';

/** How large the puzzles may be. */
export interface LayoutPuzzleLimits {
  /** The most pieces; 12 unless said. */
  readonly pieces?: number;
  /** The longest side, whole millimetres, from 100; 600 unless said. */
  readonly side?: number;
}

/**
 * Layout problems whose best or a good layout is known, for laws about strategies and referees: puzzles on a strip and
 * on boards, puzzles with spacing, pieces in holes of pieces, lattices of one shape. Each comes with the layout that it was made from; smaller
 * puzzles are tried when a law fails. Needs the peer package fast-check.
 * @throws RangeError for fewer than 1 piece or a side below 100.
 */
export function layoutPuzzles({
  pieces = 12,
  side = 600,
}: LayoutPuzzleLimits = {}): fc.Arbitrary<GeneratedProblem> {
  if (!(pieces >= 1 && side >= 100))
    throw new RangeError('layoutPuzzles: at least 1 piece and a side of 100');
  return fc
    .record({
      kind: fc.constantFrom('strip', 'boards', 'spaced', 'nested', 'lattice' as const),
      seed: fc.nat({ max: 0xffffffff }),
      pieces: fc.integer({ min: 1, max: pieces }),
      width: fc.integer({ min: 100, max: side }),
      height: fc.integer({ min: 100, max: side }),
      turns: fc.constantFrom('none', 'grain', 'quarters' as const),
    })
    .map(({ kind, seed, pieces: n, width, height, turns }) => {
      const random = seededRandom(seed);
      const options = { name: `${kind}-${seed}`, width, height, pieces: n, turns };
      if (kind === 'strip') return jigsaw(options, random);
      if (kind === 'boards') return boardJigsaw({ ...options, pieces: Math.ceil(n / 2) }, 2, random);
      if (kind === 'spaced') return spacedJigsaw({ ...options, pieces: Math.ceil(n / 2) }, 4, random);
      if (kind === 'nested') return nestedJigsaw({ ...options, pieces: Math.ceil(n / 3) }, 2, random);
      const rows = Math.max(1, Math.floor(Math.sqrt(n)));
      const cell = [Math.max(6, Math.floor(width / 8)), Math.max(6, Math.floor(height / 8))] as const;
      return lattice(
        { name: options.name, cell, columns: Math.max(1, Math.floor(n / rows)), rows, depth: 0.2 },
        random,
      );
    });
}
