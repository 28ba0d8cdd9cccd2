import { keep, take } from '../job/browser-store.js';
import type { ShownResult } from './shown-wire.js';
import type { MadeResult } from './wire.js';

/** A result as the browser keeps it over a reload: what the page shows, the files, and what screens draw. */
interface KeptResult {
  readonly format: 'haunch-kept-result';
  readonly version: 4;
  readonly result: MadeResult;
  readonly files: Readonly<Record<string, Blob>>;
  readonly shown: ShownResult;
}

let latest: KeptResult | null = null;

const isKept = (v: unknown): v is KeptResult => {
  const { format, version } = (v ?? {}) as Partial<KeptResult>;
  return format === 'haunch-kept-result' && version === 4;
};

/** Keeps a result here and in the browser's store. Without room in that, it lasts as long as the page. */
export async function keepResult(
  result: MadeResult,
  files: ReadonlyMap<string, string>,
  shown: ShownResult,
): Promise<void> {
  latest = {
    format: 'haunch-kept-result',
    version: 4,
    result,
    files: Object.fromEntries([...files].map(([path, text]) => [path, new Blob([text])])),
    shown,
  };
  await keep('result', latest).catch(() => undefined);
}

/** Adds files to a result that is kept. */
export async function addFiles(
  document: string,
  files: ReadonlyMap<string, string | Uint8Array>,
): Promise<void> {
  const kept = await recallResult(document);
  if (kept?.result.document !== document) return;
  const more = [...files].map(([path, content]) => [
    path,
    new Blob([typeof content === 'string' ? content : Uint8Array.from(content)]),
  ]);
  latest = { ...kept, files: { ...kept.files, ...Object.fromEntries(more) } };
  await keep('result', latest).catch(() => undefined);
}

/** The latest result, of this page or of the one before a reload; where the other worker made one since, that of the state asked for. */
export async function recallResult(document?: string): Promise<KeptResult | null> {
  if (latest && (document === undefined || latest.result.document === document)) return latest;
  const kept = await take('result').catch(() => undefined);
  // One of an older page is of no use: it is made again from the job.
  if (isKept(kept)) latest = kept;
  return latest;
}
