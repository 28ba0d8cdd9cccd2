import { type BoardMotion, composeMotion } from '../map/inherit-map.js';
import type { ThicknessReading } from '../map/thickness-reading.js';
import { type BookDefect, defectsOnOffCut } from './book-defects.js';
import type { DayBookEntry } from './day-book-entry.js';
import { inOrderOfTime } from './instant.js';

/** A board or off-cut as the day book knows it. mm, radians. */
export interface BookBoard {
  readonly id: string;
  readonly stock: string;
  readonly width: number;
  readonly height: number;
  /** Along which of its own edges the grain of its faces runs: of an off-cut, as that of its sheet runs across it. */
  readonly grain: 'x' | 'y' | 'none';
  /** When it was entered last. */
  readonly when: string;
  /** Whether it is as it was entered, a program was cut from it since, or it is used up. */
  readonly state: 'whole' | 'cut' | 'gone';
  /** Of an off-cut: the board it was cut from, and the sheet at the beginning of that chain, with where it lay in it. */
  readonly offCut: {
    readonly parent: string;
    readonly sheet: string;
    readonly sheetWidth: number;
    readonly sheetHeight: number;
    readonly motion: BoardMotion;
  } | null;
  /** Readings of the board, or of the sheet that an off-cut comes from, in that one's coordinates. */
  readonly readings: readonly ThicknessReading[];
  /** Its flaws, in its own coordinates: of an off-cut, those of its board that lie in it. */
  readonly defects: readonly BookDefect[];
}

const reading = (r: {
  readonly thickness: number;
  readonly at?: { readonly x: number; readonly y: number } | undefined;
  readonly repeatability?: number | undefined;
}): ThicknessReading => ({
  thickness: r.thickness,
  ...(r.at === undefined ? {} : { at: r.at }),
  ...(r.repeatability === undefined ? {} : { repeatability: r.repeatability }),
});

/** A sheet's grain as it runs on an off-cut that was turned: the nearer of its two edges. */
const acrossTurn = (grain: BookBoard['grain'], { turn }: BoardMotion): BookBoard['grain'] =>
  grain === 'none' || Math.abs(Math.cos(turn)) >= Math.SQRT1_2 ? grain : grain === 'x' ? 'y' : 'x';

/** Measuring a board again makes it no more whole than it was. */
const stateOf = (
  { anew }: { readonly anew?: boolean | undefined },
  before: BookBoard | undefined,
): BookBoard['state'] => (anew === true ? 'whole' : (before?.state ?? 'whole'));

/**
 * The boards and off-cuts of a day book by id, each as entered last; an off-cut speaks with the readings that its sheet had when it
 * was entered. What was cut from, or entered as gone, stays, marked so: measured again it is no less cut; only an entry that says `anew`
 * is another board under the old name. Off-cuts of an unknown board are
 * left out.
 */
export function boardsOfBook(entries: readonly DayBookEntry[]): ReadonlyMap<string, BookBoard> {
  const known = new Map<string, BookBoard>();
  for (const e of inOrderOfTime(entries)) {
    if (e.kind === 'board') {
      const { stock, width, height, when, grain = 'x' } = e;
      const before = known.get(e.board);
      known.set(e.board, {
        id: e.board,
        stock,
        width,
        height,
        grain,
        when,
        state: stateOf(e, before),
        offCut: null,
        readings: e.readings.map(reading),
        // Whoever only measures again does not say that its flaws are gone.
        defects: e.defects ?? (e.anew ? [] : (before?.defects ?? [])),
      });
    } else if (e.kind === 'off-cut') {
      const parent = known.get(e.parent);
      if (!parent) continue;
      const above = parent.offCut;
      known.set(e.board, {
        id: e.board,
        stock: parent.stock,
        width: e.width,
        height: e.height,
        grain: acrossTurn(parent.grain, e.motion),
        when: e.when,
        state: stateOf(e, known.get(e.board)),
        offCut: {
          parent: e.parent,
          sheet: above?.sheet ?? parent.id,
          sheetWidth: above?.sheetWidth ?? parent.width,
          sheetHeight: above?.sheetHeight ?? parent.height,
          motion: above ? composeMotion(above.motion, e.motion) : e.motion,
        },
        readings: parent.readings,
        defects: defectsOnOffCut(parent.defects, e.motion, e),
      });
    } else if (e.kind === 'gone') {
      const there = known.get(e.board);
      if (there) known.set(e.board, { ...there, state: 'gone' });
    } else if (e.kind === 'cut') {
      const there = known.get(e.board);
      if (there?.state === 'whole') known.set(e.board, { ...there, state: 'cut' });
    }
  }
  return known;
}
