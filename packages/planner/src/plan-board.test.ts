import { circleRing, loadClip, polygonRing, type Ring, rectangleRing, ring } from '@haunch/geometry';
import type { Cutter, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brokenLaws } from '../test/laws.js';
import { relieved } from '../test/relieved.js';
import { boardOf, contourOf, DRILL, HOLDING, inputOf, MACHINE, partOf, ROUTER } from '../test/workshop.js';
import { planBoard } from './plan-board.js';
import type { Plan, PlanInput } from './plan-input.js';

const slot = (id: string, x: number, y: number, w: number, h: number) =>
  relieved(contourOf(id, rectangleRing(x, y, x + w, y + h)), 'inside', 3);
const hole = (id: string, x: number, y: number, diameter: number, depth: number | 'through') => ({
  id,
  centre: { x, y },
  diameter,
  face: 'n+' as const,
  depth,
});

/** A plate with everything: notch, arcs, mortises, a held opening, a pocket, holes of all sizes. */
const plate = (x = 50, y = 50, id = 'P'): Part => {
  const outline: Ring = ring(
    [
      { x: 0, y: 0, bulge: 0 },
      { x: 180, y: 0, bulge: 0 },
      { x: 180, y: 60, bulge: 0 },
      { x: 198, y: 60, bulge: 0 },
      { x: 198, y: 0, bulge: 0 },
      { x: 380, y: 0, bulge: Math.tan(Math.PI / 8) },
      { x: 400, y: 20, bulge: 0 },
      { x: 400, y: 300, bulge: 0.05 },
      { x: 0, y: 300, bulge: 0 },
    ].map((v) => ({ ...v, x: v.x + x, y: v.y + y })),
  );
  return partOf(id, outline, {
    outline: relieved(contourOf(id, outline), 'outside', 3),
    through: [slot(`${id}.m1`, x + 40, y + 200, 80, 18), slot(`${id}.m2`, x + 260, y + 60, 90, 60)],
    pockets: [{ ...slot(`${id}.h1`, x + 30, y + 60, 18, 100), face: 'n+', depth: 8 }],
    holes: [
      hole(`${id}.a`, x + 150, y + 150, 5, 12),
      hole(`${id}.b`, x + 200, y + 200, 10, 'through'),
      hole(`${id}.c`, x + 330, y + 220, 40, 'through'),
      hole(`${id}.d`, x + 230, y + 150, 25, 9),
    ],
  });
};

const mustPlan = (input: PlanInput): Plan => {
  const outcome = planBoard(input);
  expect(outcome.diagnostics.filter((d) => d.level === 'error')).toEqual([]);
  if (!outcome.ok) throw new Error('unreachable');
  return outcome.value;
};
const codes = (input: PlanInput) => planBoard(input).diagnostics.map((d) => d.code);
const sheet = (id: string, w = 300, h = 200, more: Partial<Part> = {}) =>
  partOf(id, rectangleRing(50, 50, 50 + w, 50 + h), more);

describe('a plate with everything', () => {
  const mating = new Set([
    'P/e2',
    'P/e3',
    'P/e4',
    ...['m1', 'h1'].flatMap((f) => [0, 1, 2, 3].map((e) => `P.${f}/e${e}`)),
  ]);
  const input = inputOf([plate()], { mating });

  it('keeps every law', async () => expect(brokenLaws(mustPlan(input), input, await loadClip())).toEqual([]));

  it('keeps every law cut the other way round, with zero on the bed', async () => {
    const other = inputOf([plate()], {
      mating,
      direction: 'conventional',
      machine: { ...MACHINE, zZero: 'bed' },
    });
    expect(brokenLaws(mustPlan(other), other, await loadClip())).toEqual([]);
  });

  it('does each feature in its way', () => {
    const steps = Object.fromEntries(mustPlan(input).workplan.steps.map((s) => [s.feature, s]));
    expect(
      Object.fromEntries(Object.entries(steps).map(([f, s]) => [f, [s.kind, s.cutter, s.slug]])),
    ).toEqual({
      'P.a': ['drilling', 'drill-5', null],
      'P.b': ['hole', 'router-6', 'none'],
      'P.c': ['hole', 'router-6', 'cut to chips'],
      'P.d': ['hole', 'router-6', null],
      'P.h1': ['pocket', 'router-6', null],
      'P.m1': ['inside profile', 'router-6', 'cut to chips'],
      'P.m2': ['inside profile', 'router-6', 'held'],
      'P.slot1': ['open slot', 'router-6', 'cut to chips'],
      P: ['outside profile', 'router-6', null],
    });
    expect(steps['P.h1']!.depths.at(-1)).toBe(8);
    expect(steps['P.m1']!.depths.at(-1)).toBe(18.3);
  });

  it('places the first two tabs of a plate on opposite sides', () => {
    const [a, b, ...rest] = mustPlan(inputOf([sheet('Q', 200, 40)])).workplan.steps.at(-1)!.tabs;
    expect(rest).toEqual([]);
    expect(a!.edge).not.toBe(b!.edge);
  });

  // With a clockwise spindle climb keeps the material right of travel (reference value C11, common practice).
  it('climbs: outlines clockwise, inside cuts counter-clockwise', () => {
    const plan = mustPlan(inputOf([sheet('Q', 300, 200, { through: [slot('Q.m', 100, 100, 80, 18)] })]));
    const turning = (id: string) => {
      const floor = plan.toolpath.moves.flatMap((m) =>
        m.kind === 'linear' && m.from.endsWith(` ${id}`) && m.to.z < -18 ? [m.to] : [],
      );
      return Math.sign(
        floor.reduce(
          (sum, p, i) =>
            sum + p.x * floor[(i + 1) % floor.length]!.y - p.y * floor[(i + 1) % floor.length]!.x,
          0,
        ),
      );
    };
    expect([turning('Q'), turning('Q.m')]).toEqual([-1, 1]);
  });

  it('meets a slot that mates all round on its short ends', () => {
    const all = new Set([0, 1, 2, 3].map((e) => `Q.m/e${e}`));
    const plan = mustPlan(
      inputOf([sheet('Q', 300, 200, { through: [slot('Q.m', 100, 100, 80, 18)] })], { mating: all }),
    );
    // The quarter circle of the way in ends where the contour is met: 3 mm from x = 100 or 180, y = 109.
    const ends = plan.toolpath.moves.flatMap((m) =>
      m.kind === 'circular' && m.from.endsWith('Q.m') ? [m.to] : [],
    );
    expect(ends.some((p) => (p.x === 103 || p.x === 177) && Math.abs(p.y - 109) < 4)).toBe(true);
    expect(ends.every((p) => p.y > 103 + 1e-9 && p.y < 115 - 1e-9)).toBe(true);
  });

  it('adds the steps, the spindle’s start and the changes of cutter to the whole time', () => {
    const { workplan } = mustPlan(input);
    const steps = workplan.steps.reduce((sum, s) => sum + s.seconds, 0);
    expect(workplan.seconds).toBeCloseTo(steps, 6);
    expect(workplan.steps.reduce((sum, s) => sum + s.spent!.change! + s.spent!.dwell!, 0)).toBe(
      2 * (MACHINE.spinUp + 10),
    );
  });

  it('plans nothing for an empty board', () =>
    expect(mustPlan(inputOf([]))).toMatchObject({
      workplan: { steps: [], seconds: 0 },
      toolpath: { moves: [] },
    }));
});

describe('any plate', () => {
  it('keeps every law', async () => {
    const clip = await loadClip();
    const mm = (min: number, max: number) => fc.integer({ min: min * 10, max: max * 10 }).map((v) => v / 10);
    fc.assert(
      fc.property(
        mm(120, 400),
        mm(120, 300),
        mm(6.6, 70),
        mm(8, 70),
        mm(5.5, 40),
        fc.constantFrom('climb', 'conventional'),
        (w, h, sw, sh, d, direction) => {
          fc.pre(Math.abs(d - 5) > 0.15 && (d - 6) / 2 >= 0.6);
          const part = sheet('Q', w, h, {
            through: [slot('Q.m', 60, 60, Math.min(sw, w - 70), Math.min(sh, h - 30))],
            holes: [hole('Q.h', 50 + w - 25, 50 + h / 2, Math.min(d, 40), 'through')],
          });
          const input = inputOf([part], { direction: direction as 'climb' });
          expect(brokenLaws(mustPlan(input), input, clip)).toEqual([]);
        },
      ),
      { numRuns: 10 },
    );
  });

  it('clears a cavity with two chambers, from the middle of each', async () => {
    const dumbbell = polygonRing([
      { x: 100, y: 100 },
      { x: 150, y: 100 },
      { x: 150, y: 118 },
      { x: 170, y: 118 },
      { x: 170, y: 100 },
      { x: 220, y: 100 },
      { x: 220, y: 150 },
      { x: 170, y: 150 },
      { x: 170, y: 132 },
      { x: 150, y: 132 },
      { x: 150, y: 150 },
      { x: 100, y: 150 },
    ]);
    const pocket = { ...relieved(contourOf('Q.p', dumbbell), 'inside', 3), face: 'n+' as const, depth: 9 };
    const input = inputOf([sheet('Q', 300, 200, { pockets: [pocket] })]);
    expect(brokenLaws(mustPlan(input), input, await loadClip())).toEqual([]);
  });
});

describe('a broken plan is caught by the laws', () => {
  const input = inputOf([plate()], { mating: new Set(['P/e0']) });
  const broken = async (
    change: (m: Plan['toolpath']['moves'][number], i: number) => Plan['toolpath']['moves'][number],
  ) => {
    const plan = mustPlan(input);
    const moves = plan.toolpath.moves.map(change);
    return brokenLaws({ ...plan, toolpath: { ...plan.toolpath, moves } }, input, await loadClip());
  };
  const outlineCut = (m: Plan['toolpath']['moves'][number]) =>
    m.kind === 'linear' && m.from.endsWith(' P') && m.to.z < -18;

  it.each<[string, (m: Plan['toolpath']['moves'][number]) => Plan['toolpath']['moves'][number], RegExp]>([
    [
      'a path 0.01 mm off',
      (m) => (outlineCut(m) && m.kind === 'linear' ? { ...m, to: { ...m.to, y: m.to.y + 0.01 } } : m),
      /from the wall|enter/,
    ],
    [
      'tabs cut away',
      (m) => (m.kind === 'linear' && m.to.z === -15 ? { ...m, to: { ...m.to, z: -18.3 } } : m),
      /cut away/,
    ],
    [
      'a rapid in the wood',
      (m) => (m.kind === 'rapid' ? { ...m, to: { ...m.to, z: 1 } } : m),
      /below the height/,
    ],
    [
      'a cut through the bed',
      (m) => (outlineCut(m) && m.kind === 'linear' ? { ...m, to: { ...m.to, z: -19 } } : m),
      /is below/,
    ],
    ['a stopped spindle', (m) => (m.kind === 'spindle' ? { ...m, rpm: 0 } : m), /no spindle/],
    [
      'moves off the grid',
      (m) => (m.kind === 'linear' ? { ...m, to: { ...m.to, x: m.to.x + 0.00003 } } : m),
      /off the grid/,
    ],
    [
      'a pocket left half cleared',
      (m) =>
        m.kind === 'linear' && m.from.endsWith('P.h1') && m.to.z === -8
          ? { ...m, to: { ...m.to, z: -7 } }
          : m,
      /standing|relief/,
    ],
  ])('%s', async (_, change, says) => expect((await broken(change)).join('\n')).toMatch(says));

  it('tabs and entries on edges that turn out to mate', async () => {
    const plan = mustPlan(input);
    const tags = ['P', 'P.m1', 'P.m2'].flatMap((c) => Array.from({ length: 9 }, (_, e) => `${c}/e${e}`));
    const late = { ...input, mating: new Set(tags.filter((t) => t !== 'P/e1')) };
    const said = brokenLaws(plan, late, await loadClip()).join('\n');
    expect(said).toMatch(/a tab on mating edge/);
    expect(said).toMatch(/the contour is met on/);
  });
});

describe('a refusal says what and where', () => {
  const drillOnly: readonly Cutter[] = [DRILL];
  const free = sheet('Q');
  it.each<[string, PlanInput]>([
    ['no-router', inputOf([free], { cutters: drillOnly })],
    ['bad-value', inputOf([free], { cutters: [{ ...ROUTER, rampAngle: 0 }] })],
    ['bad-value', inputOf([free], { holding: { ...HOLDING, tabWidth: Number.NaN } })],
    ['hole-without-cutter', inputOf([sheet('Q', 300, 200, { holes: [hole('Q.h', 100, 100, 4, 10)] })])],
    [
      'cutter-too-large',
      inputOf([sheet('Q', 300, 200, { through: [contourOf('Q.m', rectangleRing(100, 100, 180, 105))] })]),
    ],
    [
      'relief-of-another-cutter',
      inputOf([
        sheet('Q', 300, 200, {
          through: [relieved(contourOf('Q.m', rectangleRing(100, 100, 180, 118)), 'inside', 3.1)],
        }),
      ]),
    ],
    [
      'needs-turn-over',
      inputOf([
        sheet('Q', 300, 200, { pockets: [{ ...slot('Q.p', 100, 100, 18, 60), face: 'n-', depth: 8 }] }),
      ]),
    ],
    [
      'needs-turn-over',
      inputOf([sheet('Q', 300, 200, { holes: [{ ...hole('Q.h', 100, 100, 5, 10), face: 'n-' }] })]),
    ],
    [
      'too-deep',
      inputOf([
        sheet('Q', 300, 200, { pockets: [{ ...slot('Q.p', 100, 100, 18, 60), face: 'n+', depth: 18 }] }),
      ]),
    ],
    ['flutes-too-short', inputOf([free], { cutters: [{ ...ROUTER, fluteLength: 12 }] })],
    ['no-room-for-tabs', inputOf([sheet('Q', 22, 18)])],
    ['tab-too-high', inputOf([free], { holding: { ...HOLDING, tabHeight: 18 } })],
    ['no-entry', inputOf([free], { mating: new Set([0, 1, 2, 3].map((e) => `Q/e${e}`)) })],
    [
      'in-keep-out',
      inputOf([free], { board: { ...boardOf(2440, 1220), keepOuts: [circleRing({ x: 200, y: 45 }, 4)] } }),
    ],
    ['too-close', inputOf([free, partOf('R', rectangleRing(355, 50, 600, 250))])],
    ['off-board', inputOf([free], { board: boardOf(340, 1220) })],
    [
      'out-of-reach',
      inputOf([free], { machine: { ...MACHINE, envelope: { x: [0, 300], y: [0, 300], z: [-30, 60] } } }),
    ],
    ['shallow-first-pass', inputOf([free], { cutters: [{ ...ROUTER, upCutLength: 8 }] })],
    [
      'thick-spot',
      inputOf([free], {
        board: { ...boardOf(2440, 1220), readings: [{ thickness: 18.4, at: { x: 9, y: 9 } }] },
      }),
    ],
    ['no-overcut', inputOf([free], { machine: { ...MACHINE, spoilboard: 0 } })],
    [
      'tab-on-neighbour',
      inputOf(
        [
          partOf('A', rectangleRing(50, 50, 110, 150)),
          partOf('B', rectangleRing(120, 50, 180, 150)),
          partOf('C', rectangleRing(190, 50, 250, 150)),
        ],
        { mating: new Set(['B/e0', 'B/e2']) },
      ),
    ],
    [
      'entry-on-wall',
      inputOf([sheet('Q', 300, 200)], {
        board: boardOf(400, 300),
        machine: { ...MACHINE, envelope: { x: [47, 353], y: [47, 253], z: [-30, 60] } },
      }),
    ],
    ['slug-to-chips', inputOf([sheet('Q', 300, 200, { through: [slot('Q.m', 100, 100, 80, 18)] })])],
  ])('%s', (code, input) => {
    const outcome = planBoard(input);
    const said = outcome.diagnostics.find((d) => d.code === `plan/${code}`);
    expect(codes(input)).toContain(`plan/${code}`);
    expect(said!.message.length).toBeGreaterThan(20);
    expect(outcome.ok).toBe(said!.level !== 'error');
  });

  it('names the largest cutter that would do', () => {
    const narrow = inputOf([
      sheet('Q', 300, 200, { through: [contourOf('Q.m', rectangleRing(100, 100, 180, 105))] }),
    ]);
    const [d] = planBoard(narrow).diagnostics;
    expect(d!.hint).toMatch(/up to 4\.99? ?|up to 5 mm|up to 4\.9/);
    expect(d!.locus).toMatchObject({ part: 'Q', feature: 'Q.m' });
  });

  it('takes the cutter that fits when there are several', () => {
    const large = { ...ROUTER, id: 'router-12', number: 4, diameter: 12 };
    const plan = mustPlan(
      inputOf([sheet('Q', 300, 200, { through: [slot('Q.m', 100, 100, 80, 18)] })], {
        cutters: [large, ROUTER],
      }),
    );
    expect(plan.workplan.steps.map((s) => [s.feature, s.cutter])).toEqual([
      ['Q.m', 'router-6'],
      ['Q', 'router-12'],
    ]);
  });
});
