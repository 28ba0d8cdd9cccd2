import { type BoardMotion, composeMotion } from '../map/inherit-map.js';
import type { ThicknessReading } from '../map/thickness-reading.js';
import type { DayBookEntry } from './day-book-entry.js';
import { inOrderOfTime } from './instant.js';

/** A board or off-cut as the day book knows it. mm, radians. */
export interface BookBoard {
  readonly id: string;
  readonly stock: string;
  readonly width: number;
  readonly height: number;
  /** When it was entered last. */
  readonly when: string;
  readonly gone: boolean;
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

/**
 * The boards and off-cuts of a day book by id, each as entered last; an off-cut speaks with the readings that its sheet had when it
 * was entered. What was entered as gone stays, marked so, until it is entered anew. Off-cuts of an unknown board are left out.
 */
export function boardsOfBook(entries: readonly DayBookEntry[]): ReadonlyMap<string, BookBoard> {
  const known = new Map<string, BookBoard>();
  for (const e of inOrderOfTime(entries)) {
    if (e.kind === 'board') {
      const { stock, width, height, when } = e;
      known.set(e.board, {
        id: e.board,
        stock,
        width,
        height,
        when,
        gone: false,
        offCut: null,
        readings: e.readings.map(reading),
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
        when: e.when,
        gone: false,
        offCut: {
          parent: e.parent,
          sheet: above?.sheet ?? parent.id,
          sheetWidth: above?.sheetWidth ?? parent.width,
          sheetHeight: above?.sheetHeight ?? parent.height,
          motion: above ? composeMotion(above.motion, e.motion) : e.motion,
        },
        readings: parent.readings,
      });
    } else if (e.kind === 'gone') {
      const there = known.get(e.board);
      if (there) known.set(e.board, { ...there, gone: true });
    }
  }
  return known;
}
