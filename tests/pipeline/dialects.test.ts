import { expect, it } from 'vitest';
import { madeSideboard } from './sideboard.js';

it.each([
  ['@haunch/post-iso6983', {}],
  ['@haunch/post-iso6983', { unit: 'inch', centres: 'absolute', arcs: 'quarters' }],
  ['@haunch/post-linear', { unit: 'inch', decimals: 5 }],
])(
  'proves the sideboard in %s %o',
  async (post, postOptions) => {
    const made = await madeSideboard((j) => {
      j.machine.post = post;
      j.machine.postOptions = postOptions;
    });
    expect(made.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
    expect(made.joints.filter((j) => j.verdict !== 'as wanted')).toEqual([]);
    expect(made.pass).toBe(true);
  },
  120_000,
);

it('says which options a post does not take', async () => {
  await expect(
    madeSideboard((j) => {
      j.machine.post = '@haunch/post-linear';
      j.machine.postOptions = { chordTolerance: -1 };
    }),
  ).rejects.toThrow(/job\/post-options|chord tolerance of -1/);
});
