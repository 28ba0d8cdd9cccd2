import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('..', import.meta.url));

/** Words for people that stand in a component instead of the catalogue: text between tags, and what is read out or shown by attributes. */
function wordsIn(path: string, source: string): string[] {
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.ES2022, true, ts.ScriptKind.TSX);
  const found: string[] = [];
  const letters = (s: string): boolean => /[a-z]{2}/i.test(s);
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && letters(node.text)) found.push(`${path}: ${node.text.trim()}`);
    if (
      ts.isJsxAttribute(node) &&
      /^(?:aria-label|title|alt|placeholder|label|says|head|hint)$/.test(node.name.getText()) &&
      node.initializer &&
      ts.isStringLiteral(node.initializer) &&
      letters(node.initializer.text)
    )
      found.push(`${path}: ${node.initializer.text}`);
    if (
      ts.isJsxExpression(node) &&
      node.expression &&
      ts.isStringLiteralLike(node.expression) &&
      !ts.isJsxAttribute(node.parent) &&
      letters(node.expression.text)
    )
      found.push(`${path}: ${node.expression.text}`);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

it('holds every word of the page: none stands in a component', () => {
  const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.tsx'));
  expect(files.length).toBeGreaterThan(15);
  expect(files.flatMap((f) => wordsIn(f, readFileSync(`${SRC}${f}`, 'utf8')))).toEqual([]);
});

it.each([
  'export const A = () => <p>Some words</p>;',
  'export const A = () => <button aria-label="Some words" />;',
  "export const A = () => <p>{'Some words'}</p>;",
])('would find words in %s', (source) => expect(wordsIn('a.tsx', source)).toHaveLength(1));
