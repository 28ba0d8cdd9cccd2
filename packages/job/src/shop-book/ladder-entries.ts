import { cutterHistoryOf, type DayBookEntry } from '@haunch/gauge';
import type { Job } from '../job.js';
import { ladderEntries as saidOfLadders } from '../ladder-of-job.js';

/** How far the cutter has run and how often it was ground, where they are said; else as the book has them. */
export interface CutterThen {
  readonly metres?: number | undefined;
  readonly grinding?: number | undefined;
}

/** What a job's felt ladder of a board says for the day book: the ladder, and the cutter where slot and peg were measured. None: nothing. */
export function ladderEntries(
  { ladders, router, boards, materials, settings }: Job,
  board: string | undefined,
  book: readonly DayBookEntry[],
  { when, metres, grinding }: CutterThen & { readonly when: string },
): DayBookEntry[] {
  const ladder = ladders.find((l) => l.kind === 'felt' && l.board === board);
  if (ladder?.kind !== 'felt') return [];
  const history = cutterHistoryOf(book, router.id);
  const { drive, snug, slip, u } = ladder.reading;
  const common = { v: 2 as const, when, cutter: router.id, grinding: grinding ?? history.grinding };
  const answers = saidOfLadders(settings).flatMap((l) =>
    'answers' in l && l.board === board ? l.answers : [],
  );
  const stock = boards.find((b) => b.id === ladder.board)?.stock ?? ladder.board;
  const material = materials.get(stock) ?? stock;
  return [
    { ...common, kind: 'ladder', board: ladder.board, stock, material, answers, drive, snug, slip, u },
    ...(ladder.measured
      ? [
          {
            ...common,
            kind: 'cutter' as const,
            metres: metres ?? history.metres,
            diameter: ladder.measured.diameter,
            u: ladder.measured.u,
          },
        ]
      : []),
  ];
}
