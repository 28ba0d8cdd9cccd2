import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { PAPER_FILES } from '@haunch/job/paper';
import { UsageError } from './exit.js';

/** Reads a file that the command names. @throws UsageError with a plain sentence. */
export function readInput(path: string): Uint8Array {
  try {
    if (statSync(path).isDirectory()) throw new UsageError(`${path} is a folder, not a file`);
    return readFileSync(path);
  } catch (e) {
    if (e instanceof UsageError) throw e;
    throw new UsageError(
      `${path} cannot be read: ${e instanceof Error && 'code' in e && e.code === 'ENOENT' ? 'there is no such file' : String((e as Error).message)}`,
    );
  }
}

/** Reads files named relative to another file; undefined when one is not there. */
export const besideFile =
  (file: string) =>
  (name: string): Uint8Array | undefined => {
    const path = resolve(dirname(file), name);
    return existsSync(path) && statSync(path).isFile() ? readFileSync(path) : undefined;
  };

function writeTemporary(path: string, text: string | Uint8Array): string {
  mkdirSync(dirname(path), { recursive: true });
  const temporary = `${path}.part`;
  writeFileSync(temporary, text);
  return temporary;
}

/** Writes one file: to a temporary name, then renamed. @throws UsageError when it exists and may not be replaced. */
export function writeOutput(path: string, text: string, replace: boolean): void {
  if (existsSync(path) && !replace) throw new UsageError(`${path} exists already; --replace overwrites it`);
  try {
    renameSync(writeTemporary(path, text), path);
  } catch (e) {
    throw new UsageError(`${path} cannot be written: ${(e as Error).message}`);
  }
}

interface EarlierReport {
  readonly format?: unknown;
  readonly boards?: readonly {
    readonly program: string;
    readonly programs?: readonly { readonly file: string }[];
    readonly layout: string;
  }[];
  readonly parts?: readonly { readonly file: string }[];
}

/** The files that an earlier `haunch make` wrote into a folder, by its report; null when there was none. */
function madeBefore(folder: string): string[] | null {
  try {
    const report = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8')) as EarlierReport;
    if (report.format !== 'haunch-report') return null;
    const files = [
      ...(report.boards ?? []).flatMap((b) => [
        ...(b.programs?.map((p) => p.file) ?? [b.program]).flatMap((file) => [
          file,
          file.replace(/^programs(.*\.)[^.]*$/, 'replays$1html'),
        ]),
        b.layout,
        b.layout.replace(/dxf$/, 'svg'),
        b.layout.replace(/dxf$/, 'order.svg'),
      ]),
      ...(report.parts ?? []).map((p) => p.file),
    ];
    // Only names that haunch gives; a report that was tampered with must not name others.
    return [...files.filter((f) => /^(programs|layouts|replays|parts)\/[^/\\]+$/.test(f)), ...PAPER_FILES];
  } catch {
    return null;
  }
}

/**
 * Makes sure, before any work, that a folder can be written: it, or the nearest folder above it that is there. Leaves nothing behind.
 * @throws UsageError with a plain sentence.
 */
export function assertWritable(folder: string): void {
  let there = resolve(folder);
  while (!existsSync(there) && dirname(there) !== there) there = dirname(there);
  if (!statSync(there).isDirectory())
    throw new UsageError(`${folder} cannot be written: ${there} is a file, not a folder`);
  const trial = join(there, `.haunch-${process.pid}.part`);
  try {
    writeFileSync(trial, '');
    rmSync(trial, { force: true });
  } catch (e) {
    throw new UsageError(`${folder} cannot be written: ${(e as Error).message}`);
  }
}

/**
 * Writes a set of files below a folder: all to temporary names first, then renamed, so that a fault leaves the
 * folder as it was. Files of an earlier make are replaced, or removed when this one does not write them; any
 * other file of the same name is not touched. With `alone` nothing is removed: the files join those of an earlier make.
 * @returns how many files were replaced and removed.
 * @throws UsageError when something stands in the way; nothing is changed then.
 */
export function writeFolder(
  folder: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  replace: boolean,
  { alone = false }: { readonly alone?: boolean } = {},
): { readonly replaced: number; readonly removed: number } {
  const earlier = madeBefore(folder);
  const there = [...files.keys()].filter((name) => existsSync(join(folder, name)));
  if (there.length > 0 && !replace && earlier === null)
    throw new UsageError(
      `${join(folder, there[0]!)} exists already and was not written by haunch; choose another folder or give --replace`,
    );
  const temporaries: string[] = [];
  try {
    for (const [name, text] of files) temporaries.push(writeTemporary(join(folder, name), text));
  } catch (e) {
    for (const t of temporaries) rmSync(t, { force: true });
    throw new UsageError(`${folder} cannot be written: ${(e as Error).message}`);
  }
  for (const t of temporaries) renameSync(t, t.slice(0, -'.part'.length));
  // A program of an earlier make that this one does not write again would be taken for a current one.
  const stale = alone
    ? []
    : (earlier ?? []).filter((name) => !files.has(name) && existsSync(join(folder, name)));
  for (const name of stale) rmSync(join(folder, name), { force: true });
  return { replaced: there.length, removed: stale.length };
}
