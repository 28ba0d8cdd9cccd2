import type { Diagnostic } from './diagnostic.js';

/** So many of one kind are said whole; the rest are counted with their places. */
const ALIKE = 2;

/** Diagnostics of one kind: those that are said whole, and the rest, of which their places are enough. */
export interface GatheredDiagnostics {
  readonly shown: readonly Diagnostic[];
  readonly rest: readonly Diagnostic[];
}

/** What a diagnostic has in common with others. An error's sentence holds figures that nobody may miss: only the very same one, of features on one board, is like it. */
const kindOf = ({ level, code, message, hint, locus }: Diagnostic, alone: number): string => {
  if (level !== 'error') return `${level} ${code}`;
  return locus.feature === undefined || locus.line !== undefined
    ? String(alone)
    : JSON.stringify([code, message, hint, locus.board]);
};

/**
 * Notes and warnings of one code, and errors of features that say the very same, gathered after the second, in the order of the first of each;
 * a rest of one alone is said whole, as is every other error.
 */
export function gatherDiagnostics(diagnostics: readonly Diagnostic[]): GatheredDiagnostics[] {
  const kinds = new Map<string, Diagnostic[]>();
  for (const d of diagnostics) {
    const kind = kindOf(d, kinds.size);
    kinds.set(kind, [...(kinds.get(kind) ?? []), d]);
  }
  return [...kinds.values()].map((alike) => {
    const whole = alike.length > ALIKE + 1 ? ALIKE : alike.length;
    return { shown: alike.slice(0, whole), rest: alike.slice(whole) };
  });
}

/** The shortest name of where a diagnostic is, for a list of such places; empty where it has none. */
export const shortPlace = ({ locus }: Diagnostic): string =>
  locus.feature ??
  locus.joint ??
  locus.part ??
  locus.board ??
  (locus.line === undefined ? '' : `line ${locus.line}`);
