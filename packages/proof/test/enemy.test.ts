import { loadClip } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { type ProveInput, proveProgram } from '../src/index.js';
import { inputFor, lines, machine, plate, router, swap, text } from './plate.js';

const clip = await loadClip();
const good = lines();
/** The line, from 1, of a block of the sound program. */
const lineOf = (block: string): number => good.indexOf(block) + 1;
/** Blocks put in before the n-th line of the sound program. */
const before = (line: number, ...blocks: readonly string[]): string[] => [
  ...good.slice(0, line - 1),
  ...blocks,
  ...good.slice(line - 1),
];
/** The mortise is done and the cutter lifted; it goes to the outline. */
const TRAVEL = lineOf('G0 X47 Y60');
/** All is cut; the cutter lifts for the last time. */
const LAST = lineOf('G0 Z28') === 4 ? good.lastIndexOf('G0 Z28') + 1 : Number.NaN;
const drill = { ...router, id: 'drill-6', number: 2, kind: 'drill' as const };
const second = { ...router, id: 'router-6b', number: 2 };

/** Another router comes over the left edge, down to a height. */
const upCutOver = (z: string): string[] =>
  before(LAST, 'G0 Z28', 'T2 M6', 'S18000 M3', 'G0 X60 Y60', 'G1 Z18.5 F1500', `G1 X48 ${z}`);

type Enemy = readonly [
  what: string,
  rule: string,
  line: number | undefined,
  program: readonly string[],
  change?: Partial<ProveInput>,
];

const ENEMIES: readonly Enemy[] = [
  ['a plunge at speed', 'P18', 6, swap(good, 'G1 Z18 F2000', 'G1 Z9 F8000', 'G1 Z18 F2000')],
  ['a plunge of a twentieth', 'P18', 6, swap(good, 'G1 Z18 F2000', 'G1 Z17.95 F2000')],
  ['a rapid straight down', 'P04', 7, before(7, 'G0 Z9', 'G1 Z18')],
  [
    'a gouge of 0.05 between two ends of a mortise’s wall',
    'P08',
    lineOf('G1 Z28 F4000') + 1,
    before(lineOf('G1 Z28 F4000'), 'G1 X100', 'G1 Y85.15', 'G1 Y78', 'G1 X86'),
  ],
  [
    'a pass 0.05 too deep into an outer edge, at half the depth alone',
    'P08',
    LAST + 3,
    before(LAST, 'G0 Z28', 'G0 X47 Y80', 'G1 Z9 F2000', 'G1 X47.05', 'G1 X47'),
  ],
  ['a stroke left out', 'P16', undefined, good.filter((l) => l !== 'G1 Y85.1')],
  ['an arc in the plane of X and Z', 'P01', TRAVEL + 1, before(TRAVEL, 'G18', 'G2 X90 Y60 I2 J0', 'G17')],
  ['no word for the unit', 'P02', 4, swap(good, 'G21 G90 G17 G94', 'G90 G17 G94')],
  ['millimetres read as inches', 'P05', 4, swap(good, 'G21 G90 G17 G94', 'G20 G90 G17 G94')],
  ['a shift by G92 that stays on', 'P08', undefined, before(TRAVEL, 'G92 X86.2')],
  ['a zero laid where the cutter happens to stand', 'P02', 2, before(2, 'G92 X0 Y0 Z28')],
  ['a zero brought back from an earlier program', 'P02', 4, before(4, 'G92.3')],
  ['an origin overwritten', 'P02', 4, before(4, 'G10 L2 P1 X0.1')],
  ['the length of another tool', 'P15', 5, before(4, 'G43 H2')],
  [
    'a length that was not changed with its tool',
    'P15',
    TRAVEL + 3,
    before(TRAVEL, 'T2 M6', 'S18000 M3').flatMap((l, i) => (i === 3 ? ['G43 H1', l] : [l])),
    { cutters: [router, second] },
  ],
  ['a change of the cutter in the sheet', 'P15', lineOf('G1 X153'), before(lineOf('G1 X153'), 'T1 M6', 'M3')],
  [
    'a drill in the place of a router of its size',
    'P19',
    7,
    swap(good, 'T1 M6', 'T2 M6'),
    { cutters: [router, drill] },
  ],
  [
    'tool numbers swapped',
    'P16',
    undefined,
    swap(good, 'T1 M6', 'T2 M6'),
    { cutters: [router, { ...second, diameter: 5 }] },
  ],
  ['a spindle stopped between two cuts', 'P03', TRAVEL + 3, before(TRAVEL, 'M5')],
  [
    'a spindle started before the change, which stops it',
    'P03',
    7,
    good.map((l, i) => (i === 1 ? 'S18000 M3' : i === 2 ? 'T1 M6' : l)),
  ],
  ['a speed that lacks a nought', 'P14', 7, swap(good, 'S18000 M3', 'S1800 M3')],
  ['a feed for air in standing material', 'P14', 11, good.map((l) => l.replace('F3000', 'F8000'))],
  ['distances that count from the last place', 'P05', undefined, before(TRAVEL, 'G91')],
  [
    'a cycle that comes back too low',
    'P04',
    TRAVEL + 1,
    before(TRAVEL, 'G0 X60 Y60', 'G99 G81 Z10 R19', 'X65'),
  ],
  [
    'a scratch of 0.05 across the face, far from every edge',
    'P08',
    LAST + 4,
    before(LAST, 'G0 Z28', 'G0 X60 Y60', 'G1 Z18.5', 'G1 X70 Z17.95 F1500', 'G1 X72'),
  ],
  [
    'up-cut edges that run over a wall a tenth deep',
    'P20',
    LAST + 5,
    upCutOver('Z17.9'),
    { cutters: [router, { ...second, upCutLength: 5 }] },
  ],
  [
    'a rapid deeper into a hole than it was drilled',
    'P04',
    LAST + 6,
    before(LAST, 'G0 Z28', 'T2 M6', 'S6000 M3', 'G0 X20 Y20', 'G1 Z12 F500', 'G0 Z28', 'Z11.9', 'Z28'),
    { cutters: [router, drill] },
  ],
  ['an end before the end', 'P17', lineOf('G1 X110.2') - 1, before(lineOf('G1 X110.2'), 'M30')],
];

/** What looks alike and does no harm. */
const FRIENDS: readonly (readonly [
  what: string,
  program: readonly string[],
  change?: Partial<ProveInput>,
])[] = [
  [
    'a drill led through what is cut already',
    before(LAST, 'G0 Z28', 'T2 M6', 'S6000 M3', 'G0 X100 Y78', 'G1 Z9 F500', 'G1 X95'),
    { cutters: [router, drill] },
  ],
  ['the length of the tool in hand', before(4, 'G43 H1')],
  [
    'a cycle that pecks from clearance height, and comes back into its hole by rapids',
    before(LAST, 'G0 Z28', 'T2 M6', 'S6000 M3', 'G0 X20 Y20', 'G83 X20 Y20 Z8 R28 Q6 F500', 'G80'),
    { cutters: [router, drill] },
  ],
  ['a known shift that is taken back', before(TRAVEL, 'G92 X0', 'G92.1')],
  ['the feed for air above the sheet', before(LAST, 'G0 Z28', 'G1 X100 F8000')],
  [
    'a cut gone along again at the feed for air, up the ramp over a tab too',
    before(LAST, 'G1 Y113 F8000', 'G1 X89.8', 'G1 X93 Z3'),
  ],
  ['the origin of a system that is not used', before(4, 'G10 L2 P3 X5')],
  ['an entry whose height was rounded to hundredths', swap(good, 'G1 Z18 F2000', 'G1 Z17.993 F2000')],
  [
    'up-cut edges that graze the face over a wall',
    upCutOver('Z17.993'),
    { cutters: [router, { ...second, upCutLength: 5 }] },
  ],
  [
    'a cutter that grazes the face',
    before(LAST, 'G0 Z28', 'G0 X60 Y60', 'G1 Z18.5', 'G1 X70 Z17.995 F8000', 'G1 X72'),
  ],
  [
    'tabs in the middle of three sides of four',
    good.flatMap((l, i) =>
      i === good.lastIndexOf('G1 Y47') ? ['G1 Y90', 'G1 Y87 Z3', 'G1 Y73', 'G1 Y69.8 Z-0.2', l] : [l],
    ),
  ],
];

const rulesOf = (program: readonly string[], change: Partial<ProveInput> = {}) => {
  const out = proveProgram(inputFor(clip, text(program), change));
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.proof.rules;
};

describe('a program by an enemy is refused', () => {
  for (const [what, id, line, program, change] of ENEMIES)
    it(`${id}: ${what}`, () => {
      const rules = rulesOf(program, change);
      const rule = rules.find((r) => r.rule === id)!;
      expect(rule.verdict).toBe('fail');
      if (line !== undefined) expect(rule.findings[0]!.line).toBe(line);
      // What fails has no room left.
      for (const r of rules) if (r.verdict === 'fail') expect(r.margin ?? -1).toBeLessThan(0);
    });
});

describe('a program that only looks like it passes', () => {
  for (const [what, program, change] of FRIENDS)
    it(what, () => {
      expect(rulesOf(program, change).filter((r) => r.verdict === 'fail')).toEqual([]);
    });

  it('at the machine’s greatest feed, rounded to a millionth of an inch', () => {
    const inches = good.map((l) =>
      l
        .replace('G21', 'G20')
        .replace(/([XYZF])(-?[\d.]+)/g, (_, c: string, v: string) => c + Math.round((+v / 25.4) * 1e6) / 1e6),
    );
    expect(inches.join()).toContain('F118.110236');
    const at = (maxFeed: number) =>
      rulesOf(inches, { machine: { ...machine, maxFeed } }).find((r) => r.rule === 'P14')!;
    // 118.110236 in/min are 2999.9999944 mm/min, and F157.480315 4000.000001.
    expect(at(4000)).toMatchObject({ verdict: 'pass', margin: 0 });
    expect(at(3999)).toMatchObject({ verdict: 'fail' });
    expect(at(3999).margin).toBeCloseTo(-1, 5);
  });

  it('wherever its zero lies, when the parts are found by what is cut', () => {
    const program = before(4, 'G10 L2 P1 X0.1', 'G55');
    expect(rulesOf(program).find((r) => r.rule === 'P02')!.verdict).toBe('fail');
    expect(rulesOf(program, { zeroAnywhere: true }).filter((r) => r.verdict === 'fail')).toEqual([]);
  });
});

it('a scratch is as deep as it is, whatever is far away', () => {
  const deep = before(LAST, 'G0 Z28', 'G0 X60 Y60', 'G1 Z18.5', 'G1 X70 Z17.95 F1500', 'G1 X72');
  const rule = rulesOf(deep).find((r) => r.rule === 'P08')!;
  expect(rule.findings).toHaveLength(1);
  expect(rule.findings[0]).toMatchObject({ part: 'A', amount: 0.05 });
  expect(rule.findings[0]!.message).toBe('The face of A is cut 0.05 mm deep where it shall stand.');
  expect(rule.margin).toBeCloseTo(0.01 - 0.05, 6);
});

describe('a hole that is too deep', () => {
  const part = {
    ...plate,
    holes: [{ id: 'A.pin', centre: { x: 65, y: 60 }, diameter: 6, face: 'n+' as const, depth: 10 }],
  };
  const drilledTo = (z: number) =>
    rulesOf(
      good.flatMap((l, i) =>
        i === 1 ? ['T2 M6', 'S6000 M3', 'G0 Z28', 'G0 X65 Y60', `G1 Z${z} F500`, 'G1 Z28', 'M5', l] : [l],
      ),
      { cutters: [router, drill], items: [{ item: 'A', piece: 1, part }] },
    ).filter((r) => r.verdict === 'fail');

  it('is off by as much as it is too deep, not by its way to the next edge', () => {
    expect(drilledTo(8)).toEqual([]);
    expect(drilledTo(7.995)).toEqual([]);
    const [p08, p10] = drilledTo(7.95);
    expect(p08).toMatchObject({ rule: 'P08', findings: [{ part: 'A', feature: 'A.pin', amount: 0.05 }] });
    expect(p08!.margin).toBeCloseTo(0.01 - 0.05, 6);
    expect(p08!.findings).toHaveLength(1);
    expect(p10).toMatchObject({ rule: 'P10' });
  });

  it('and one that comes through the sheet is off by all that stood under its floor', () => {
    const [p08] = drilledTo(-0.2);
    expect(p08).toMatchObject({ rule: 'P08', findings: [{ part: 'A', feature: 'A.pin', amount: 8 }] });
  });
});
