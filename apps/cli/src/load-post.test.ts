import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { UsageError } from './exit.js';
import { postsFor } from './load-post.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'haunch-post-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const DIALECT = `{
  name: 'ours', extension: 'nc', unit: 'mm', decimals: 3, feedDecimals: 0, modal: true, lineNumbers: null,
  blockLength: 80, comments: null,
  arcs: { form: 'centre', centre: 'incremental', greatestSweep: 3, helix: false, chordTolerance: 0.01 },
}`;
const post = (changes = ''): string => `export const post = (options) => ({
  name: 'ours', contract: 1, dialect: ${DIALECT},
  start: () => [], move: () => [], end: () => [{ words: [{ letter: 'M', value: options.end ?? 30, integer: true }] }],
  ${changes}
});`;

/** Puts a package beside a job and asks for its post. */
async function found(name: string, code: string) {
  const at = join(folder, 'node_modules', name);
  mkdirSync(at, { recursive: true });
  writeFileSync(join(at, 'package.json'), JSON.stringify({ name, type: 'module', exports: './index.js' }));
  writeFileSync(join(at, 'index.js'), code);
  const posts = await postsFor(JSON.stringify({ machine: { post: name } }), join(folder, 'job.json'));
  return posts[name]!;
}
const context = { board: 'b', title: 't', dialect: {} } as never;
const state = {} as never;

it('finds a post by the name of its package, from the folder of the job, and gives it its options', async () => {
  const made = (await found('sound-post', post()))({ end: 2 });
  if ('problem' in made) throw new Error(made.problem);
  expect(made.dialect.name).toBe('ours');
  expect(made.end(state, context)).toEqual([{ words: [{ letter: 'M', value: 2, integer: true }] }]);
});

it('keeps the project’s own posts beside it, and for a job that names one of them or none', async () => {
  for (const text of ['{"machine":{"post":"@haunch/post-linear"}}', '{}', 'not json']) {
    const posts = await postsFor(text, join(folder, 'job.json'));
    expect(Object.keys(posts).sort()).toEqual([
      '@haunch/post-iso6983',
      '@haunch/post-linear',
      '@haunch/post-rs274ngc',
    ]);
  }
});

it.each([
  ['no-export', 'export const other = 1;', /exports no function post\(options\)/],
  ['no-function', 'export const post = {};', /exports no function post\(options\)/],
  ['no-syntax', 'export const post = ((;', /cannot be loaded/],
])('a package is refused at load: %s', async (name, code, words) => {
  const refusal = await found(name, code).catch((e: unknown) => e);
  expect(refusal).toBeInstanceOf(UsageError);
  expect((refusal as Error).message).toMatch(words);
  expect((refusal as Error).message).not.toContain('\n');
});

it('a package that is not there is named, with the project’s own', async () => {
  const refusal = await postsFor('{"machine":{"post":"nowhere"}}', join(folder, 'job.json')).catch(
    (e: unknown) => e,
  );
  expect(refusal).toBeInstanceOf(UsageError);
  expect((refusal as Error).message).toMatch(
    /job\.json, machine\.post: .*'nowhere' cannot be loaded: .*@haunch\/post-rs274ngc/,
  );
});

it.each([
  ['next-contract', post('contract: 2,'), /contract 2; 1 is known/],
  ['no-end', post('end: 1,'), /no function end/],
  ['no-manifest', post('dialect: null,'), /no dialect/],
  ['bad-manifest', post(`dialect: { ...${DIALECT}, decimals: 9 },`), /dialect is faulty: decimals must/],
  ['way-out', post(`dialect: { ...${DIALECT}, extension: '../../x' },`), /dialect is faulty: extension/],
  ['nothing', 'export const post = () => undefined;', /no object/],
  ['refuses', 'export const post = () => { throw new Error("no option speed"); };', /^no option speed$/],
])('what a package makes is checked before it is used: %s', async (name, code, words) => {
  const made = (await found(name, code))({});
  expect('problem' in made ? made.problem : 'none').toMatch(words);
  // No other options would help.
  expect(made).toMatchObject({ unfit: true });
});

it('a refusal of options that were given is laid to the options', async () => {
  const made = (await found('refuses-options', 'export const post = () => { throw new Error("no"); };'))({
    speed: 2,
  });
  expect(made).toEqual({ problem: 'no' });
});

it.each([
  [
    'breaks',
    post('end: () => { throw new Error("out of ink"); },'),
    /'breaks' cannot write this program: its function end failed: out of ink/,
  ],
  ['scribbles', post('end: () => ["M30"],'), /its function end is faulty: it gave a block without words/],
])('one that breaks while it writes is a sentence, not a stack: %s', async (name, code, words) => {
  const made = (await found(name, code))({});
  if ('problem' in made) throw new Error(made.problem);
  expect(() => made.end(state, context)).toThrow(UsageError);
  expect(() => made.end(state, context)).toThrow(words);
});
