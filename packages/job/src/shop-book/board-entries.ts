import { type BookBoard, boardsOfBook, type DayBookEntry } from '@haunch/gauge';
import { copiesOf } from '../boards-of-job.js';
import type { JobBoard } from '../job-schema.js';

type BoardEntry = Extract<DayBookEntry, { kind: 'board' }>;

/** What a job's sheets add to a day book. */
export interface BoardNews {
  /** Entries that the book has not, to be appended. */
  readonly entries: readonly BoardEntry[];
  /** Boards that stay cut from, or gone, in the book: measured again they are no more whole. */
  readonly notWhole: readonly { readonly id: string; readonly state: Exclude<BookBoard['state'], 'whole'> }[];
  /** Boards that are no rectangles: a book has two lengths of a board alone, and the next job would lay parts beside these. */
  readonly noRectangles: readonly string[];
}

/** An entry of a board; `flawed`: the book has flaws of it or says that it has none, so that this one says so too. */
const boardEntry = (b: JobBoard, id: string, when: string, flawed: boolean): BoardEntry => ({
  v: 2,
  kind: 'board',
  when,
  board: id,
  stock: b.stock ?? b.id,
  width: b.width,
  height: b.height,
  readings: b.readings.map((r) =>
    typeof r === 'number' ? { thickness: r } : { thickness: r.thickness, at: { x: r.at[0], y: r.at[1] } },
  ),
  ...(b.instrument === undefined ? {} : { instrument: b.instrument }),
  ...(b.temperature === undefined ? {} : { temperature: b.temperature }),
  ...(b.humidity === undefined ? {} : { humidity: b.humidity }),
  ...(b.grain === 'x' ? {} : { grain: b.grain }),
  ...(flawed || b.defects.length > 0 ? { defects: b.defects } : {}),
});

/** What an entry says of its board, whenever it was made. */
const said = ({ when: _, v: __, anew: ___, ...rest }: BoardEntry): string =>
  JSON.stringify(
    rest,
    Object.keys({ ...rest, at: 0, x: 0, y: 0, thickness: 0, repeatability: 0, box: 0, face: 0 }).sort(),
  );

/**
 * The sheets of a job as a day book takes them: each of several alike by itself, none of which the book knows all this already, off-cuts and
 * boards of another outline left out. `wanted` are the names of those that are meant.
 */
export function boardNews(
  entries: readonly DayBookEntry[],
  boards: readonly JobBoard[],
  wanted: ReadonlySet<string>,
  when: string,
): BoardNews {
  const known = boardsOfBook(entries);
  const last = new Map(entries.flatMap((e) => (e.kind === 'board' ? [[e.board, e] as const] : [])));
  const sheets = boards.filter((b) => !b.offCutOf);
  const named = (own: readonly JobBoard[]): { readonly b: JobBoard; readonly id: string }[] =>
    own.flatMap((b) => copiesOf(b).map((id) => ({ b, id }))).filter(({ id }) => wanted.has(id));
  const fresh = named(sheets.filter((b) => b.outline === undefined)).map(({ b, id }) =>
    boardEntry(b, id, when, last.get(id)?.defects !== undefined || (known.get(id)?.defects ?? []).length > 0),
  );
  return {
    entries: fresh.filter((e) => {
      const before = last.get(e.board);
      return before === undefined || said(before) !== said(e);
    }),
    notWhole: fresh.flatMap(({ board: id }) => {
      const state = known.get(id)?.state ?? 'whole';
      return state === 'whole' ? [] : [{ id, state }];
    }),
    noRectangles: named(sheets.filter((b) => b.outline !== undefined)).map(({ id }) => id),
  };
}
