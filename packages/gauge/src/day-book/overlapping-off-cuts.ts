import type { Point } from '@haunch/geometry';
import type { Diagnostic, Locus } from '@haunch/model';
import { offCutsOverlap } from '../diagnostics.js';
import { offCutInParent } from '../map/off-cut.js';
import { type BookBoard, boardsOfBook } from './boards-of-book.js';
import type { DayBookEntry } from './day-book-entry.js';
import { inOrderOfTime } from './instant.js';

/** Two off-cuts may overlap by this much, as both were measured with a tape. mm */
const TAPES = 2;

/** How far two rectangles reach into each other, the least along any of their sides; nothing or less where they lie apart. mm */
function overlap(a: readonly Point[], b: readonly Point[]): number {
  const sides = [a, b].flatMap((r) => [
    { from: r[0]!, to: r[1]! },
    { from: r[1]!, to: r[2]! },
  ]);
  const depths = sides.map(({ from, to }) => {
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const along = (p: Point): number => (p.x * (to.x - from.x) + p.y * (to.y - from.y)) / length;
    const [pa, pb] = [a.map(along), b.map(along)];
    return Math.min(Math.max(...pa), Math.max(...pb)) - Math.max(Math.min(...pa), Math.min(...pb));
  });
  return Math.min(...depths);
}

/** The names of the off-cuts that this one was cut from. */
function above(id: string, boards: ReadonlyMap<string, BookBoard>): ReadonlySet<string> {
  const names = new Set<string>();
  let parent = boards.get(id)?.offCut?.parent;
  while (parent !== undefined && !names.has(parent)) {
    names.add(parent);
    parent = boards.get(parent)?.offCut?.parent;
  }
  return names;
}

/**
 * What an off-cut of the day book has against others: those of the same sheet that are not gone and take up the same room (2 mm and
 * more), each by name. One that was cut from the other is none, nor one of a sheet whose name another sheet has taken over since.
 */
export function overlappingOffCuts(
  entries: readonly DayBookEntry[],
  id: string,
  locus: Locus = {},
): Diagnostic[] {
  const boards = boardsOfBook(entries);
  const own = boards.get(id);
  if (!own?.offCut) return [];
  const { sheet } = own.offCut;
  const ordered = inOrderOfTime(entries);
  const taken = ordered
    .map((e) => e.kind === 'board' && e.board === sheet && e.anew === true)
    .lastIndexOf(true);
  const since = new Set(ordered.slice(taken + 1).flatMap((e) => (e.kind === 'off-cut' ? [e.board] : [])));
  const room = (b: BookBoard): readonly Point[] => offCutInParent(b.width, b.height, b.offCut!.motion);
  return [...boards.values()].flatMap((other) => {
    if (other.id === id || other.offCut?.sheet !== sheet || other.state === 'gone') return [];
    if (!since.has(other.id) || above(id, boards).has(other.id) || above(other.id, boards).has(id)) return [];
    const depth = overlap(room(own), room(other));
    return depth > TAPES ? [offCutsOverlap(id, other.id, sheet, depth, locus)] : [];
  });
}
