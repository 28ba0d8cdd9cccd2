import { readFileSync } from 'node:fs';
import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { dot, frameOf } from '../src/frame.js';
import { findMaster, findMasterAgain, partsOfMaster, readMaster, refitMaster } from '../src/index.js';
import { valueIn } from './demo.js';
import { corner, trueChoices } from './leaning-truth.js';

const stand = valueIn(
  readMaster(
    readFileSync(
      new URL('../../../docs/examples/reading-stand/reading-stand.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const parts = partsOfMaster(stand);
const ids = stand.parts.map((p) => p.id);
const options = { from: 'stand.dxf', check: false };

/** The master found with the given answers, and with those to its open questions that are true of the stand. */
function answered(answers: Readonly<Record<string, number>> = {}): Master {
  const { master, questions } = valueIn(findMaster(parts, { ...options, answers }));
  if (master) return master;
  const open = questions.filter((q) => q.taken === null);
  const more = open.map((q) => [q.id, trueChoices(q, stand, 'BASE')] as const);
  for (const [id, choices] of more) expect([id, choices.length]).toEqual([id, 1]);
  return answered({ ...answers, ...Object.fromEntries(more.map(([id, [n]]) => [id, n!])) });
}

/** What holds each part of the stand, as answers about the parts of a found one, which may be turned over. */
function holds(found: Master): Record<string, number> {
  const [base, ours] = [stand, found].map((m) => frameOf(m.parts.find((p) => p.id === 'BASE')!));
  const look = (m: Master, id: string, f: typeof base) => {
    const { n } = frameOf(m.parts.find((p) => p.id === id)!);
    return [dot(n, f!.u), dot(n, f!.v), dot(n, f!.n)] as const;
  };
  return Object.fromEntries(
    stand.parts.map((p) => {
      const same = dot(look(stand, p.id, base), look(found, p.id, ours)) > 0;
      const number = p.hold === 'mid' ? 3 : (p.hold === 'n-') === same ? 1 : 2;
      return [`hold-${p.id}`, number];
    }),
  );
}

describe('the reading stand found from its bare plates', () => {
  it('is asked joint by joint, reaches the true one, and refits as the drawn one does', () => {
    const first = answered();
    expect(Object.keys(first.found!.answers).sort()).toEqual([
      'joint-BACK-LEDGE',
      'joint-BASE-BACK',
      'joint-BASE-CARD',
      'joint-BASE-FRONT',
      'joint-BASE-REAR',
      'joint-LEDGE-LIP',
    ]);
    expect(corner(first.parts, stand.parts, 'BASE', ids)).toBeLessThan(0.001);
    const answers = { ...first.found!.answers, ...holds(first) };
    const found = findMaster(parts, { ...options, answers });
    expect(found.diagnostics.map((d) => d.code)).toEqual(['mates/leans', 'mates/leans']);
    const master = valueIn(found).master!;
    for (const of of [() => 17.4, () => 18.7, (i: number) => 17.4 + (i % 4) * 0.4]) {
      const thicknesses = Object.fromEntries(ids.map((id, i) => [id, of(i)]));
      const [ours, theirs] = [master, stand].map((m) => valueIn(refitMaster(m, { thicknesses })));
      for (const id of ids.filter((p) => p !== 'FRONT' && p !== 'REAR'))
        expect([id, corner(ours!.parts, theirs!.parts, 'BASE', [id]) < 0.001]).toEqual([id, true]);
      expect(corner(ours!.parts, theirs!.parts, 'BASE', ids)).toBeLessThan(0.001);
      // The marks are what does it: without them it is off by what the sheet is.
      const bare = { ...master, marks: [], parts: stand.parts };
      expect(corner(bare.parts, theirs!.parts, 'BASE', ids)).toBeGreaterThan(0.2);
    }
    const again = valueIn(findMasterAgain(master, options)).master!;
    expect(again.marks).toEqual(master.marks);
    expect(again.found!.reasons).toEqual(master.found!.reasons);
  }, 120_000);

  it('refuses an answer by a number that a joint does not have', () => {
    const answers = { 'joint-BASE-FRONT': 1, 'joint-BASE-REAR': 3 };
    expect(findMaster(parts, { ...options, answers }).diagnostics.map((d) => d.code)).toContain(
      'mates/no-such-choice',
    );
  }, 60_000);

  it('marks a place in which a rail stands, and refuses it', () => {
    const rail = { 'joint-BASE-FRONT': 1 };
    const card = valueIn(findMaster(parts, { ...options, answers: rail })).questions.find(
      (q) => q.id === 'joint-BASE-CARD',
    )!;
    const taken = card.choices.flatMap((c, n) => (c.endsWith('(not with the other answers)') ? [n + 1] : []));
    expect(taken).toHaveLength(1);
    const refused = findMaster(parts, { ...options, answers: { ...rail, 'joint-BASE-CARD': taken[0]! } });
    expect(refused.ok).toBe(false);
    expect(refused.diagnostics.map((d) => d.code)).toContain('mates/answers-clash');
  }, 60_000);
});
