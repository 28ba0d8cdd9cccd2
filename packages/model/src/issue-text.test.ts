import { expect, it } from 'vitest';
import { z } from 'zod';
import { issueText, type SchemaIssue } from './issue-text.js';

const said = (schema: z.ZodType, value: unknown): string =>
  issueText(schema.safeParse(value).error!.issues[0]! as SchemaIssue);

it('says what is missing and what stands in its place', () => {
  expect(said(z.string(), undefined)).toBe('a value is missing here: expected string');
  expect(said(z.string(), 3)).toBe('expected string here instead of number');
});

it('names each form that a value may take', () =>
  expect(said(z.union([z.string(), z.number()]), true)).toBe(
    'expected string here instead of boolean; or expected number here instead of boolean',
  ));

it('lets the form speak that understood the value', () =>
  expect(said(z.union([z.strictObject({}), z.string().regex(/mm$/, 'not a length')]), '17,7')).toBe(
    'not a length',
  ));

it('says which kinds there are, and how many are needed, without words of the library', () => {
  const kinds = z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('board') }),
    z.object({ kind: z.literal('cut') }),
  ]);
  expect(said(kinds, { kind: 'bread' })).toBe("expected one of 'board', 'cut' here");
  expect(said(z.array(z.number()).min(2), [1])).toBe('fewer stand here than the 2 that are needed');
  expect(said(z.array(z.number()).max(1), [1, 2])).toBe('more stand here than the 1 that may');
});
