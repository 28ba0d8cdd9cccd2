import { loadClip, ring } from '@haunch/geometry';
import type { Fit, Joint, JointProof, Part, Proof } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AsCutBoard, judgeJoints, linesCutting, type ProveInput, proveProgram } from '../src/index.js';
import { board, contour, ends, inputFor, joint, lines, plate, tagged, text, thickness } from './plate.js';

const clip = await loadClip();

function prove(
  program: readonly string[],
  change: Partial<ProveInput> = {},
): { proof: Proof; asCut: AsCutBoard } {
  const out = proveProgram(inputFor(clip, text(program), change));
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('; '));
  return out.value;
}
const only = (joints: readonly JointProof[]): JointProof => joints[0]!;

/** Wants to be judged together with the ends; relief makes room for the arrises. */
const both = { ...joint, fits: [thickness, ends] };
/** The mortise with a round relief of 3 mm in each corner, the cutter's own radius, along the long walls' ends. */
const relieved: Part = {
  ...plate,
  through: [
    contour(
      'A.m1',
      ring([
        ...[
          { x: 80, y: 70, sx: 1, sy: 1 },
          { x: 120, y: 70, sx: -1, sy: 1 },
          { x: 120, y: 88.1, sx: -1, sy: -1 },
          { x: 80, y: 88.1, sx: 1, sy: -1 },
        ].flatMap(({ x, y, sx, sy }, i) => {
          // A half disc on the long wall, its diameter from the corner inwards.
          const a = { x, y };
          const b = { x: x + 6 * sx, y };
          void sy;
          const wall = { tag: `A.m1/e${i}`, bulge: 0 };
          const arc = { tag: `A.m1/r${i}`, bulge: 1 };
          return i % 2 === 0
            ? [
                { ...a, ...arc },
                { ...b, ...wall },
              ]
            : [
                { ...b, ...arc },
                { ...a, ...wall },
              ];
        }),
      ]),
      tagged('A.m1', 80, 70, 120, 88.1),
    ),
  ],
};
/** The strokes into the reliefs: the cutter's centre goes to the wall's line, 3 mm from the corner. */
const withReliefs = (): string[] => {
  const good = lines();
  return good.flatMap((l, i) =>
    l === 'G1 X83' && good[i - 1] === 'G1 Y73' && good[i - 2] === 'G1 X117'
      ? ['G1 Y70', 'G1 Y73', 'G1 X83', 'G1 Y70', 'G1 Y73']
      : l === 'G1 X117' && good[i - 1] === 'G1 Y85.1'
        ? ['G1 Y88.1', 'G1 Y85.1', 'G1 X117', 'G1 Y88.1', 'G1 Y85.1']
        : [l],
  );
};

describe('a joint as cut', () => {
  it('has the clearance that a calliper would find: path, cutter and plate, by hand', () => {
    // Path at y 73 and 85.1 with a cutter of 6: walls at 70 and 88.1; 18.1 less a plate of 18 is 0.1.
    const j = only(prove(lines()).proof.joints);
    expect(j).toMatchObject({ verdict: 'as wanted', clearance: 0.1, wanted: 0.1 });
    expect(j.fits[0]).toMatchObject({ width: 18.1, least: 0.1, most: 0.1, basis: 'as cut' });
  });

  it('tells the slot’s width along its length, and the thickness that it counts with', () => {
    const [fit] = only(prove(lines()).proof.joints).fits;
    expect(fit!.plate).toEqual({ thickness: 18, from: 'plate' });
    expect(fit!.along!.length).toBeGreaterThan(1);
    expect(fit!.along!.length).toBeLessThanOrEqual(9);
    expect(fit!.along!.every((p) => p.width === 18.1)).toBe(true);
    // The upper wall of both passes is cut slanting: 85.1 at one end, 85.14 at the other, 34 mm on.
    const slanted = lines().map((l, i, all) =>
      l === 'G1 X117' && all[i - 1] === 'G1 Y85.1' ? 'G1 X117 Y85.14' : l,
    );
    const wedge = only(prove(slanted).proof.joints).fits[0]!;
    for (const { at, width } of wedge.along!) {
      // The lower wall runs from X 80 on; the cutter's edge is 3 mm off a path from X 83 to 117.
      const x = Math.min(117, Math.max(83, 80 + at));
      expect(width).toBeCloseTo(18.1 + (0.04 * (x - 83)) / 34, 3);
    }
    expect(Math.min(...wedge.along!.map((p) => p.width))).toBe(wedge.width);
    const spot = { ...joint, fits: [{ ...thickness, local: 17.98 }] };
    expect(only(prove(lines(), { joints: [spot] }).proof.joints).fits[0]).toMatchObject({
      least: 0.12,
      plate: { thickness: 17.98, from: 'board map' },
    });
  });

  it('is tighter by δ when the cutter is smaller by δ', () => {
    // Reference value G2: inside features get smaller by what the cutter is smaller.
    const cutters = [{ ...inputFor(clip, '').cutters[0]!, diameter: 5.97 }];
    expect(only(prove(lines(), { cutters }).proof.joints).clearance).toBeCloseTo(0.07, 4);
  });

  it('follows one wall by as much as it is shifted, and leaves every other fit alone', () => {
    fc.assert(
      fc.property(fc.integer({ min: -40, max: 40 }), (hundredths) => {
        const shift = hundredths / 1000;
        const moved = withReliefs().map((l) => l.replace('Y85.1', `Y${(85.1 + shift).toFixed(3)}`));
        const change = { joints: [both], items: [{ item: 'A', piece: 1, part: relieved }] };
        const [a, b] = only(prove(moved, change).proof.joints).fits;
        expect(a!.least).toBeCloseTo(0.1 + shift, 6);
        expect(b!.least).toBeCloseTo(0.2, 6);
        expect(b!.most).toBeCloseTo(0.2, 6);
      }),
      { numRuns: 12 },
    );
  });

  it('names the lines that cut its walls, on every pass', () => {
    const good = lines();
    const found = only(prove(good).proof.joints).fits[0]!.lines.map((l) => good[l - 1]);
    // Both long walls at both depths.
    expect(found.filter((l) => l === 'G1 X117')).toHaveLength(2);
    expect(found.filter((l) => l === 'G1 X83').length).toBeGreaterThanOrEqual(2);
  });

  it('is blocked by corners that no relief opens, and free with reliefs', () => {
    const plain = only(prove(lines(), { joints: [both] }).proof.joints);
    expect(plain.verdict).toBe('blocked');
    const change = { joints: [both], items: [{ item: 'A', piece: 1, part: relieved }] };
    const p = prove(withReliefs(), change).proof;
    expect(p.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
    expect(only(p.joints).verdict).toBe('as wanted');
    // The drawing asks for reliefs that the program does not cut.
    const missing = prove(lines(), change).proof;
    expect(only(missing.joints).verdict).toBe('blocked');
    expect(missing.rules.find((r) => r.rule === 'P09')!.verdict).toBe('fail');
  });

  it('is unknown when the plate’s thickness is not said', () => {
    const p = prove(lines(), { thicknesses: {} }).proof;
    expect(only(p.joints).verdict).toBe('unknown');
    expect(p.rules.find((r) => r.rule === 'P16')).toMatchObject({ verdict: 'not judged' });
  });

  it('finds the lines of any place on an edge', () => {
    const good = lines();
    const { asCut } = prove(good);
    const found = linesCutting(asCut, { x: 150, y: 80 }).map((l) => good[l - 1]);
    expect(found).toEqual(['G1 Y47', 'G1 Y47']);
  });
});

describe('joints across boards', () => {
  // The tenon: a plate of 39.8 width, cut as the outline 50 … 89.8.
  const tenon: Part = {
    ...plate,
    id: 'B',
    outline: contour('B', tagged('B', 50, 50, 89.8, 110)),
    through: [],
  };
  const cutTenon = (right: string): string[] => {
    const good = lines();
    const i = good.indexOf('G0 X86 Y78');
    const j = good.indexOf('G1 Z28 F4000') + 1;
    const s = [...good.slice(0, i), ...good.slice(j)];
    const at = (l: string): string =>
      l
        .replace('X153', `X${right}`)
        .replace('X93', 'X66')
        .replace('X107', 'X80')
        .replace('X89.8', 'X62.8')
        .replace('X110.2', 'X83.2');
    return s.map(at);
  };
  const change = { joints: [both], items: [{ item: 'A', piece: 1, part: relieved }] };
  const tenonBoard = (right: string, piece = 1): AsCutBoard =>
    prove(cutTenon(right), {
      joints: [both],
      items: [{ item: piece === 1 ? 'B' : `B/${piece}`, piece, part: tenon }],
      board: { ...board, id: 'off-cut' },
    }).asCut;

  it('compare the mortise as cut with the tenon as cut', () => {
    const slot = prove(withReliefs(), change);
    expect(only(slot.proof.joints).fits[1]).toMatchObject({ least: 0.2, basis: 'partner as drawn' });
    for (const [right, wanted] of [
      ['92.8', 0.2],
      ['92.7', 0.3],
      ['92.98', 0.02],
    ] as const) {
      const fit = only(judgeJoints([both], [slot.asCut, tenonBoard(right)], { B: 18 })).fits[1]!;
      expect(fit.basis).toBe('as cut');
      expect(fit.least).toBeCloseTo(wanted, 6);
      // The tenon as cut, and the mortise's length along its ends.
      expect(fit.tenon!.most).toBeCloseTo(40 - wanted, 6);
      expect(fit.along!.every((p) => Math.abs(p.width - 40) < 1e-6)).toBe(true);
      expect(fit.verdict).toBe(wanted < 0.05 ? 'tight' : 'as wanted');
    }
  });

  it('join only items of one piece', () => {
    const slot = prove(withReliefs(), change).asCut;
    const [one, two] = judgeJoints([both], [slot, tenonBoard('92.7', 2)], { B: 18 });
    expect(one!.joint).toBe('M-A-B');
    expect(one!.fits[1]!.basis).toBe('partner as drawn');
    expect(two!.joint).toBe('M-A-B/2');
    expect(two!.verdict).toBe('unknown');
  });

  it('take the word of a board’s proof for a joint that lies wholly on it, and for no other', () => {
    const slot = prove(withReliefs(), change);
    const said = slot.proof.joints.map((j) => ({ ...j, type: 'said' }) as unknown as JointProof);
    const types = (boards: readonly AsCutBoard[]): string[] =>
      judgeJoints([both], boards, { B: 18 }, (b) => (b === slot.asCut ? said : [])).map((j) => j.type);
    // Alone, its partner is taken as drawn, as the board's own proof takes it.
    expect(types([slot.asCut])).toEqual(['said']);
    expect(judgeJoints([both], [slot.asCut], { B: 18 }, () => slot.proof.joints)).toEqual(
      judgeJoints([both], [slot.asCut], { B: 18 }),
    );
    expect(types([slot.asCut, tenonBoard('92.7')])).toEqual([both.type]);
    // A tenon of another piece meets nothing here.
    expect(types([slot.asCut, tenonBoard('92.7', 2)])).toEqual(['said', both.type]);
  });

  it('take the twice of the cutter’s error where a cut tenon meets a cut mortise', () => {
    // Reference value G2: a cut tab in a cut mortise tightens by 2δ.
    const cutters = [{ ...inputFor(clip, '').cutters[0]!, diameter: 5.97 }];
    const slot = prove(withReliefs(), { ...change, cutters }).asCut;
    const peg = prove(cutTenon('92.8'), {
      joints: [both],
      items: [{ item: 'B', piece: 1, part: tenon }],
      cutters,
    }).asCut;
    expect(only(judgeJoints([both], [slot, peg], { B: 18 })).fits[1]!.least).toBeCloseTo(0.2 - 0.06, 6);
  });
});

describe('a joint at an angle, as cut', () => {
  const angle = (80 * Math.PI) / 180;
  const lean = { angle, height: 18 };
  const leaning = { ...joint, fits: [{ ...thickness, lean }] };
  const judged = (program: readonly string[], of: Joint = leaning, thicknesses = { A: 18, B: 14.6 }) =>
    only(prove(program, { joints: [of], thicknesses }).proof.joints);

  it('has what the slot leaves square to the plate that leans through it', () => {
    // 18.1 · sin 80° − 18 · cos 80° − 14.6 = 17.82502 − 3.12567 − 14.6, by hand.
    const j = judged(lines());
    expect(j.clearance).toBeCloseTo(0.09935, 5);
    expect(j.verdict).toBe('as wanted');
    expect(j.fits[0]!.width).toBeCloseTo(18.1, 6);
  });

  it('is not as wanted with the square reckoning, nor without the second term', () => {
    expect(judged(lines(), { ...joint, fits: [thickness] }).verdict).toBe('slack');
    expect(judged(lines(), leaning, { A: 18, B: 18.1 * Math.sin(angle) - 0.1 }).verdict).toBe('blocked');
  });

  it('grows by the sine of what is cut too wide, and loses what a thicker slotted plate takes', () => {
    const wider = lines().map((l) => l.replace('Y73', 'Y72.95'));
    expect(judged(wider).clearance! - judged(lines()).clearance!).toBeCloseTo(0.05 * Math.sin(angle), 5);
    const thick = judged(lines(), leaning, { A: 18.3, B: 14.6 });
    expect(thick.clearance! - judged(lines()).clearance!).toBeCloseTo(-0.3 * Math.cos(angle), 5);
    expect(thick.verdict).toBe('tight');
    // A map that knows the spot goes before the plate as a whole.
    const mapped = { ...joint, fits: [{ ...thickness, local: 14.6, lean }] };
    expect(judged(lines(), mapped, { A: 18.3, B: 14 }).clearance).toBeCloseTo(0.09935, 5);
  });

  it('with one wall, or between ends, leans as well', () => {
    const one = { ...joint, fits: [{ ...thickness, walls: ['A.m1/e0'], lean }] };
    const moved = lines().map((l) => l.replace('Y73', 'Y72.95'));
    expect(judged(moved, one).clearance).toBeCloseTo(0.1 + 0.05 * Math.sin(angle), 5);
    const tight = { ...joint, fits: [{ ...ends, lean }] };
    expect(judged(lines(), tight)).toMatchObject({ wanted: 0.2, verdict: 'as wanted' });
    expect(judged(lines(), tight).clearance).toBeCloseTo(0.2, 6);
  });
});

describe('single walls, seats and floors', () => {
  const seat: Fit = {
    ...thickness,
    id: 'seat',
    kind: 'seat',
    walls: ['A.m1/e0'],
    enteringEdges: ['B/e0'],
    wanted: 0,
    window: [-0.01, 0.3],
  };

  it('give what is wanted and how far the wall is off', () => {
    const j = { ...joint, fits: [seat] };
    const at = (y: string) =>
      only(
        prove(
          lines().map((l) => l.replace('Y73', y)),
          { joints: [j] },
        ).proof.joints,
      );
    expect(at('Y73')).toMatchObject({ verdict: 'as wanted', clearance: 0 });
    expect(at('Y72.95').clearance).toBeCloseTo(0.05, 6);
    expect(at('Y73.04')).toMatchObject({ verdict: 'tight' });
  });

  it('measure a housing’s floor from the sheet’s top', () => {
    const housed: Part = {
      ...plate,
      through: [],
      pockets: [{ ...contour('A.h1', tagged('A.h1', 80, 70, 120, 88.1)), face: 'n+', depth: 9 }],
    };
    const good = lines();
    const second = good.indexOf('G1 X114 Z6.7 F1500');
    const pocket = [...good.slice(0, second), ...good.slice(good.indexOf('G1 Z28 F4000'))];
    const floor: Fit = { ...seat, contour: 'A.h1', walls: ['A.h1/floor'] };
    const change = { items: [{ item: 'A', piece: 1, part: housed }], joints: [{ ...joint, fits: [floor] }] };
    expect(only(prove(pocket, change).proof.joints)).toMatchObject({ verdict: 'as wanted', clearance: 0 });
    const shallow = pocket.map((l, k) => (k < second ? l.replace(/Z9$/, 'Z9.03') : l));
    expect(only(prove(shallow, change).proof.joints).clearance).toBeCloseTo(-0.03, 6);
    expect(only(prove(pocket, change).proof.joints).fits[0]!.depth).toEqual({ least: 9, most: 9 });
    expect(only(prove(shallow, change).proof.joints).fits[0]!.depth!.least).toBeCloseTo(8.97, 6);
    expect(only(prove(shallow, change).proof.joints).verdict).toBe('tight');
  });
});
