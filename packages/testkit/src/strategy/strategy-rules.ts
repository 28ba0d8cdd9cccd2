import type { NestingStrategy } from '@haunch/model';
import { compareScores, scoreLayout, type ViolationKind } from '@haunch/nesting';
import type { KitRule } from '../kit.js';
import { BUDGET, PATIENCE, type StrategyTrial, type TriedStrategy } from './strategy-trial.js';

/** Breaches of the referee's rules of some kinds, one sentence each. */
const breaches =
  (...kinds: ViolationKind[]) =>
  ({ trials }: TriedStrategy): string[] =>
    trials.flatMap(({ sample, reports }) =>
      reports.flatMap((r, i) =>
        r.violations
          .filter((v) => kinds.includes(v.kind))
          .map((v) => `${sample.name}, layout ${i + 1}: ${v.message}`),
      ),
    );

function manifestProblems(s: NestingStrategy<unknown>): string[] {
  const out: string[] = [];
  if (typeof s.name !== 'string' || !/^[a-z0-9][a-z0-9._ -]*$/.test(s.name))
    out.push(`name "${String(s.name)}": small letters, digits, dots, blanks and dashes are wanted`);
  if (s.contract !== 1) out.push(`contract ${String(s.contract)}: 1 is wanted`);
  if (typeof s.nest !== 'function') out.push('nest is no function');
  if (typeof s.defaults !== 'object' || s.defaults === null) out.push('defaults are missing');
  for (const f of ['severalBoards', 'keepOuts', 'irregularBoards'] as const)
    if (typeof s.supports?.[f] !== 'boolean') out.push(`supports.${f} is missing`);
  return out;
}

/** The share of a trial's budget at which strategies are stopped, to see that they stop. */
const SHORT = 5;

const same = (a: StrategyTrial, b: StrategyTrial): boolean => {
  const n = Math.min(a.layouts.length, b.layouts.length);
  return (
    JSON.stringify(a.layouts.slice(0, n)) === JSON.stringify(b.layouts.slice(0, n)) &&
    a.layouts.length === b.layouts.length
  );
};

/** The rules of the kit for nesting strategies, in the order of their numbers. */
export const STRATEGY_RULES: readonly KitRule<TriedStrategy>[] = [
  {
    id: 'N01',
    title: 'the manifest is complete and makes sense',
    why: 'a harness gives a strategy only what it says it can handle',
    check: (t) => manifestProblems(t.strategy),
  },
  {
    id: 'N02',
    title: 'nothing is thrown, and every instance has an answer',
    why: 'a person whose job has no room wants to hear what was left over, and a study counts what failed',
    check: ({ trials }) =>
      trials.flatMap(({ sample, thrown, layouts }) =>
        thrown !== null && !thrown.startsWith('Error: it was told to stop')
          ? [`${sample.name}: threw ${thrown}`]
          : layouts.length === 0
            ? [`${sample.name}: no layout came within ${BUDGET} ticks`]
            : [],
      ),
  },
  {
    id: 'N03',
    title: 'items lie apart by the spacing or more',
    why: 'the spacing is the cutter and the web beside it: less, and one part’s cut takes the other’s edge',
    check: breaches('overlap', 'spacing'),
  },
  {
    id: 'N04',
    title: 'items lie on their board, within its margin',
    why: 'clamps, torn edges and the end of the sheet',
    check: breaches('outside-board', 'edge-margin'),
  },
  {
    id: 'N05',
    title: 'nothing lies over a keep-out',
    why: 'there is a screw in it',
    check: breaches('keep-out'),
  },
  {
    id: 'N06',
    title: 'items are turned as allowed, and never turned over',
    why: 'grain, and the face that is seen',
    check: breaches('turn-not-allowed', 'mirrored'),
  },
  {
    id: 'N07',
    title: 'items lie only on boards that they may lie on',
    why: 'a part cut from a sheet of another thickness fits nothing',
    check: breaches('board-not-allowed', 'unknown-board'),
  },
  {
    id: 'N08',
    title: 'every item is placed once or named as unplaced, and nothing else is',
    why: 'a part that was forgotten is found missing when the piece is put together',
    check: breaches('unknown-item', 'item-twice', 'item-missing'),
  },
  {
    id: 'N09',
    title: 'places are numbers',
    why: 'what is no number compares as neither too near nor too far',
    check: breaches('not-finite'),
  },
  {
    id: 'N10',
    title: 'the same instance, options and seed give the same layouts',
    why: 'nobody can check, or cut again, what cannot be made again',
    check: (t) =>
      t.trials.flatMap((trial) =>
        same(trial, t.again(trial.sample)) ? [] : [`${trial.sample.name}: another layout the second time`],
      ),
  },
  {
    id: 'N11',
    title: 'chance and time come from the run alone',
    why: 'a clock makes the answer depend on the machine, and on what else it does',
    check: ({ trials }) =>
      trials.flatMap(({ sample, ownChance }) => ownChance.map((c) => `${sample.name}: it used ${c}`)),
  },
  {
    id: 'N12',
    title: 'it asks whether to go on, and stops when told',
    why: 'somebody stands at the machine and waits',
    check: (t) =>
      t.trials
        .filter(({ sample }) => sample.instance.items.length > 1)
        .flatMap(({ sample, layouts }) => {
          const short = t.again(sample, { budget: SHORT });
          if (short.askedAfterNo > PATIENCE)
            return [`${sample.name}: told to stop, it asked ${PATIENCE} times more`];
          if (short.after > 3) return [`${sample.name}: told to stop, it gave layout after layout`];
          return layouts.length > 3 && short.asked === 0
            ? [`${sample.name}: ${layouts.length} layouts, and it never asked`]
            : [];
        }),
  },
  {
    id: 'N13',
    title: 'a strategy leaves alone what it is given, and what it has given',
    why: 'the referee and other strategies look at the same data',
    check: (t) => {
      const out = t.trials.flatMap(({ sample, thrown }) =>
        thrown !== null &&
        /read only|not extensible|Cannot assign|Cannot add|Cannot delete|Cannot define|Cannot redefine/i.test(
          thrown,
        )
          ? [`${sample.name}: it writes to what it was given (${thrown})`]
          : [],
      );
      return out;
    },
  },
  {
    id: 'N14',
    title: 'each layout is at least as good as the one before',
    why: 'who stops it takes the last one',
    check: ({ trials }) =>
      trials.flatMap(({ sample, layouts }) => {
        const scores = layouts.map((l) => scoreLayout(sample.instance, l));
        const i = scores.findIndex((s, k) => k > 0 && compareScores(s, scores[k - 1]!) > 0);
        return i < 0 ? [] : [`${sample.name}: layout ${i + 1} is worse than layout ${i}`];
      }),
  },
  {
    id: 'N15',
    title: 'what plainly fits is placed',
    why: 'leaving everything over breaks no other rule',
    check: ({ trials }) =>
      trials.flatMap(({ sample, layouts }) => {
        const last = layouts.at(-1);
        if (!last) return [];
        const left = sample.easy.filter((id) => !last.placements.some((p) => p.item === id));
        return left.map((id) => `${sample.name}: ${id} was left over, and there is room for it`);
      }),
  },
  {
    id: 'N16',
    title: 'layouts are plain data that survive being sent to another thread',
    why: 'strategies run in workers',
    check: ({ trials }) =>
      trials.flatMap(({ sample, layouts, notSent }) => [
        ...(notSent === null ? [] : [`${sample.name}: ${notSent}`]),
        ...layouts.flatMap((l, i) =>
          l.kind === 'layout' ? [] : [`${sample.name}, layout ${i + 1}: its kind is ${String(l.kind)}`],
        ),
      ]),
  },
  {
    id: 'N17',
    title: 'another order of the items gives an answer too, as valid as the first',
    why: 'people’s lists come in any order',
    check: (t) =>
      t.trials.flatMap(({ sample }) => {
        const { instance } = sample;
        const turned = { ...sample, instance: { ...instance, items: [...instance.items].reverse() } };
        const { layouts, reports, thrown } = t.again(turned);
        if (layouts.length === 0)
          return [`${sample.name}, turned round: no layout${thrown ? ` (${thrown})` : ''}`];
        const bad = reports.find((r) => !r.valid);
        return bad ? [`${sample.name}, turned round: ${bad.violations[0]!.message}`] : [];
      }),
  },
  {
    id: 'N18',
    title: 'no item shows a defect',
    why: 'a knot that nobody was to see',
    check: breaches('defect'),
  },
];
