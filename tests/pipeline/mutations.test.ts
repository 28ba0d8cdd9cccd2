import { type Clip, loadClip } from '@haunch/geometry';
import { commanded, type Made, type MadeBoard, meaningOf, proveOrRefuseOnBoard } from '@haunch/job';
import type { DialectMeaning, PostProcessor } from '@haunch/model';
import { writeProgram } from '@haunch/nc/write';
import { seededRandom } from '@haunch/nesting';
import { iso6983 } from '@haunch/post-iso6983';
import { linearWith } from '@haunch/post-linear';
import { rs274ngc } from '@haunch/post-rs274ngc';
import {
  type Judged,
  judgedOf,
  MUTATION_KINDS,
  meaningOfStyle,
  plainMotion,
  rewriteProgram,
  someStyle,
  tryMutations,
  wallWitness,
} from '@haunch/testkit';
import { beforeAll, describe, expect, it } from 'vitest';
import { madeSideboard } from './sideboard.js';

const POSTS: readonly (readonly [string, PostProcessor])[] = [
  ['RS274/NGC', rs274ngc],
  ['ISO 6983', iso6983],
  ['straight moves in inches', linearWith({ unit: 'inch' })],
];

describe('single mistakes in a program, and other ways of writing it', () => {
  let made: Made;
  let board: MadeBoard;
  let clip: Clip;
  beforeAll(async () => {
    clip = await loadClip();
    made = await madeSideboard();
    board = made.boards.find((b) => b.items.length === 1)!;
  }, 120_000);

  const written = (post: PostProcessor): { text: string; meaning?: DialectMeaning } => {
    const program = writeProgram(commanded(made.job, board.plan), post, { title: 'off-cut' });
    if (!program.ok) throw new Error(JSON.stringify(program.diagnostics));
    return { text: program.value.text, ...meaningOf(post) };
  };
  const judge = (text: string, meaning?: DialectMeaning): Judged =>
    judgedOf(
      proveOrRefuseOnBoard(made, board, { text, ...(meaning === undefined ? {} : { meaning }) }, clip),
    );
  const witnessOf = (text: string, meaning?: DialectMeaning) =>
    wallWitness({
      board: board.board,
      parts: board.items.map((i) => i.part),
      cutters: made.job.cutters,
      machine: made.job.machine,
      holding: made.job.holding,
      right: plainMotion(text, meaning)!,
    });

  it.each(POSTS)(
    'in %s: every mistake that does harm is refused, and a witness vouches for the others',
    (_, post) => {
      const { text, meaning } = written(post);
      expect(judge(text, meaning)).toMatchObject({ pass: true });
      const tally = tryMutations({
        text,
        ...(meaning === undefined ? {} : { meaning }),
        count: 4 * MUTATION_KINDS.length,
        seed: 20_261_125,
        judge: (t) => judge(t, meaning),
        witness: witnessOf(text, meaning),
        borne: 0.01,
      });
      expect(
        tally.survivors.flatMap(({ mutation: m, harmful, reason, reported }) =>
          harmful ? [{ kind: m.kind, line: m.line, was: m.was, now: m.now, reason, reported }] : [],
        ),
      ).toEqual([]);
      expect(tally.killed).toBeGreaterThan(tally.tried / 3);
      // What the witness sees is also what the proof reports, to the chords of arcs. A square corner
      // that is cut across lies farther from its point than from either wall.
      const untold = tally.survivors.filter(
        (s) => s.witnessed > 0.004 && s.reported < s.witnessed / Math.SQRT2 - 0.003,
      );
      expect(
        untold.map((s) => `${s.mutation.was} -> ${s.mutation.now}: ${s.reason}; told ${s.reported}`),
      ).toEqual([]);
    },
    120_000,
  );

  it('the witness sees what a judge that lets everything pass does not', () => {
    const { text } = written(rs274ngc);
    const tally = tryMutations({
      text,
      count: 8 * MUTATION_KINDS.length,
      seed: 3,
      judge: () => ({ pass: true, reason: '', deviation: 0 }),
      witness: witnessOf(text),
      borne: 0.01,
    });
    const harmful = tally.survivors.filter((s) => s.harmful);
    expect(harmful.length).toBeGreaterThan(15);
    expect(harmful.map((s) => s.reason).join('\n')).toMatch(/BR BR\.\w+ at X/);
  }, 120_000);

  it.each(POSTS)(
    'in %s: the same cuts written in another way raise no alarm',
    (_, post) => {
      const { text, meaning } = written(post);
      const plain = plainMotion(text, meaning)!;
      const random = seededRandom(7);
      for (let k = 0; k < 12; k++) {
        const style = someStyle(random);
        const rewritten = rewriteProgram(plain, style);
        expect({ style, ...judge(rewritten, meaningOfStyle(style)) }).toMatchObject({
          pass: true,
          reason: '',
        });
      }
    },
    120_000,
  );
});
