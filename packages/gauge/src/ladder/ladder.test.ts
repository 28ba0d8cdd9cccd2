import { pointInRing, ringArea, ringBounds, ringProblems, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FELT, type FeltAnswer } from './felt.js';
import { ladderParts } from './ladder-parts.js';
import { readLadder } from './read-ladder.js';
import { rungsOf, USUAL_STEPS } from './rungs.js';

const rungs = rungsOf(USUAL_STEPS);

/** How a plug would feel in a rung of this clearance, with thresholds at these clearances. */
const feltAt = (clearance: number, mallet: number, hand: number, rattle: number) =>
  FELT[clearance < mallet ? 0 : clearance < hand ? 1 : clearance < rattle ? 2 : 3]!;

describe('rungsOf', () => {
  it('steps about the wanted clearance, tightest first', () => {
    expect(rungs.map((r) => r.id).join(' ')).toBe('x1 x2 x3 x4 x5 x6 x7 y1 y2 y3');
    expect(rungs.map((r) => r.clearance)).toEqual([-0.05, 0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.05, 0.1, 0.15]);
  });
});

describe('ladderParts', () => {
  const cut = (thickness: number, cutterDiameter: number) =>
    ladderParts({ steps: USUAL_STEPS, thickness, cutterDiameter });

  it('draws plates that can be cut, for any sheet and cutter', () => {
    fc.assert(
      fc.property(fc.integer({ min: 90, max: 250 }), fc.integer({ min: 30, max: 85 }), (t, d) => {
        for (const p of cut(t / 10, d / 10).parts) {
          expect(ringProblems(p.outline.ring)).toEqual([]);
          expect(ringArea(p.outline.ring)).toBeGreaterThan(0);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('has a name for every place that is tried, written on the comb itself', () => {
    const relief = { form: 'diagonal', radius: 3, surplus: 0.1 } as const;
    const ladder = ladderParts({
      steps: USUAL_STEPS,
      thickness: 17.7,
      cutterDiameter: 6,
      relief,
      housingDepth: 8,
    });
    expect(ladder.names.map((n) => n.id)).toEqual([...rungs.map((r) => r.id), 'slot', 'peg', 'r1', 'h1']);
    for (const { id, at } of ladder.names)
      expect(pointInRing(ladder.parts[0]!.outline.ring, at), id).toBe('inside');
  });

  it('gives every rung its width and every axis its direction', () => {
    const { parts } = cut(17.7, 6);
    const segments = ringSegments(parts[0]!.outline.ring);
    // Rung floors are 17.7 + clearance long; those across X lie 30 mm above the lower edge.
    const floors = segments.filter((s) => Math.abs(s.from.y - 30) < 1e-9 && Math.abs(s.to.y - 30) < 1e-9);
    const widths = floors.map((s) => +Math.abs(s.to.x - s.from.x).toFixed(4));
    expect(widths).toEqual([17.65, 17.7, 17.75, 17.8, 17.85, 17.9, 17.95]);
    const right = Math.max(...segments.map((s) => s.from.x)) - 30;
    const across = segments.filter(
      (s) => Math.abs(s.from.x - right) < 1e-9 && Math.abs(s.to.x - right) < 1e-9 && s.to.y > s.from.y,
    );
    expect(across.map((s) => +(s.to.y - s.from.y).toFixed(4))).toEqual([17.75, 17.8, 17.85]);
  });

  it('has a notch and a peg of the gauge width', () => {
    const { parts, gaugeWidth } = cut(17.7, 6);
    const { vertices } = parts[0]!.outline.ring;
    const height = Math.max(...vertices.map((v) => v.y));
    const top = ringSegments(parts[0]!.outline.ring).filter((s) => s.from.y === height && s.to.y === height);
    expect(top.some((s) => Math.abs(s.from.x - s.to.x) === gaugeWidth)).toBe(true);
    const floor = ringSegments(parts[0]!.outline.ring).filter(
      (s) => s.from.y === height - 30 && s.to.y === height - 30,
    );
    expect(floor.some((s) => Math.abs(Math.abs(s.from.x - s.to.x) - gaugeWidth) < 1e-9)).toBe(true);
  });
});

describe('what is tried in a ladder besides its rungs', () => {
  const whole = (t: number, d: number, form: 'diagonal' | 'along the wall' | 'least') =>
    ladderParts({
      steps: USUAL_STEPS,
      thickness: t,
      cutterDiameter: d,
      relief: { form, radius: d / 2, surplus: 0.1 },
      housingDepth: 8,
    });
  const sizes = fc.tuple(fc.integer({ min: 90, max: 250 }), fc.integer({ min: 30, max: 85 }));

  it('is drawn so that it can be cut, for any sheet, cutter and form of relief', () => {
    fc.assert(
      fc.property(sizes, fc.constantFrom('diagonal', 'along the wall', 'least'), ([t, d], form) => {
        const { parts, relieved, housing } = whole(t / 10, d / 10, form as 'diagonal');
        const [comb] = parts;
        expect(ringProblems(comb!.outline.ring)).toEqual([]);
        expect([housing?.clearance, housing?.depth]).toEqual([0.1, 8]);
        // Where the slot is twice as wide as the cutter, two reliefs always have room in it.
        if (t + 1 > 2 * d + 3) expect(relieved?.clearance).toBe(0.1);
        expect(comb!.outline.reliefs).toHaveLength(relieved ? 2 : 0);
        // The housing lies within the comb, clear of rungs, gauge notch and the hole that marks the middle rung.
        const box = ringBounds(comb!.pockets[0]!.ring);
        for (const s of ringSegments(comb!.outline.ring))
          expect(
            s.from.x <= box.minX - 5 ||
              s.from.x >= box.maxX + 5 ||
              s.from.y <= box.minY - 5 ||
              s.from.y >= box.maxY + 5,
          ).toBe(true);
        for (const h of comb!.holes) expect(h.centre.y + h.diameter / 2).toBeLessThan(box.minY - 2);
        expect(box.maxX - box.minX).toBeGreaterThan(60 + d / 10);
        expect(+(box.maxY - box.minY).toFixed(4)).toBe(+(t / 10 + 0.1).toFixed(4));
      }),
      { numRuns: 60 },
    );
  });

  it('lets a square arris into both corners of the relieved rung, by the surplus', () => {
    const { parts, mating } = whole(17.7, 6, 'diagonal');
    const { reliefs } = parts[0]!.outline;
    expect(reliefs).toHaveLength(2);
    for (const r of reliefs)
      expect(r.radius - Math.hypot(r.centre.x - r.corner.x, r.centre.y - r.corner.y)).toBeCloseTo(0.1, 9);
    const [a, b] = reliefs.map((r) => r.corner.x);
    expect(Math.abs(a! - b!)).toBeCloseTo(17.8, 9);
    expect(mating).toContain('ladder.outline/r0');
  });

  it('leaves the grip faces whole where reliefs run along the wall', () => {
    const { parts } = whole(17.7, 6, 'along the wall');
    const [a, b] = parts[0]!.outline.reliefs;
    // Each disc touches its wall from inside: none reaches beyond the slot's 17.8 mm.
    expect(Math.abs(a!.centre.x - b!.centre.x) + 2 * 3).toBeCloseTo(17.8, 9);
  });

  it('is left out where the job has neither', () => {
    const plain = ladderParts({ steps: USUAL_STEPS, thickness: 17.7, cutterDiameter: 6 });
    expect([plain.relieved, plain.housing, plain.parts[0]!.pockets.length]).toEqual([null, null, 0]);
  });
});

describe('readLadder', () => {
  const read = (answers: readonly FeltAnswer[]) => readLadder(rungs, answers);
  const value = (answers: readonly FeltAnswer[]) => {
    const found = read(answers);
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    return found.value;
  };

  it('bounds every threshold of any plug between two rungs', () => {
    const threshold = fc.integer({ min: -4, max: 24 }).map((n) => n / 100 + 0.005);
    fc.assert(
      fc.property(threshold, threshold, threshold, (a, b, c) => {
        const [mallet, hand, rattle] = [a, b, c].sort((p, q) => p - q) as [number, number, number];
        fc.pre(rungs.some((r) => feltAt(r.clearance, mallet, hand, rattle) === 'hand'));
        const found = value(
          rungs.map((r) => ({ rung: r.id, felt: feltAt(r.clearance, mallet, hand, rattle) })),
        );
        const { from, to } = found.thresholds.hand;
        if (from !== null) expect(from).toBeLessThan(hand);
        expect(to!).toBeGreaterThanOrEqual(hand);
        expect(found.snug).toBe(to);
        expect(found.drive).toBeLessThanOrEqual(found.snug);
        expect(found.slip).toBeGreaterThanOrEqual(found.snug);
      }),
    );
  });

  it('follows answers that move by two rungs with exactly two steps', () => {
    const answers = (n: number): FeltAnswer[] => [
      { rung: `x${n}`, felt: 'mallet' },
      { rung: `x${n + 1}`, felt: 'hand' },
      { rung: `x${n + 3}`, felt: 'rattles' },
    ];
    const [a, b] = [value(answers(1)), value(answers(3))];
    expect(b.snug - a.snug).toBeCloseTo(0.1, 9);
    expect(b.drive - a.drive).toBeCloseTo(0.1, 9);
    expect(b.slip - a.slip).toBeCloseTo(0.1, 9);
  });

  it('is content with three answers', () => {
    const found = value([
      { rung: 'x2', felt: 'mallet' },
      { rung: 'x3', felt: 'hand' },
      { rung: 'x7', felt: 'rattles' },
    ]);
    expect(found.snug).toBe(0.05);
    expect(found.thresholds.hand).toEqual({ from: 0, to: 0.05 });
    expect(found.u).toBeCloseTo(0.05 / Math.sqrt(12), 9);
  });

  it('keeps slip apart from snug where a rung of the same width across Y says the same', () => {
    const three: FeltAnswer[] = [
      { rung: 'x3', felt: 'mallet' },
      { rung: 'x4', felt: 'hand' },
      { rung: 'x7', felt: 'rattles' },
    ];
    const before = value(three);
    expect([before.snug, before.slip]).toEqual([0.1, 0.2]);
    const after = value([...three, { rung: 'y2', felt: 'hand' }]);
    expect([after.snug, after.slip]).toEqual([0.1, 0.2]);
    // One more rung by hand, with the rattling known where it was: nothing is drawn tighter.
    expect(value([...three, { rung: 'x5', felt: 'hand' }]).slip).toBe(0.2);
    expect(value([{ rung: 'x6', felt: 'rattles' }, { rung: 'x5', felt: 'hand' }, ...three]).slip).toBe(0.15);
  });

  it('never draws slip tighter for one more rung that goes home by hand', () => {
    const some = fc.subarray(['x3', 'x4', 'x5', 'y1', 'y2', 'y3'], { minLength: 1 });
    fc.assert(
      fc.property(some, fc.boolean(), (ids, rattled) => {
        const answers = [
          ...ids.map((rung): FeltAnswer => ({ rung, felt: 'hand' })),
          ...(rattled ? [{ rung: 'x7', felt: 'rattles' } as const] : []),
        ];
        const all = value([...answers, { rung: 'x3', felt: 'hand' }]);
        for (const rung of ['x3', 'x4', 'x5', 'y1', 'y2', 'y3'])
          expect(value([...answers, { rung: 'x3', felt: 'hand' }, { rung, felt: 'hand' }]).slip).toBe(
            all.slip,
          );
      }),
    );
  });

  it('says what it assumes where fewer than three rungs were answered, and how little is known of each', () => {
    const one = read([{ rung: 'x4', felt: 'hand' }]);
    expect(one.diagnostics.map((d) => [d.code, d.level])).toEqual([['ladder/few-answers', 'warning']]);
    expect(one.diagnostics[0]!.message).toContain('one answer says little');
    expect(one.diagnostics[0]!.message).toContain('snug is taken as 0.1 mm and may lie well below');
    expect(one.diagnostics[0]!.message).toContain('drive is assumed at 0.075 mm');
    expect(one.diagnostics[0]!.message).toContain('slip is assumed at 0.2 mm');
    const two: FeltAnswer[] = [
      { rung: 'x3', felt: 'mallet' },
      { rung: 'x4', felt: 'hand' },
    ];
    expect(read(two).diagnostics.map((d) => [d.code, d.level])).toEqual([['ladder/few-answers', 'note']]);
    const three = read([...two, { rung: 'x5', felt: 'rattles' }]);
    expect(three.diagnostics).toEqual([]);
    const whole = value([...two, { rung: 'x2', felt: "won't enter" }, { rung: 'x5', felt: 'rattles' }]);
    if (!one.ok) throw new Error('not read');
    for (const u of ['u', 'driveU', 'slipU'] as const) expect(whole[u]).toBeLessThan(one.value[u]);
  });

  const code = (answers: readonly FeltAnswer[]) => read(answers).diagnostics[0]?.code;

  it('names answers that contradict each other', () => {
    expect(
      code([
        { rung: 'x3', felt: 'hand' },
        { rung: 'x5', felt: 'mallet' },
      ]),
    ).toBe('ladder/answers-contradict');
  });

  it('names one rung answered in two ways, whichever was said first, and takes the same answer twice for one', () => {
    const both = (a: FeltAnswer['felt'], b: FeltAnswer['felt']) =>
      read([
        { rung: 'x4', felt: a },
        { rung: 'x4', felt: b },
      ]).diagnostics;
    for (const said of [both('hand', 'mallet'), both('mallet', 'hand')]) {
      expect(said.map((d) => d.code)).toEqual(['ladder/answered-twice']);
      expect(said[0]!.message).toContain('rung x4 was answered');
      expect(said[0]!.message).toContain('"hand"');
      expect(said[0]!.message).toContain('"mallet"');
    }
    expect(both('hand', 'hand').filter((d) => d.level === 'error')).toEqual([]);
  });

  it('does not mind in which order rungs and answers come', () => {
    const answers: FeltAnswer[] = [
      { rung: 'x3', felt: 'mallet' },
      { rung: 'x4', felt: 'hand' },
      { rung: 'x6', felt: 'hand' },
      { rung: 'x7', felt: 'rattles' },
      { rung: 'y2', felt: 'hand' },
    ];
    fc.assert(
      fc.property(
        fc.shuffledSubarray(answers, { minLength: 5 }),
        fc.shuffledSubarray(rungs, { minLength: 10 }),
        (said, given) => {
          expect(readLadder(given, said)).toEqual(readLadder(rungs, answers));
        },
      ),
    );
    expect(() => readLadder([...rungs, rungs[0]!], answers)).toThrow(RangeError);
  });

  it('names axes that disagree by more than one step', () => {
    expect(
      code([
        { rung: 'x2', felt: 'hand' },
        { rung: 'y2', felt: 'mallet' },
        { rung: 'y3', felt: 'hand' },
      ]),
    ).toBe('ladder/axes-disagree');
    // One step apart may be chance: the thresholds lie between rungs.
    expect(
      code([
        { rung: 'x4', felt: 'hand' },
        { rung: 'x3', felt: 'mallet' },
        { rung: 'y2', felt: 'mallet' },
        { rung: 'y3', felt: 'hand' },
      ]),
    ).toBeUndefined();
  });

  it('names a ladder that nothing entered, or that rattles throughout', () => {
    expect(code(rungs.map((r) => ({ rung: r.id, felt: "won't enter" as const })))).toBe('ladder/too-narrow');
    expect(code(rungs.map((r) => ({ rung: r.id, felt: 'rattles' as const })))).toBe('ladder/too-wide');
  });

  it('names unknown rungs and silence', () => {
    expect(code([{ rung: 'x9', felt: 'hand' }])).toBe('ladder/unknown-rung');
    expect(code([])).toBe('ladder/no-answers');
  });
});
