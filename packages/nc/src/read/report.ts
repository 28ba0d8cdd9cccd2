import type { Diagnostic } from '@haunch/model';
import { lineLocus } from './cursor.js';
import { moreOfThem } from './diagnostics.js';

/** How many diagnostics of one code are kept; the rest is counted. */
const KEPT = 50;

/** The diagnostics of a reading: the first fifty of each code. */
export interface Report {
  readonly file: string | undefined;
  readonly kept: Diagnostic[];
  readonly counts: Map<string, number>;
}

export const newReport = (file: string | undefined): Report => ({ file, kept: [], counts: new Map() });

export function add(r: Report, d: Diagnostic): void {
  const count = (r.counts.get(d.code) ?? 0) + 1;
  r.counts.set(d.code, count);
  if (count <= KEPT) r.kept.push(d);
}

/** As `add`, but only the first of its code. */
export function addOnce(r: Report, d: Diagnostic): void {
  if (!r.counts.has(d.code)) add(r, d);
}

/** The diagnostics in the order in which they were met, and one note for each code that overflowed. */
export const closeReport = (r: Report, line: number): Diagnostic[] => [
  ...r.kept,
  ...[...r.counts]
    .filter(([, n]) => n > KEPT)
    .map(([code, n]) => moreOfThem(lineLocus(r.file, line), code, n - KEPT)),
];
