import { posix } from 'node:path';
import type { SourceFile } from './source-file.js';

/** The layer of each package: an import goes only to a lower one. */
export const LAYERS: Readonly<Record<string, number>> = {
  geometry: 0,
  model: 1,
  drawing: 2,
  gauge: 2,
  joinery: 2,
  nesting: 2,
  nc: 2,
  planner: 3,
  proof: 3,
  'post-iso6983': 3,
  'post-linear': 3,
  'post-rs274ngc': 3,
  testkit: 3,
  job: 4,
  cli: 5,
  web: 5,
  bench: 5,
};

/** Files that may use Node's own modules: apps, and the file output of the job package. */
const mayUseNode = (path: string): boolean =>
  path.startsWith('apps/') || path.startsWith('packages/job/src/node/');

const packageOf = (path: string): string => path.split('/')[1] ?? '';

/** The file that a relative import names, if it is one of ours. */
function resolve(from: string, specifier: string, known: ReadonlySet<string>): string | undefined {
  const base = posix.join(posix.dirname(from), specifier).replace(/\.js$/, '');
  return [`${base}.ts`, `${base}.tsx`, `${base}/index.ts`].find((p) => known.has(p));
}

/** Every breach of the layer rules, one sentence each; empty when the house is in order. */
export function layerProblems(files: readonly SourceFile[]): string[] {
  const known = new Set(files.map((f) => f.path));
  const problems: string[] = [];
  for (const { path, imports } of files) {
    const own = packageOf(path);
    const layer = LAYERS[own];
    if (layer === undefined) problems.push(`${path}: package '${own}' has no layer`);
    for (const specifier of imports) {
      if (/^(node:|fs$|path$|os$|url$|worker_threads$)/.test(specifier) && !mayUseNode(path))
        problems.push(`${path}: imports ${specifier} in a headless package`);
      if (specifier.startsWith('.')) {
        const target = resolve(path, specifier, known);
        if (target && packageOf(target) !== own)
          problems.push(`${path}: reaches into ${target} past its package's door`);
        continue;
      }
      const [, other] = /^@haunch\/([^/]+)/.exec(specifier) ?? [];
      if (other === undefined || layer === undefined) continue;
      const theirs = LAYERS[other];
      if (theirs === undefined) problems.push(`${path}: imports ${specifier}, which has no layer`);
      else if (other === own) problems.push(`${path}: imports its own package by name`);
      else if (theirs === layer) problems.push(`${path}: imports its sibling ${specifier}`);
      else if (theirs > layer) problems.push(`${path}: imports ${specifier} from above`);
    }
  }
  return problems;
}

/** Every cycle of imports between files, as a chain of paths. */
export function cycles(files: readonly SourceFile[]): string[] {
  const known = new Set(files.map((f) => f.path));
  const edges = new Map(
    files.map((f) => [
      f.path,
      f.imports.flatMap((s) => {
        if (s.startsWith('.')) return resolve(f.path, s, known) ?? [];
        const [, other, sub] = /^@haunch\/([^/]+)(?:\/(.+))?$/.exec(s) ?? [];
        const door =
          other &&
          [`packages/${other}/src/${sub ? `${sub}/` : ''}index.ts`, `packages/${other}/src/index.ts`].find(
            (p) => known.has(p),
          );
        return door ? [door] : [];
      }),
    ]),
  );
  const state = new Map<string, 'open' | 'done'>();
  const found: string[] = [];
  const stack: string[] = [];
  const visit = (path: string): void => {
    if (state.get(path) === 'done') return;
    if (state.get(path) === 'open') {
      found.push([...stack.slice(stack.indexOf(path)), path].join(' → '));
      return;
    }
    state.set(path, 'open');
    stack.push(path);
    for (const next of edges.get(path) ?? []) visit(next);
    stack.pop();
    state.set(path, 'done');
  };
  for (const f of files) visit(f.path);
  return found;
}

/** What the judges may not lean on: the reader on the writer, the proof on what made the program, the referee on strategies. */
export function independenceProblems(files: readonly SourceFile[]): string[] {
  const known = new Set(files.map((f) => f.path));
  const problems: string[] = [];
  const forbid = (where: RegExp, what: (target: string, specifier: string) => boolean, why: string) => {
    for (const f of files)
      if (where.test(f.path))
        for (const s of f.imports)
          if (what(resolve(f.path, s, known) ?? '', s)) problems.push(`${f.path}: imports ${s}: ${why}`);
  };
  forbid(
    /^packages\/nc\/src\/read\//,
    (t) =>
      t.startsWith('packages/nc/src/') &&
      !t.startsWith('packages/nc/src/read/') &&
      !t.endsWith('/diagnostics.ts'),
    'the reader shares nothing with the writer',
  );
  forbid(
    /^packages\/proof\/src\//,
    (_, s) => s.startsWith('@haunch/') && !/^@haunch\/(geometry|model|nc\/read)$/.test(s),
    'the proof knows only the text',
  );
  forbid(
    /^packages\/nesting\/src\/(check|referee|score)/,
    (t) => t.includes('/strategies/'),
    'the referee knows no strategy',
  );
  return problems;
}
