import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

/** The repository's root folder. */
export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** A source file as the architecture rules see it: its path from the root and what it imports. */
export interface SourceFile {
  readonly path: string;
  readonly imports: readonly string[];
}

/** Everything that a file imports: values, types, re-exports, `import()` expressions and `import()` types. */
export function importsOf(path: string, text: string): string[] {
  const file = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier)
      found.push((node.moduleSpecifier as ts.StringLiteral).text);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [argument] = node.arguments;
      if (argument && ts.isStringLiteralLike(argument)) found.push(argument.text);
    } else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument))
      found.push((node.argument.literal as ts.StringLiteral).text);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

/** All files below a folder that a predicate takes, as paths from the root with forward slashes. */
export function filesBelow(folder: string, take: (path: string) => boolean): string[] {
  const out: string[] = [];
  const walk = (at: string): void => {
    for (const name of readdirSync(at).sort()) {
      if (name === 'node_modules' || name === 'dist' || name === '.turbo') continue;
      const path = join(at, name);
      if (statSync(path).isDirectory()) walk(path);
      else {
        const rel = relative(ROOT, path).replaceAll('\\', '/');
        if (take(rel)) out.push(rel);
      }
    }
  };
  walk(join(ROOT, folder));
  return out;
}

/** The shipped sources of all packages and apps (tests left out), with their imports. */
export const shippedSources = (): SourceFile[] =>
  ['packages', 'apps']
    .flatMap((folder) =>
      filesBelow(folder, (p) => /\/src\/.*\.tsx?$/.test(p) && !/\.test\.tsx?$|\.d\.ts$/.test(p)),
    )
    .map((path) => ({ path, imports: importsOf(path, readFileSync(join(ROOT, path), 'utf8')) }));
