import { cutterHistoryOf, type DayBookEntry, diameterNow } from '@haunch/gauge';

/** Prints a line of the answer. */
export const line = (text = ''): void => void process.stdout.write(`${text}\n`);

export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** What the day book says of a cutter now, in a sentence. */
export function cutterWords(entries: readonly DayBookEntry[], id: string, nominal?: number): string {
  const history = cutterHistoryOf(entries, id);
  const run = `${history.metres.toFixed(1)} m run${history.grinding > 0 ? ` since it was ground or swapped (${counted(history.grinding, 'time')})` : ''}`;
  const known = diameterNow(history, nominal === undefined ? {} : { nominal });
  if (!known.ok) return `${id}: ${run}; ${known.diagnostics[0]!.message}`;
  const { diameter, u, metresLeft } = known.value;
  return `${id}: ${run}; ${diameter.toFixed(3)} ± ${(2 * u).toFixed(3)} mm; ${Math.floor(metresLeft)} m until its next ladder`;
}

/** A list of names in a sentence, or what to say when there is none. */
export const named = (names: readonly string[], none: string): string =>
  names.length === 0 ? none : names.slice(0, 12).join(', ') + (names.length > 12 ? ' …' : '');
