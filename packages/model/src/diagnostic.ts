import type { Point } from '@haunch/geometry';

/** How grave a diagnostic is: an error means that the stage has no result. */
export type Level = 'error' | 'warning' | 'note';

/** The stage of the chain that speaks. */
export type Stage =
  | 'read'
  | 'features'
  | 'mates'
  | 'master'
  | 'job'
  | 'gauge'
  | 'ladder'
  | 'refit'
  | 'dryfit'
  | 'lay'
  | 'plan'
  | 'post'
  | 'nc'
  | 'prove'
  | 'write';

/** Where a diagnostic points: any of these that are known. */
export interface Locus {
  readonly file?: string;
  /** Line of the file or of the program, from 1. */
  readonly line?: number;
  /** Handle of a drawing entity. */
  readonly handle?: string;
  /** Place inside a JSON file, such as `parts[3].outline.segments[2].to`. */
  readonly path?: string;
  readonly part?: string;
  readonly feature?: string;
  readonly joint?: string;
  readonly board?: string;
  /** Place in the plane the stage works in, mm. */
  readonly at?: Point;
}

/** One thing to say about the user's input or job, in one plain sentence, with the place and a hint. */
export interface Diagnostic {
  readonly kind: 'diagnostic';
  /** Stable code such as `read/open-outline`; has a page in docs/diagnostics. */
  readonly code: string;
  readonly level: Level;
  readonly stage: Stage;
  readonly message: string;
  readonly locus: Locus;
  readonly hint: string;
}

/** A result with what was noticed on the way, or the errors that prevented it: `value` is present ⇔ no error. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly diagnostics: readonly Diagnostic[] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** A result, with the warnings and notes that go with it. */
export const ok = <T>(value: T, diagnostics: readonly Diagnostic[] = []): Outcome<T> => ({
  ok: true,
  value,
  diagnostics,
});

/**
 * A refusal.
 * @throws RangeError when no diagnostic is an error: a refusal must say why.
 */
export function fail<T>(...diagnostics: readonly Diagnostic[]): Outcome<T> {
  if (!diagnostics.some((d) => d.level === 'error')) throw new RangeError('fail: a refusal needs an error');
  return { ok: false, diagnostics };
}

/** `ok` or `fail`, whichever the collected diagnostics ask for. */
export const settle = <T>(value: T, diagnostics: readonly Diagnostic[]): Outcome<T> =>
  diagnostics.some((d) => d.level === 'error') ? { ok: false, diagnostics } : ok(value, diagnostics);

/** A maker of diagnostics for one stage; used only in each stage's `diagnostics.ts`. */
export const diagnosticsOf =
  (stage: Stage) =>
  (level: Level, code: string, message: string, locus: Locus, hint: string): Diagnostic => ({
    kind: 'diagnostic',
    code: `${stage}/${code}`,
    level,
    stage,
    message,
    locus,
    hint,
  });

/** A diagnostic as one or two lines of plain text: place, sentence, hint. */
export function formatDiagnostic(d: Diagnostic): string {
  const l = d.locus;
  const place = [
    l.file && (l.line === undefined ? l.file : `${l.file}:${l.line}`),
    !l.file && l.line !== undefined && `line ${l.line}`,
    l.path,
    l.board && `board ${l.board}`,
    l.part && `part ${l.part}`,
    l.feature && l.feature !== l.part && `feature ${l.feature}`,
    l.joint && `joint ${l.joint}`,
    l.handle && `entity ${l.handle}`,
    l.at && `at (${+l.at.x.toFixed(3)}, ${+l.at.y.toFixed(3)})`,
  ].filter(Boolean);
  const where = place.length > 0 ? `${place.join(', ')}: ` : '';
  return `${d.level}: ${where}${d.message} [${d.code}]${d.hint ? `\n  hint: ${d.hint}` : ''}`;
}
