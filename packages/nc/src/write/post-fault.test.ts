import { describe, expect, it } from 'vitest';
import { plainPost } from '../../test/plain-post.js';
import { guardedPost, postFault } from './post-fault.js';
import { writeProgram } from './write-program.js';

const sound = plainPost();
const { dialect } = sound;

describe('what is no post-processor is said in words', () => {
  it('a sound one has no fault', () => expect(postFault(sound)).toBeNull());
  it.each<[string, unknown, RegExp]>([
    ['nothing', undefined, /no object/],
    ['a list', [], /no object/],
    ['another contract', { ...sound, contract: 2 }, /contract 2; 1 is known/],
    ['no contract', { ...sound, contract: undefined }, /states no contract/],
    ['a promise', Promise.resolve(sound), /a promise/],
    ['no name', { ...sound, name: '' }, /no name/],
    ['no end', { ...sound, end: undefined }, /no function end/],
    ['no dialect', { ...sound, dialect: null }, /no dialect/],
    ...[
      ['name', 7, /it has no name/],
      ['extension', '../nc', /extension/],
      ['unit', 'cm', /unit must be mm or inch/],
      ['decimals', 7, /decimals must/],
      ['feedDecimals', '1', /feedDecimals/],
      ['modal', undefined, /modal/],
      ['blockLength', 0, /blockLength/],
      ['lineNumbers', { start: 10 }, /lineNumbers/],
      ['lineNumbers', undefined, /lineNumbers/],
      ['comments', { open: '' }, /comments/],
      ['arcs', undefined, /nothing of arcs/],
      ['arcs', { ...dialect.arcs, form: 'spline' }, /arcs\.form/],
      ['arcs', { ...dialect.arcs, centre: 'from here' }, /arcs\.centre/],
      ['arcs', { ...dialect.arcs, greatestSweep: 0 }, /arcs\.greatestSweep/],
      ['arcs', { ...dialect.arcs, chordTolerance: Number.NaN }, /arcs\.chordTolerance/],
      ['arcs', { ...dialect.arcs, helix: 'yes' }, /arcs\.helix/],
      ['words', 'wide', /words must be an object/],
      ['words', { point: 'never' }, /words\.point/],
      ['words', { implied: { whole: 0, zeros: 'all' } }, /words\.implied/],
      ['drilling', 'pecks', /drilling/],
      ['percent', 'twice', /percent/],
      ['meaning', { units: 'G71 G70' }, /meaning\.units/],
      ['meaning', { centres: 'relative' }, /meaning\.centres/],
      ['meaning', { dwell: 'minutes' }, /meaning\.dwell/],
      ['meaning', { implied: { whole: 4, zeros: 'all' } }, /meaning\.implied/],
    ].map(([field, value, words]): [string, unknown, RegExp] => [
      `a dialect with ${String(field)} ${JSON.stringify(value)}`,
      { ...sound, dialect: { ...dialect, [field as string]: value } },
      words as RegExp,
    ]),
  ])('%s', (_, post, words) => expect(postFault(post)).toMatch(words));
});

describe('a post behind a guard', () => {
  const failed = (problem: string): never => {
    throw new RangeError(`guard: ${problem}`);
  };
  const from = 'a';
  const write = (changes: object) =>
    writeProgram(
      {
        kind: 'toolpath',
        board: 'b',
        moves: [{ kind: 'rapid', to: { x: 1, y: 2, z: 3 }, from }],
      },
      guardedPost({ ...sound, ...changes }, failed),
      { title: 't' },
    );
  it('writes what it writes without', () =>
    expect(write({})).toEqual(
      writeProgram(
        { kind: 'toolpath', board: 'b', moves: [{ kind: 'rapid', to: { x: 1, y: 2, z: 3 }, from }] },
        sound,
        { title: 't' },
      ),
    ));
  it.each<[string, object, RegExp]>([
    [
      'throws',
      {
        move: () => {
          throw new Error('out of words');
        },
      },
      /move failed: out of words/,
    ],
    ['gives nothing', { end: () => undefined }, /end is faulty: it gave no list/],
    ['gives text', { start: () => ['G21'] }, /start is faulty: it gave a block without words/],
    ['gives a word of text', { move: () => [{ words: ['G1'] }] }, /"G1", which is no word/],
    ['gives a small letter', { move: () => [{ words: [{ letter: 'x', value: 1 }] }] }, /which is no word/],
    ['gives no number', { move: () => [{ words: [{ letter: 'X', value: 'a' }] }] }, /which is no word/],
    ['comments with a number', { move: () => [{ words: [], comment: 3 }] }, /comment that is no text/],
  ])('that %s is stopped with a sentence', (_, changes, words) =>
    expect(() => write(changes)).toThrow(words),
  );
});
