import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Diagnostic } from '@haunch/model';
import { type LayoutProblem, readProblems, readProblemXml, withPublished } from '@haunch/nesting/trial';
import { UsageError } from '../exit.js';

/** A problem of the folder, and where it stands. */
export interface FoundProblem {
  readonly problem: LayoutProblem;
  /** Relative to the folder, with slashes. */
  readonly file: string;
  /** Which of the file's problems it is, from 0. */
  readonly index: number;
  /** SHA-256 of the instance as JSON. */
  readonly hash: string;
}

/** SHA-256 of a text, in hex. */
export const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

/** The problems of one file. */
export function problemsOf(folder: string, file: string) {
  const text = readFileSync(join(folder, file), 'utf8');
  const outcome = /\.xml$/i.test(file) ? readProblemXml(text, file) : readProblems(text, file);
  return outcome.ok ? { ...outcome, value: outcome.value.map(withPublished) } : outcome;
}

function filesBelow(folder: string): string[] {
  let stat: ReturnType<typeof statSync>;
  try {
    stat = statSync(folder);
  } catch {
    throw new UsageError(`${folder} is not there`);
  }
  if (!stat.isDirectory()) throw new UsageError(`${folder} is no folder`);
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile() && /\.(?:json|xml)$/i.test(e.name))
    .map((e) => relative(folder, join(e.parentPath, e.name)).replaceAll('\\', '/'))
    .sort();
}

/** Whether a name is among patterns in which `*` stands for anything; no patterns mean every name. */
export function isAmong(name: string, patterns: readonly string[]): boolean {
  const matches = (p: string): boolean =>
    new RegExp(`^${p.replace(/[.+?^${}()|[\]\\]/g, '\\$&').replaceAll('*', '.*')}$`, 'i').test(name);
  return patterns.length === 0 || patterns.some(matches);
}

/**
 * The problems of a folder and the folders in it, by name; those asked for. Files that cannot be read are reported
 * beside, unless problems are asked for by name and the file bears none of the names.
 * @throws UsageError when there is no such folder or nothing in it that was asked for.
 */
export function findProblems(
  folder: string,
  only: readonly string[],
): { readonly found: readonly FoundProblem[]; readonly diagnostics: readonly Diagnostic[] } {
  const found: FoundProblem[] = [];
  const diagnostics: Diagnostic[] = [];
  for (const file of filesBelow(folder)) {
    const outcome = problemsOf(folder, file);
    const stem = file.replace(/^.*\//, '').replace(/\.[^.]*$/, '');
    if (!outcome.ok) {
      if (isAmong(stem, only)) diagnostics.push(...outcome.diagnostics);
      continue;
    }
    outcome.value.forEach((problem, index) => {
      if (isAmong(problem.name, only))
        found.push({ problem, file, index, hash: sha256(JSON.stringify(problem.instance)) });
    });
  }
  if (found.length === 0 && diagnostics.length === 0)
    throw new UsageError(
      `${folder} holds no layout problem${only.length > 0 ? ` named ${only.join(', ')}` : ''}; .json and .xml files are looked at`,
    );
  const twice = found.find((a, i) => found.findIndex((b) => b.problem.name === a.problem.name) !== i);
  if (twice)
    throw new UsageError(`two problems are named ${twice.problem.name}; one of them is in ${twice.file}`);
  return { found, diagnostics };
}
