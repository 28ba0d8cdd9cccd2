import { type Diagnostic, formatDiagnostic, gatherDiagnostics, shortPlace } from '@haunch/model';

/** Exit codes: done, refused, bad input or usage. */
export const DONE = 0;
export const REFUSED = 1;
export const BAD_INPUT = 2;

/** Stages whose errors mean that the input could not be understood, not that the work was refused. */
const INPUT_STAGES: ReadonlySet<string> = new Set(['read', 'features', 'master', 'job', 'gauge']);

/** Errors of other stages that find fault with what was typed: answers and hints that belong to nothing. */
const INPUT_CODES: ReadonlySet<string> = new Set([
  'mates/no-such-question',
  'mates/no-such-choice',
  'mates/answers-clash',
  'mates/no-such-edge',
  'mates/no-such-part',
]);

/** Errors of those stages that refuse the work all the same: what was typed is understood, and cannot be done. */
const REFUSAL_CODES: ReadonlySet<string> = new Set(['job/cutter-wider-than-slot']);

const isBadInput = ({ level, stage, code }: Diagnostic): boolean =>
  level === 'error' && !REFUSAL_CODES.has(code) && (INPUT_STAGES.has(stage) || INPUT_CODES.has(code));

/** The exit code that a set of errors asks for. */
export const exitCodeOf = (diagnostics: readonly Diagnostic[]): number =>
  diagnostics.some(isBadInput) ? BAD_INPUT : REFUSED;

/**
 * Prints diagnostics to standard error, errors last so that they stand where the eye is. Notes and warnings of
 * one kind are gathered after the second, errors where features of a board share the very sentence.
 */
export function say(diagnostics: readonly Diagnostic[]): void {
  const rank = { note: 0, warning: 1, error: 2 };
  const sorted = [...diagnostics].sort((a, b) => rank[a.level] - rank[b.level]);
  for (const { shown, rest } of gatherDiagnostics(sorted)) {
    for (const d of shown) process.stderr.write(`${formatDiagnostic(d)}\n`);
    const [first] = rest;
    if (first) {
      const places = [...new Set(rest.map(shortPlace).filter((p) => p !== ''))];
      process.stderr.write(
        `${first.level}: the same at ${rest.length} more places${
          places.length > 0
            ? `: ${places.slice(0, 40).join(', ')}${places.length > 40 ? ' …' : ''}`
            : ` (${rest
                .slice(0, 6)
                .map((d) => /'[^']+'/.exec(d.message)?.[0] ?? '')
                .filter(Boolean)
                .join(', ')})`
        } [${first.code}]\n`,
      );
    }
  }
}

/** A fault in how the command was called: one sentence, exit code 2. */
export class UsageError extends Error {}
