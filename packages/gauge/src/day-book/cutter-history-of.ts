import type { CutterHistory } from '../cutter/cutter-history.js';
import type { DayBookEntry } from './day-book-entry.js';
import { inOrderOfTime } from './instant.js';

/**
 * A cutter's history as the day book has it, in order of time: every sighting of its diameter, every ladder felt with it, and the
 * metres run since it was last ground or swapped. Metres of a sighting count from there; what was cut after it is added. A program
 * entered again adds only what it was cut more often than before.
 */
export function cutterHistoryOf(entries: readonly DayBookEntry[], cutter: string): CutterHistory {
  let [grinding, metres] = [0, 0];
  const sightings: CutterHistory['sightings'][number][] = [];
  const ladders: NonNullable<CutterHistory['ladders']>[number][] = [];
  const cutBefore = new Map<string, number>();
  for (const e of inOrderOfTime(entries)) {
    if (e.kind === 'cut') {
      const before = e.program === null ? 0 : (cutBefore.get(e.program) ?? 0);
      if (e.program !== null) cutBefore.set(e.program, Math.max(before, e.times));
      const more = Math.max(0, e.times - before);
      for (const run of e.runs) if (run.cutter === cutter) metres += more * run.metres;
    } else if (!('cutter' in e) || e.cutter !== cutter) continue;
    else if (e.kind === 'cutter') {
      grinding = e.grinding;
      metres = e.metres;
      sightings.push({ metres: e.metres, diameter: e.diameter, u: e.u, grinding: e.grinding });
    } else if (e.kind === 'ran') metres += e.metres;
    else if (e.kind === 'ground') [grinding, metres] = [e.grinding, 0];
    else if (e.kind === 'ladder') {
      // A ladder felt after grinding is the first that the book hears of it: metres count anew.
      if (e.grinding > grinding) [grinding, metres] = [e.grinding, 0];
      ladders.push({ metres, grinding: e.grinding });
    }
  }
  return { id: cutter, grinding, metres, sightings, ladders };
}

/** How often a program was cut, by the book. */
export const timesCut = (entries: readonly DayBookEntry[], program: string): number =>
  entries.reduce((n, e) => (e.kind === 'cut' && e.program === program ? Math.max(n, e.times) : n), 0);
