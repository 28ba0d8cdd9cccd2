import { readFileSync } from 'node:fs';
import type { Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { followSteps } from '../src/dryfit/assembly-list.js';
import { standPiece } from '../src/dryfit/dry-piece.js';
import { checkFound } from '../src/found/check-found.js';
import { dryAssemble } from '../src/index.js';
import { copy, demo, masterOf, type Spoilable, valueIn } from './demo.js';

const example = (name: string): Master =>
  masterOf(readFileSync(new URL(`../../../docs/examples/${name}.master.json`, import.meta.url), 'utf8'));

type Draft = Spoilable<Master>;
const spoilt = (edit: (m: Draft) => void): Master => {
  const m = copy(demo);
  edit(m);
  return m as Master;
};
const said = (m: Master) =>
  dryAssemble(m, { order: false }).diagnostics.map((d) => ({
    code: d.code,
    part: d.locus.part,
    path: d.locus.path,
    message: d.message,
  }));
const step = (m: Draft, n: number) => m.assembly[n - 1]!;
const drop = (m: Draft, n: number): void => {
  m.assembly.splice(n - 1, 1);
};
/** Two steps change places; each keeps the number of its place. */
const exchange = (m: Draft, a: number, b: number): void => {
  const [one, other] = [step(m, a), step(m, b)];
  m.assembly[a - 1] = { ...other, step: a };
  m.assembly[b - 1] = { ...one, step: b };
};

describe('a list of steps that can be done', () => {
  for (const name of ['pigeonholes/pigeonholes', 'reading-stand/reading-stand', 'sideboard/sideboard-18'])
    it(`is every step of ${name}`, () => {
      const m = example(name);
      expect(valueIn(dryAssemble(m, { order: false })).steps).toHaveLength(m.assembly.length);
    });

  for (const name of ['reading-stand/reading-stand', 'sideboard/sideboard-18'])
    it(`is the one that the geometry alone gives for ${name}`, () => {
      const m = checkFound(example(name)).master;
      expect(m.assembly).toHaveLength(m.parts.length - 1);
      expect(m.assembly).not.toEqual(example(name).assembly);
      expect(said(m)).toEqual([]);
    });

  it('may begin sub-assemblies in any order', () => {
    expect(said(spoilt((m) => exchange(m, 1, 2)))).toEqual([]);
  });

  it('may begin with setting one part down', () => {
    const down = {
      step: 1,
      fixed: [],
      moving: ['PL'],
      move: '-Z' as const,
      travel: 10,
      text: 'Set it down.',
    };
    expect(said(spoilt((m) => void m.assembly.unshift(down)))).toEqual([]);
  });

  it('is not asked for where no steps are listed', () => {
    expect(said({ ...demo, assembly: [] })).toEqual([]);
  });

  it('need not name all that stands', () => {
    expect(said(spoilt((m) => Object.assign(step(m, 9), { fixed: ['PL'] })))).toEqual([]);
  });
});

describe('a list of steps that cannot be done', () => {
  const steps = demo.assembly.map((_, i) => i + 1);
  const muddle = (m: Master): number => followSteps(standPiece(m).piece!).problems.length;

  it('is refused whichever step is left out', () => {
    for (const n of steps) expect([n, muddle(spoilt((m) => drop(m, n))) > 0]).toEqual([n, true]);
  });

  it('is refused whichever two steps are exchanged, but for the first two, which need nothing of each other', () => {
    for (const a of steps)
      for (const b of steps.filter((k) => k > a && k > 2))
        expect([a, b, muddle(spoilt((m) => exchange(m, a, b))) > 0]).toEqual([a, b, true]);
  });

  it('counts on a part that comes later', () => {
    const [first] = said(spoilt((m) => exchange(m, 5, 6)));
    expect(first).toMatchObject({ code: 'dryfit/not-yet-placed', part: 'EL', path: 'assembly, step 5' });
    expect(first!.message).toContain('step 6 does so only later');
    expect(said(spoilt((m) => exchange(m, 2, 3)))[0]).toMatchObject({
      code: 'dryfit/not-yet-placed',
      part: 'S1',
      path: 'assembly, step 2',
    });
  });

  it('counts on a part that never comes', () => {
    expect(said(spoilt((m) => drop(m, 3)))[0]).toMatchObject({
      code: 'dryfit/not-yet-placed',
      part: 'RL',
      path: 'assembly, step 4',
    });
  });

  it('leaves a part out', () => {
    expect(said(spoilt((m) => drop(m, 9)))).toMatchObject([{ code: 'dryfit/never-placed', part: 'S3' }]);
    const one = spoilt((m) => Object.assign(m, { assembly: [{ ...step(m, 5), step: 1, fixed: [] }] }));
    const others = demo.parts.map((p) => p.id).filter((id) => id !== 'EL');
    expect(said(one).map((d) => d.code)).toEqual(others.map(() => 'dryfit/never-placed'));
    expect(said(one).map((d) => d.part)).toEqual(others);
  });

  it('has a part both stand and move', () => {
    expect(said(spoilt((m) => void step(m, 5).fixed.push('EL')))).toMatchObject([
      { code: 'dryfit/both-sides', part: 'EL', path: 'assembly, step 5' },
    ]);
  });

  it('moves a part again that is in place, or twice at once', () => {
    const again = spoilt((m) => {
      step(m, 6).moving = ['ER', 'EL'];
      step(m, 6).fixed = step(m, 6).fixed.filter((id) => id !== 'EL');
    });
    expect(said(again)).toMatchObject([
      { code: 'dryfit/placed-twice', part: 'EL', path: 'assembly, step 6' },
    ]);
    expect(said(spoilt((m) => void step(m, 6).moving.push('ER')))).toMatchObject([
      { code: 'dryfit/placed-twice', part: 'ER' },
    ]);
    expect(said(spoilt((m) => Object.assign(step(m, 4), { moving: ['S2'] })))[0]).toMatchObject({
      code: 'dryfit/placed-twice',
      part: 'S2',
      path: 'assembly, step 4',
    });
  });

  it('moves everything towards nothing', () => {
    const heap = spoilt((m) => {
      m.assembly = [{ ...step(m, 1), fixed: [], moving: m.parts.map((p) => p.id) }];
    });
    expect(said(heap)).toMatchObject([{ code: 'dryfit/nothing-stands', path: 'assembly, step 1' }]);
  });

  it('never brings a part to the rest', () => {
    expect(said(spoilt((m) => Object.assign(step(m, 9), { fixed: [] })))).toMatchObject([
      { code: 'dryfit/left-apart', part: 'S3' },
    ]);
  });

  it('moves two parts of a joint together that no step has joined', () => {
    const together = spoilt((m) => drop(m, 1));
    const open = dryAssemble(together, { order: false }).diagnostics;
    expect(open.map((d) => [d.code, d.locus.joint])).toEqual(
      demo.mates
        .filter(
          (m) => [m.slotPart, m.enteringPart].includes('S2') && /D[12]/.test(m.slotPart + m.enteringPart),
        )
        .map((m) => ['dryfit/joint-left-open', m.id]),
    );
    expect(open.length).toBe(2);
  });

  it('runs into a part that stands there without being named', () => {
    const early = spoilt((m) => {
      exchange(m, 7, 8);
      step(m, 7).fixed = ['EL'];
      step(m, 8).fixed = ['EL'];
    });
    const blocked = said(early);
    expect(blocked.map((d) => d.code)).toContain('dryfit/step-blocked');
    expect(blocked.some((d) => d.part === 'BR' && d.message.includes('TOP'))).toBe(true);
  });
});
