/**
 * Seconds from 1970 of an ISO 8601 date and time with its offset, `2026-11-25T10:00:00.5+01:00` (days by the proleptic Gregorian
 * calendar: each year counted from March, so that the leap day comes last).
 * @throws RangeError when it is none.
 */
export function instantOf(when: string): number {
  const m = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?(Z|([+-])(\d\d):?(\d\d))$/.exec(when);
  if (!m) throw new RangeError(`instantOf: '${when}' is no date and time`);
  const [year, month, day, hour, minute] = m.slice(1, 6).map(Number) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const y = month > 2 ? year : year - 1;
  const fromMarch = (month + 9) % 12;
  const inYear = Math.floor((153 * fromMarch + 2) / 5) + day - 1;
  const days = 365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + inYear - 719_468;
  const offset = m[7] === 'Z' ? 0 : (m[8] === '-' ? -1 : 1) * (Number(m[9]) * 60 + Number(m[10]));
  return days * 86_400 + (hour * 60 + minute - offset) * 60 + Number(m[6] ?? 0);
}

/** Things in the order in which they happened; those of one instant stay as they stand. */
export const inOrderOfTime = <T extends { readonly when: string }>(entries: readonly T[]): T[] =>
  entries
    .map((entry, i) => ({ entry, i, at: instantOf(entry.when) }))
    .sort((a, b) => a.at - b.at || a.i - b.i)
    .map(({ entry }) => entry);
