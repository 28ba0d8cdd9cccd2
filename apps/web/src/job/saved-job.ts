import type { History } from './history.js';

/** A job as the browser keeps it, with its steps. */
export interface SavedJob {
  readonly format: 'haunch-saved-job';
  readonly version: 1;
  readonly history: History;
}

/** What was found in the browser's store. */
export type Found =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'job'; readonly history: History }
  /** Kept by another version of this page; set aside untouched. */
  | { readonly kind: 'stale'; readonly record: unknown };

const isStep = (s: unknown): boolean => {
  const document = (s as { document?: { id?: unknown; text?: unknown; sources?: unknown } } | null)?.document;
  return (
    typeof document?.id === 'string' &&
    typeof document.text === 'string' &&
    typeof document.sources === 'object' &&
    document.sources !== null &&
    Object.values(document.sources).every((b) => b instanceof Blob)
  );
};

/** Judges a record of the browser's store: only one that is whole, and of this version, is opened. */
export function readSavedJob(record: unknown): Found {
  if (record === undefined || record === null) return { kind: 'nothing' };
  const { format, version, history } = record as Partial<SavedJob>;
  const steps = history ? [history.now, ...(history.past ?? []), ...(history.future ?? [])] : [];
  const whole = format === 'haunch-saved-job' && version === 1 && steps.length > 0 && steps.every(isStep);
  if (!whole) return { kind: 'stale', record };
  try {
    JSON.parse(history!.now.document.text);
  } catch {
    return { kind: 'stale', record };
  }
  return { kind: 'job', history: history! };
}

/** A record for the browser's store. */
export const savedJob = (history: History): SavedJob => ({ format: 'haunch-saved-job', version: 1, history });

/** A stale record as text for a file: what it holds is readable with any editor. */
export const staleAsText = async (record: unknown): Promise<string> => {
  const plain = async (v: unknown): Promise<unknown> => {
    if (v instanceof Blob) return v.text();
    if (Array.isArray(v)) return Promise.all(v.map(plain));
    if (typeof v === 'object' && v !== null)
      return Object.fromEntries(
        await Promise.all(Object.entries(v).map(async ([k, x]) => [k, await plain(x)] as const)),
      );
    return v;
  };
  return `${JSON.stringify(await plain(record), null, 1)}\n`;
};
