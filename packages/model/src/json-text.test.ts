import { expect, it } from 'vitest';
import { formatJsonPath, readJson } from './json-text.js';

it('leads from a path back to its line', () => {
  const read = readJson('{\n "a": [\n  1,\n  { "b\\"c": true }\n ]\n}');
  if ('problem' in read) throw new Error(read.problem);
  expect(read.lineOf(['a', 1, 'b"c'])).toBe(4);
  expect(read.lineOf(['a', 0])).toBe(3);
  expect(read.lineOf(['a', 1, 'missing'])).toBe(4);
  expect(read.lineOf([])).toBe(1);
});

it.each([
  ['{\n "a": 1,\n "b": }\n', 3],
  ['', 1],
  ['{\n "a": [1, 2\n', 3],
  ['{\n\n "a": 1e5x }', 3],
])('names the line of malformed text %j', (text, line) => {
  const read = readJson(text);
  expect(read).toMatchObject({ line });
});

it('writes a path as people read it', () =>
  expect(formatJsonPath(['parts', 3, 'outline', 'to'])).toBe('parts[3].outline.to'));
