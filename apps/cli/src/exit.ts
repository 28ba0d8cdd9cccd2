import { type Diagnostic, formatDiagnostic } from '@haunch/model';

/** Exit codes: done, refused, bad input or usage. */
export const DONE = 0;
export const REFUSED = 1;
export const BAD_INPUT = 2;

/** Stages whose errors mean that the input could not be understood, not that the work was refused. */
const INPUT_STAGES: ReadonlySet<string> = new Set(['read', 'master', 'job']);

/** The exit code that a set of errors asks for. */
export const exitCodeOf = (diagnostics: readonly Diagnostic[]): number =>
  diagnostics.some((d) => d.level === 'error' && INPUT_STAGES.has(d.stage)) ? BAD_INPUT : REFUSED;

/** Prints diagnostics to standard error, errors last so that they stand where the eye is. */
export function say(diagnostics: readonly Diagnostic[]): void {
  const rank = { note: 0, warning: 1, error: 2 };
  for (const d of [...diagnostics].sort((a, b) => rank[a.level] - rank[b.level]))
    process.stderr.write(`${formatDiagnostic(d)}\n`);
}

/** A fault in how the command was called: one sentence, exit code 2. */
export class UsageError extends Error {}
