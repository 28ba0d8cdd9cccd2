import type { CutterHistory } from '../cutter/cutter-history.js';
import type { DayBookEntry } from './day-book-entry.js';

/**
 * A cutter's history as the day book has it: every sighting of its diameter, every ladder felt with it, and the metres run since its last grinding.
 * Metres of a sighting count from the grinding; cuts after the last sighting are added to it.
 */
export function cutterHistoryOf(entries: readonly DayBookEntry[], cutter: string): CutterHistory {
  const own = entries.filter(
    (e) => (e.kind === 'cutter' || e.kind === 'cut' || e.kind === 'ladder') && e.cutter === cutter,
  );
  let [grinding, metres] = [0, 0];
  const sightings: CutterHistory['sightings'][number][] = [];
  const ladders: NonNullable<CutterHistory['ladders']>[number][] = [];
  for (const e of own) {
    if (e.kind === 'cutter') {
      grinding = e.grinding;
      metres = e.metres;
      sightings.push({ metres: e.metres, diameter: e.diameter, u: e.u, grinding: e.grinding });
    } else if (e.kind === 'cut') metres += e.metres;
    else if (e.kind === 'ladder') {
      // A ladder felt after grinding is the first that the book hears of it: metres count anew.
      if (e.grinding > grinding) [grinding, metres] = [e.grinding, 0];
      ladders.push({ metres, grinding: e.grinding });
    }
  }
  return { id: cutter, grinding, metres, sightings, ladders };
}
