import { type CutterHistory, cutterHistoryOf, type DayBookEntry, diameterNow } from '@haunch/gauge';
import type { Job } from '../job.js';

const times = (n: number): string => `${n} time${n === 1 ? '' : 's'}`;

/** What the day book says of a cutter now, in a sentence. */
export function cutterInWords(entries: readonly DayBookEntry[], id: string, nominal?: number): string {
  const history = cutterHistoryOf(entries, id);
  const run = `${history.metres.toFixed(1)} m run${history.grinding > 0 ? ` since it was ground or swapped (${times(history.grinding)})` : ''}`;
  const known = diameterNow(history, nominal === undefined ? {} : { nominal });
  if (!known.ok) return `${id}: ${run}; ${known.diagnostics[0]!.message}`;
  const { diameter, u, metresLeft } = known.value;
  return `${id}: ${run}; ${diameter.toFixed(3)} ± ${(2 * u).toFixed(3)} mm; ${Math.floor(metresLeft)} m until its next ladder`;
}

/**
 * The past of a job's router by the day book; where the book never heard of it, the ladder that was felt for this very job is its first. One
 * that was ground or swapped was heard of: the job's ladder may be of its edge before.
 */
export function routerPast(job: Job, entries: readonly DayBookEntry[]): CutterHistory {
  const history = cutterHistoryOf(entries, job.router.id);
  const unheard =
    history.grinding === 0 && history.sightings.length === 0 && (history.ladders ?? []).length === 0;
  return unheard && job.ladder.kind === 'felt'
    ? { ...history, ladders: [{ metres: 0, grinding: history.grinding }] }
    : history;
}
