import { loadClip, rectangleRing } from '@haunch/geometry';
import type { Finding, Proof, RuleResult } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { type ProveInput, proveProgram } from '../src/index.js';
import {
  board,
  contour,
  ends,
  fixed,
  inputFor,
  joint,
  lines,
  machine,
  plate,
  router,
  swap,
  tagged,
  text,
} from './plate.js';

const clip = await loadClip();

function proof(program: readonly string[], change: Partial<ProveInput> = {}): Proof {
  const out = proveProgram(inputFor(clip, text(program), change));
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  return out.value.proof;
}
const rule = (p: Proof, id: string): RuleResult => p.rules.find((r) => r.rule === id)!;
const failing = (p: Proof): string[] => p.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);
const first = (p: Proof, id: string): Finding => rule(p, id).findings[0]!;
const lineOf = (program: readonly string[], block: string): number => program.indexOf(block) + 1;

describe('a sound program', () => {
  it('passes every rule', () => {
    expect(proof(lines()).rules.filter((r) => r.verdict !== 'pass')).toEqual([]);
  });

  it('gives the same proof twice, to the byte', () => {
    expect(JSON.stringify(proof(lines()))).toBe(JSON.stringify(proof(lines())));
  });

  it('passes with the zero on the sheet’s top as well', () => {
    const lower = lines().map((l) =>
      l.replace(/Z(-?[\d.]+)/, (_, z: string) => `Z${Math.round((+z - 18) * 1000) / 1000}`),
    );
    const p = proof(lower, {
      machine: { ...machine, zZero: 'top', envelope: { ...machine.envelope, z: [-25, 60] } },
    });
    expect(failing(p)).toEqual([]);
  });
});

describe('the zoo of wrong programs', () => {
  const good = lines();
  const caught = (id: string, program: readonly string[], change: Partial<ProveInput> = {}): Finding => {
    const p = proof(program, change);
    expect(failing(p)).toContain(id);
    expect(p.pass).toBe(false);
    return first(p, id);
  };

  it('P01: a word that cannot be read, with the line and the part there', () => {
    const f = caught('P01', swap(good, 'G1 Y80.2', 'G1 Y80..2'));
    expect(f).toMatchObject({ part: 'A', feature: 'A.m1', joint: 'M-A-B' });
    expect(f.line).toBe(lineOf(good, 'G1 Y80.2'));
  });

  it('P02: no unit before the first motion', () => {
    expect(caught('P02', swap(good, 'G21 G90 G17 G94', 'G90 G17 G94')).line).toBe(4);
  });

  it('P02: a coordinate system whose origin nobody has set', () => {
    expect(caught('P02', swap(good, 'G21 G90 G17 G94', 'G21 G90 G17 G94 G55')).line).toBe(1);
    expect(caught('P02', swap(good, 'G21 G90 G17 G94', 'G21 G90 G17 G94 G59.3')).message).toContain('G59.3');
  });

  it('P02: travel before the height is said', () => {
    expect(caught('P02', swap(good, 'G0 Z28', 'G4 P0')).line).toBe(5);
  });

  it('P03: the spindle never started', () => {
    expect(caught('P03', swap(good, 'S18000 M3', 'S18000')).part).toBe('A');
  });

  it('P03: the spindle turning backwards', () => {
    caught('P03', swap(good, 'S18000 M3', 'S18000 M4'));
  });

  it('P03: a cut without a feed', () => {
    const silent = good.map((l) => l.replace(/ F\d+/, ''));
    expect(failing(proof(silent)).some((id) => id === 'P03' || id === 'P01')).toBe(true);
  });

  it('P04: a rapid through the sheet, which also cuts', () => {
    const program = swap(good, 'G1 X114 Z15.75 F1500', 'G0 X114 Z15.75', 'G1 F1500');
    const f = caught('P04', program);
    expect(f.line).toBe(7);
    // Half a step of a coarse program is forgiven of the clearance height.
    expect(f.amount).toBeCloseTo(12.25 - 0.0127, 6);
  });

  it('P04: a rapid between two cuts a little below clearance', () => {
    caught('P04', swap(good, 'G1 Z28 F4000', 'G1 Z20 F4000'));
  });

  it('P05: beyond the machine', () => {
    const small = { ...machine, envelope: { ...machine.envelope, x: [0, 150] as const } };
    expect(caught('P05', good, { machine: small }).amount).toBeCloseTo(3, 6);
  });

  it('P06: too deep into the bed', () => {
    expect(
      caught(
        'P06',
        good.map((l) => l.replace('Z-0.2', 'Z-0.8')),
      ).amount,
    ).toBeCloseTo(0.3, 6);
  });

  it('P07: over a screw that lies in the path', () => {
    const screwed = {
      ...board,
      keepOuts: [rectangleRing(150, 120, 160, 130), rectangleRing(60, 114, 64, 118)],
    };
    const f = caught('P07', good, { board: screwed });
    expect(f.amount).toBeCloseTo(2, 6);
  });

  it('P08: the outline 0.05 inside, with line, part and depth', () => {
    const f = caught(
      'P08',
      good.map((l) => l.replace('X153', 'X152.95')),
    );
    expect(f).toMatchObject({ part: 'A', feature: 'A', joint: 'M-A-B' });
    expect(f.amount).toBeCloseTo(0.05, 3);
    expect(good[f.line! - 1]).toBe('G1 Y47');
  });

  it('P08: a corner cut off, though both ends of the cut lie on the contour', () => {
    // From (153, 113) straight to (153, 47) becomes a way that leaves the corner (150, 50) 2 mm short.
    const i = good.lastIndexOf('G1 Y47');
    const program = [...good.slice(0, i), 'G1 Y50', 'G1 X150 Y47', ...good.slice(i + 1)];
    const f = caught('P08', program);
    expect(f.amount).toBeCloseTo(3 - 3 / Math.SQRT2, 3);
  });

  it('P08: a shallow scratch across the part', () => {
    const f = caught('P08', swap(good, 'G1 Z28 F4000', 'G1 Z17.5', 'G1 X60 Y60', 'G1 Z28 F4000'));
    expect(f.part).toBe('A');
  });

  it('P09: 0.05 left on the outline', () => {
    const f = caught(
      'P09',
      good.map((l) => l.replace('X153', 'X153.05')),
    );
    expect(f.amount).toBeCloseTo(0.05, 3);
  });

  it('P09: a mortise that is not there', () => {
    const i = good.indexOf('G1 Z18 F2000');
    const j = good.indexOf('G1 Z28 F4000');
    expect(caught('P09', [...good.slice(0, i), ...good.slice(j)]).message).toContain('A.m1 of A is not cut');
  });

  it('P09: a mortise that stops above the underside', () => {
    const j = good.indexOf('G1 Z28 F4000');
    const program = good.map((l, k) => (k < j ? l.replace('Z-0.2', 'Z0.2') : l));
    expect(caught('P09', program).message).toContain('below 17.8 mm');
  });

  it('P09: an outline that is not closed above the tabs', () => {
    // All passes stop 20 mm short on the right-hand side.
    const program = good.flatMap((l) =>
      l === 'G1 Y47' ? ['G1 Y90', 'G1 Z18.5', 'G1 Y70', 'G1 Z9', 'G1 Y47'] : [l],
    );
    expect(failing(proof(program))).toContain('P09');
  });

  describe('P09: a trimming cut', () => {
    const trims = [{ along: 'y', at: 175, waste: 'above' }] as const;
    const asked = { board: { ...board, trims } };
    const pass = (z: number, ...between: string[]): string[] => [
      'G0 X178 Y-4',
      `G1 Z${fixed(z)} F2000`,
      ...between,
      'G1 Y164 F3000',
      'G0 Z28',
    ];
    const tab = ['G1 Y66 F3000', 'G1 Y69.2 Z3 F1500', 'G1 Y83.2', 'G1 Y86.4 Z-0.2'];
    const trimmed = (...passes: string[]): string[] => swap(good, 'M5', ...passes, 'M5');

    it('that is there, hanging on its tab, passes', () => {
      expect(failing(proof(trimmed(...pass(9), ...pass(-0.2, ...tab)), asked))).toEqual([]);
    });

    it('that another crosses has its edge all the same', () => {
      const crossed = {
        board: { ...board, trims: [...trims, { along: 'x', at: 20, waste: 'below' }] as const },
      };
      const across = (z: number, ...between: string[]): string[] =>
        pass(z, ...between).map((l) => l.replace('X178 Y-4', 'X-4 Y17').replace('Y164', 'X204'));
      const both = [...pass(9), ...pass(-0.2, ...tab), ...across(9)];
      const turned = tab.map((l) => l.replace('Y', 'X'));
      expect(failing(proof(trimmed(...both, ...across(-0.2, ...turned)), crossed))).toEqual([]);
      expect(caught('P09', trimmed(...both), crossed).message).toContain(
        'trim-2 along X at 20 mm is not cut below',
      );
    });

    it('that is not there', () => {
      const f = caught('P09', good, asked);
      expect(f.message).toBe('trim-1 along Y at 175 mm is not cut.');
      expect(f.at).toEqual({ x: 175.6, y: 1 });
    });

    it('that stops half way along, or half way down', () => {
      const short = trimmed(...pass(9), ...pass(-0.2, ...tab)).map((l) => l.replace('Y164', 'Y120'));
      expect(caught('P09', short, asked).message).toMatch(
        /^trim-1 along Y at 175 mm is not cut over 3\d(\.\d+)? mm\.$/,
      );
      expect(caught('P09', trimmed(...pass(9)), asked).message).toContain(
        'is not cut below 9 mm from the top.',
      );
    });

    it('that lies beside its place', () => {
      const off = trimmed(...pass(9), ...pass(-0.2, ...tab)).map((l) => l.replace('X178', 'X178.05'));
      expect(caught('P09', off, asked).message).toContain('lies 0.05 mm beside its place');
    });
  });

  it('P10: a housing 0.05 too shallow and one 0.05 too deep', () => {
    const housed = {
      ...plate,
      through: [],
      pockets: [{ ...contour('A.h1', tagged('A.h1', 80, 70, 120, 88.1)), face: 'n+' as const, depth: 9 }],
    };
    const j = good.indexOf('G1 Z28 F4000');
    // The second pass of the mortise goes: what is left is a housing of 9 mm.
    const second = good.indexOf('G1 X114 Z6.7 F1500');
    const pocket = [...good.slice(0, second), ...good.slice(j)];
    const change = { items: [{ item: 'A', piece: 1, part: housed }], joints: [] };
    expect(failing(proof(pocket, change))).toEqual([]);
    for (const z of ['9.05', '8.95']) {
      const off = pocket.map((l, k) => (k < second ? l.replace(/Z9$/, `Z${z}`) : l));
      const f = caught('P10', off, change);
      expect(f).toMatchObject({ part: 'A', feature: 'A.h1' });
      expect(f.amount).toBeCloseTo(0.05, 6);
    }
    expect(rule(proof(good, change), 'P10').verdict).toBe('fail');
  });

  it('P11: one tab’s rise deleted', () => {
    const program = good.map((l) => (l === 'G1 X93 Z3' ? 'G1 X93' : l));
    const f = caught('P11', program);
    expect(f).toMatchObject({ part: 'A', amount: 1 });
    expect(f.message).toContain('1 of 2 tabs');
  });

  it('P11: a tab too thin and a tab too low', () => {
    caught(
      'P11',
      good.map((l) => l.replace('X107', 'X99').replace('X110.2', 'X102.2')),
    );
    caught(
      'P11',
      good.map((l) => l.replace('Z3', 'Z1.4')),
    );
  });

  it('P11: a part held by waste that is loose itself', () => {
    // A second loop, 20 mm further out, frees the ring of waste round the plate.
    const loop = [
      'G0 X27 Y27',
      'G1 Z18',
      'G1 Y133 Z9',
      'G1 Y27 Z-0.2',
      'G1 Y133',
      'G1 X173',
      'G1 Y27',
      'G1 X27',
      'G0 Z28',
    ];
    const f = caught('P11', swap(good, 'M5', ...loop, 'M5'));
    expect(f.message).toContain('0 of 2 tabs');
    expect(f.message).toContain('loose itself');
  });

  it('P11: a slug that is neither held nor cut to chips', () => {
    // Without the strokes in the middle a strip of 34 × 6.1 − … stays: the walls’ kerfs are 6 mm each.
    const wide = { ...plate, through: [contour('A.m1', tagged('A.m1', 72, 62, 128, 98))] };
    const walls = (z: number, from: number) => [
      `G1 X125 Z${(from + z) / 2}`,
      `G1 X75 Z${z}`,
      'G1 X125',
      'G1 Y95',
      'G1 X75',
      'G1 Y65',
    ];
    const i = good.indexOf('G0 X86 Y78');
    const j = good.indexOf('G1 Z28 F4000');
    const program = [
      ...good.slice(0, i),
      'G0 X75 Y65',
      'G1 Z18 F1500',
      ...walls(9, 18),
      ...walls(-0.2, 9),
      ...good.slice(j),
    ];
    const p = proof(program, { items: [{ item: 'A', piece: 1, part: wide }], joints: [] });
    expect(failing(p)).toEqual(['P11', 'P18'].filter((id) => failing(p).includes(id)));
    expect(first(p, 'P11')).toMatchObject({ part: 'A', feature: 'A.m1' });
  });

  it('P12: the mortise cut after the plate has come loose', () => {
    const i = good.indexOf('G0 X86 Y78');
    const j = good.indexOf('G1 Z28 F4000') + 1;
    const k = good.indexOf('M5');
    const free = good.slice(j, k).map((l) => l.replace(' Z3', ' Z-0.2'));
    const program = [...good.slice(0, i), ...free, ...good.slice(i, j), ...good.slice(k)];
    expect(caught('P12', program)).toMatchObject({ part: 'A' });
    // Held by its tabs, the same order is no fault.
    const held = [...good.slice(0, i), ...good.slice(j, k), ...good.slice(i, j), ...good.slice(k)];
    expect(failing(proof(held))).toEqual([]);
  });

  it('P12: a slug cut again after its loop has freed it', () => {
    const wide = { ...plate, through: [contour('A.m1', tagged('A.m1', 72, 62, 128, 98))] };
    const walls = ['G1 X125 Z9', 'G1 X75 Z-0.2', 'G1 X125', 'G1 Y95', 'G1 X75', 'G1 Y65'];
    const strokes = [
      'G1 Y70',
      'G1 X120',
      'G1 Y75',
      'G1 X80',
      'G1 Y80',
      'G1 X120',
      'G1 Y85',
      'G1 X80',
      'G1 Y90',
      'G1 X120',
    ];
    const i = good.indexOf('G0 X86 Y78');
    const j = good.indexOf('G1 Z28 F4000');
    const change = { items: [{ item: 'A', piece: 1, part: wide }], joints: [] };
    const after = [...good.slice(0, i), 'G0 X75 Y65', 'G1 Z18 F1500', ...walls, ...strokes, ...good.slice(j)];
    expect(caught('P12', after, change)).toMatchObject({ part: 'A', feature: 'A.m1' });
    const inside = [
      'G0 X80 Y70',
      'G1 Z18 F1500',
      'G1 X120 Z9',
      'G1 X80 Z-0.2',
      'G1 X120',
      ...strokes.slice(2),
      'G1 X80',
      'G1 Y70',
      'G1 X75 Y65',
      ...walls.slice(2),
    ];
    const before = [...good.slice(0, i), ...inside, ...good.slice(j)];
    expect(rule(proof(before, change), 'P12').verdict).toBe('pass');
  });

  it('P09: what is not cut round at all hangs on no tabs, nor do tabs stand on its edges', () => {
    const all = { ...ends, id: 'round', contour: 'A', walls: ['A/e0', 'A/e1', 'A/e2', 'A/e3'] };
    const nothing = good.slice(0, good.indexOf('G0 X47 Y60')).concat('M5', 'M30');
    const p = proof(nothing, { joints: [{ ...joint, fits: [...joint.fits, all] }] });
    expect(first(p, 'P09').message).toBe('A of A is not cut.');
    expect(failing(p)).not.toContain('P11');
    expect(failing(p)).not.toContain('P13');
  });

  it('P13: a tab on an edge that another plate meets', () => {
    const met = {
      ...joint,
      fits: [...joint.fits, { ...ends, id: 'top', contour: 'A', walls: ['A/e2'], wanted: 0.1 }],
    };
    const f = caught('P13', good, { joints: [met] });
    expect(f).toMatchObject({ part: 'A', feature: 'A', joint: 'M-A-B' });
    // One of the strokes of the last round, that leads over a tab or up to it.
    expect(f.line).toBeGreaterThan(lineOf(good, 'G1 Y60 Z-0.2'));
  });

  it('P14: a feed and a speed that the machine does not do', () => {
    expect(caught('P14', good, { machine: { ...machine, maxFeed: 2500 } }).amount).toBeCloseTo(500, 6);
    caught('P14', good, { machine: { ...machine, maxRpm: 12_000 } });
  });

  it('P15: a tool that nobody described, and a cut with none in hand', () => {
    expect(caught('P15', swap(good, 'T1 M6', 'T7 M6')).line).toBe(2);
    caught('P15', swap(good, 'T1 M6', 'G4 P0'), {
      cutters: [router, { ...router, id: 'other', number: 2, diameter: 8 }],
    });
  });

  it('P15: says so when it takes the only cutter for a text that names none', () => {
    const p = proof(swap(good, 'T1 M6', 'G4 P0'));
    expect(rule(p, 'P15')).toMatchObject({ verdict: 'not judged' });
    expect(failing(p)).toEqual([]);
  });

  it('P16: a slot that is too tight, too slack, or full', () => {
    const walls = (y: string) => good.map((l) => l.replace('Y85.1', y));
    expect(caught('P16', walls('Y85.02')).message).toContain('tight');
    expect(caught('P16', walls('Y85.17')).message).toContain('slack');
    expect(caught('P16', walls('Y84.6')).message).toContain('blocked');
  });

  it('P17: a text without an end, and a cutter left in the sheet', () => {
    caught('P17', good.slice(0, -1));
    const k = good.lastIndexOf('G0 Z28');
    caught('P17', [...good.slice(0, k), ...good.slice(k + 1)]);
  });

  it('P18: straight down into the sheet, but not where it is cut already', () => {
    const f = caught('P18', swap(good, 'G1 X114 Z15.75 F1500', 'G1 Z15.75 F1500', 'G1 X114'));
    expect(f.line).toBe(7);
    const again = swap(good, 'G1 Z28 F4000', 'G1 Z28 F4000', 'G0 X100 Y80.2', 'G1 Z-0.2', 'G1 Z28');
    expect(failing(proof(again))).toEqual([]);
  });

  it('P19: the first pass left out, though the shape comes out right', () => {
    const i = good.indexOf('G1 Y113 F3000');
    const round = good.slice(i, i + 5);
    expect(round.at(-1)).toBe('G1 Y60 Z9');
    const program = [...good.slice(0, i), ...good.slice(i + 5)];
    const cutters = [{ ...router, rampAngle: 0.3 }];
    expect(caught('P19', program, { cutters })).toMatchObject({ part: 'A', feature: 'A' });
    expect(failing(proof(program, { cutters }))).toEqual(['P19']);
  });

  it('P21: a cutter that is clamped too short for its cut', () => {
    const f = caught('P21', good, { cutters: [{ ...router, stickOut: 17.5 }] });
    // The tip goes 18.2 mm below the sheet's top.
    expect(f.amount).toBeCloseTo(0.7, 6);
    expect(f.message).toContain('router-6');
    expect(good[f.line! - 1]).toContain('Z-0.2');
    const enough = proof(good, { cutters: [{ ...router, stickOut: 18.2 }] });
    expect(rule(enough, 'P21')).toMatchObject({ verdict: 'pass', margin: 0 });
    // Beside the board the holder may go as low as it likes.
    const small = { ...board, outline: rectangleRing(300, 300, 320, 320) };
    const beside = proof(good, { cutters: [{ ...router, stickOut: 17.5 }], board: small });
    expect(rule(beside, 'P21').verdict).toBe('pass');
  });

  it('P21: a holder that meets a clamp which the cutter clears', () => {
    // The clamp stands 5 mm beyond the cutter's edge; the holder's face comes 8.2 mm below clearance height.
    const clamped = { ...board, keepOuts: [rectangleRing(161, 70, 190, 90)] };
    const short = { cutters: [{ ...router, stickOut: 20 }], board: clamped };
    const f = caught('P21', good, short);
    expect(f.amount).toBeCloseTo(20 - 8, 6);
    expect(f.message).toMatch(/^The holder/);
    expect(rule(proof(good, short), 'P07').verdict).toBe('pass');
    // A longer one passes above it.
    expect(rule(proof(good, { ...short, cutters: [{ ...router, stickOut: 29 }] }), 'P21').verdict).toBe(
      'pass',
    );
  });

  it('P21: a hood that meets a clamp, whatever the cutter sticks out', () => {
    const clamped = { ...board, keepOuts: [rectangleRing(161, 70, 190, 90)] };
    const hooded = { board: clamped, machine: { ...machine, hoodRadius: 40 } };
    const f = caught('P21', good, hooded);
    expect(f.message).toMatch(/^The hood/);
    expect(rule(proof(good, hooded), 'P21').margin).toBeCloseTo(8 - 40, 6);
    expect(rule(proof(good, { ...hooded, machine: { ...machine, hoodRadius: 7 } }), 'P21').verdict).toBe(
      'pass',
    );
  });

  it('P21: is not judged where neither holder nor hood is described', () => {
    const { stickOut: _, holderRadius: __, ...bare } = router;
    expect(rule(proof(good, { cutters: [bare] }), 'P21')).toMatchObject({
      verdict: 'not judged',
      margin: null,
    });
  });

  it('P20: a compression cutter that comes down along a wall', () => {
    const cutters = [{ ...router, upCutLength: 5 }];
    const f = caught('P20', good, { cutters });
    expect(f).toMatchObject({ part: 'A', feature: 'A', line: lineOf(good, 'G1 Y113 Z13.6 F1500') });
    expect(f.message).toContain('up-cut edges reach 5 mm');
    // The same ramp in the waste, and the first pass at full depth when it comes to the wall.
    const i = good.indexOf('G0 X47 Y60');
    const program = [
      ...good.slice(0, i),
      'G0 X40 Y60',
      'G1 Z18.2 F2000',
      'G1 Y113 Z13.6 F1500',
      'G1 Y60 Z9',
      'G1 X47',
      ...good.slice(i + 4),
    ];
    const away = proof(program, { cutters });
    expect(rule(away, 'P20')).toMatchObject({ verdict: 'pass', margin: 4 });
    // Nothing is said of cutters that have no up-cut edges of their own.
    expect(rule(proof(good), 'P20')).toMatchObject({ verdict: 'pass', margin: null });
  });

  it('P09: a skin lower than any tab, where the cutter came down too little after one', () => {
    const f = caught('P09', swap(good, 'G1 X89.8 Z-0.2', 'G1 X89.8 Z0.3'));
    expect(f.message).toContain('is not cut through over');
  });

  it('P09: a tab that never ends', () => {
    // The way down behind the lower tab is lost: the cutter stays high to the next word in Z.
    const f = caught('P09', swap(good, 'G1 X89.8 Z-0.2', 'G1 X89.8'));
    expect(f.message).toContain('is not cut through over');
    expect(f.line).toBeDefined();
  });
});

describe('arcs', () => {
  /** The plate with a round hole of 11 mm, bored by a helix whose cutter covers its middle. */
  const holed = {
    ...plate,
    holes: [
      {
        id: 'A.c1',
        centre: { x: 65, y: 95 },
        diameter: 11,
        face: 'n+' as const,
        depth: 'through' as const,
      },
    ],
  };
  const half = (k: number, z: string) =>
    `G3 X${k % 2 === 0 ? 62.5 : 67.5} Y95 ${z}I${k % 2 === 0 ? -2.5 : 2.5} J0`;
  const hole = [
    'G0 X67.5 Y95',
    'G1 Z18 F1500',
    ...Array.from({ length: 20 }, (_, k) => half(k, `Z${fixed(18 - 0.91 * (k + 1))} `)),
    half(0, ''),
    half(1, ''),
    'G1 Z28 F4000',
  ];
  const good = lines();
  const i = good.indexOf('G0 X47 Y60');
  const program = [...good.slice(0, i), ...hole, ...good.slice(i)];
  const change = { items: [{ item: 'A', piece: 1, part: holed }] };

  it('make a sound hole', () => {
    expect(rule(proof(program, change), 'P09').findings).toEqual([]);
    expect(failing(proof(program, change))).toEqual([]);
  });

  it('with one sign turned are caught, with line, part and joint, whichever it is', () => {
    let flipped = 0;
    program.forEach((block, at) => {
      for (const [word, letter, value] of block.matchAll(/([IJXY])(-?[\d.]+)/g)) {
        if (!block.startsWith('G3') || Number(value) === 0) continue;
        flipped++;
        const wrong = [...program];
        wrong[at] = block.replace(word, `${letter}${-Number(value)}`);
        const p = proof(wrong, change);
        const caught = failing(p).filter((id) => ['P01', 'P08', 'P09'].includes(id));
        expect(caught.length).toBeGreaterThan(0);
        const said = caught.flatMap((id) => rule(p, id).findings);
        expect(said.some((f) => f.part === 'A' && f.joint === 'M-A-B' && f.line !== undefined)).toBe(true);
      }
    });
    expect(flipped).toBe(22 * 3);
  });

  it('a core that is freed and then cut up is caught', () => {
    // A round of 16 mm leaves a core of 4 mm, which is then run over.
    const wide = { ...holed, holes: [{ ...holed.holes[0]!, diameter: 16 }] };
    const round = ['G1 X70', 'G3 X60 Y95 I-5 J0', 'G3 X70 Y95 I5 J0'];
    const core = ['G0 Z28', 'G0 X70 Y95', 'G1 Z-0.2 F500', ...round.slice(1), 'G1 X65', 'G1 Z28 F4000'];
    const p = proof([...good.slice(0, i), ...core, ...good.slice(i)], {
      items: [{ item: 'A', piece: 1, part: wide }],
    });
    expect(rule(p, 'P12')).toMatchObject({ verdict: 'fail' });
    expect(first(p, 'P12')).toMatchObject({ part: 'A', feature: 'A.c1' });
    expect(rule(proof(program, change), 'P12').verdict).toBe('pass');
  });
});

describe('texts out of all proportion', () => {
  const good = lines();

  it('are refused by rule, and soon', () => {
    for (const word of ['X153000000', 'X15300000', 'X15300', 'X-90000']) {
      const p = proof(good.map((l) => l.replace('X153', word)));
      expect(failing(p)).toContain('P05');
    }
  });

  it('with many thousand blocks are judged all the same', () => {
    const scratch = Array.from(
      { length: 20_000 },
      (_, k) => `G1 X${20 + (k % 100) / 10} Y${20 + (k % 37)} Z${17 - (k % 500) / 100}`,
    );
    const p = proof(swap(good, 'M5', 'G0 X20 Y20', ...scratch, 'G1 Z28', 'M5'));
    expect(rule(p, 'P08').verdict).toBe('pass');
    expect(rule(p, 'P04').verdict).toBe('pass');
  });

  it('that cross themselves hundreds of thousands of times are not judged, and it is said where', () => {
    // 3,000 ways from side to side of a field: each crosses nearly each other.
    const scribble = Array.from(
      { length: 3000 },
      (_, k) => `G1 X${k % 2 === 0 ? 10 : 40} Y${10 + ((k * 7919) % 3000) / 20} Z17`,
    );
    const out = proveProgram(
      inputFor(clip, text(swap(good, 'M5', 'G0 X10 Y10', ...scribble, 'G1 Z28', 'M5'))),
    );
    expect(out.ok).toBe(false);
    expect(out.diagnostics[0]).toMatchObject({ code: 'prove/too-dense' });
    expect(out.diagnostics[0]!.message).toMatch(/near X\d+ Y\d+/);
  });

  it('without a motion are no proof', () => {
    for (const empty of ['', 'M30', '\u0001', '(nothing)'])
      expect(proveProgram(inputFor(clip, empty))).toMatchObject({ ok: false });
    expect(proveProgram(inputFor(clip, text(good), { cutters: [] }))).toMatchObject({ ok: false });
    expect(proveProgram(inputFor(clip, text(good), { items: [] }))).toMatchObject({ ok: false });
  });
});
