import { INCH, type Master } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultAllowances, findJoints, formatMaster, readMaster, refitMaster } from '../src/index.js';
import { all, copy, demo, masterOf, TRUTH_TEXT, valueIn } from './demo.js';

const refitted = (master: Master, thicknesses: Record<string, number>): Master =>
  valueIn(refitMaster(master, { thicknesses }));

/** Every number, string and so on of a value, by its path; which marks it follows is left out. */
function leaves(value: unknown, path = ''): [string, unknown][] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([k, v]) => (k === 'on' ? [] : leaves(v, `${path}.${k}`)));
}

/** Two values of one structure compared number by number. */
function compare(a: unknown, b: unknown) {
  const theirs = new Map(leaves(b));
  let worst = 0;
  let numbers = 0;
  const unlike: string[] = [];
  for (const [path, value] of leaves(a)) {
    const other = theirs.get(path);
    theirs.delete(path);
    if (typeof value === 'number' && typeof other === 'number') {
      numbers++;
      worst = Math.max(worst, Math.abs(value - other));
    } else if (value !== other) unlike.push(path);
  }
  return { worst, numbers, unlike: [...unlike, ...theirs.keys()] };
}

/** Thicknesses of real sheets. The pins' holes of the example are 12 mm deep, so that 12 mm itself is refused. */
const thickness = fc.integer({ min: 120_001, max: 250_000 }).map((n) => n / 10_000);
const perPart = fc.record(Object.fromEntries(demo.parts.map((p) => [p.id, thickness])));

describe('refit by marks', () => {
  it('makes of 18 mm the truth at 17.4 mm, in every coordinate, frame, centre and depth', () => {
    const truth = masterOf(TRUTH_TEXT.replace('"parts"', '"marks": [], "parts"'));
    const d = compare(refitted(demo, all(demo, 17.4)).parts, truth.parts);
    expect(d.unlike).toEqual([]);
    expect(d.numbers).toBeGreaterThan(900);
    expect(d.worst).toBeLessThanOrEqual(0.0001);
    // The comparison sees a thousandth.
    expect(compare(refitted(demo, all(demo, 17.401)).parts, truth.parts).worst).toBeGreaterThan(0.0009);
  });

  it('changes nothing for the thicknesses that the master has', () =>
    expect(refitted(demo, all(demo, 18))).toEqual(demo));

  it('there and back is the original, whatever each part measures', () =>
    fc.assert(
      fc.property(perPart, (thicknesses) => {
        const back = refitted(refitted(demo, thicknesses), all(demo, 18));
        const d = compare(back, demo);
        expect(d.unlike).toEqual([]);
        expect(d.worst).toBeLessThanOrEqual(0.0002);
      }),
      { numRuns: 100 },
    ));

  it('by two steps comes to the same as by one', () =>
    fc.assert(
      fc.property(perPart, perPart, (first, second) => {
        const d = compare(refitted(refitted(demo, first), second), refitted(demo, second));
        expect(d.worst).toBeLessThanOrEqual(0.0002);
      }),
      { numRuns: 40 },
    ));

  it('does not depend on the order of parts and marks', () => {
    const turned: Master = { ...demo, parts: [...demo.parts].reverse(), marks: [...demo.marks].reverse() };
    const parts = [...refitted(turned, all(demo, 17.3)).parts].reverse();
    expect(parts).toEqual(refitted(demo, all(demo, 17.3)).parts);
  });

  it('gives a whole master that reads again', () => {
    const text = formatMaster(refitted(demo, all(demo, 17.3333)));
    const again = readMaster(text);
    expect(again.diagnostics).toEqual([]);
    expect(valueIn(again)).toEqual(refitted(demo, all(demo, 17.3333)));
  });

  it('moves only what the one part of another thickness moves', () => {
    const after = refitted(demo, { ...all(demo, 18), BR: 17.3 });
    const changed = demo.parts.filter((p, i) => compare(p, after.parts[i]).worst > 0).map((p) => p.id);
    // The back rail's thickness sets the notches of the four uprights that it lies in; its own drawing stays.
    expect(changed).toEqual(['EL', 'ER', 'D1', 'D2', 'BR']);
    const [el, br] = [after.parts[0]!, after.parts[7]!];
    expect(br.outline).toEqual(demo.parts[7]!.outline);
    expect(br.thickness).toBe(17.3);
    // Y360-BR: 360 − 17.3 − 20 = 322.7 in the end's drawing; the notch of the low rail stays at 322.
    expect(el.outline.segments[9]!.to).toEqual([322.7, 682]);
    expect(el.outline.segments[10]!.to).toEqual([322.7, 742]);
    expect(el.outline.segments[5]!.to).toEqual([322, 138]);
  });

  // Families of sheet sizes in steps of 0.010 in: common practice, no source. 0.731 in is a sheet as measured.
  it.each([0.68, 0.69, 0.7, 0.71, 0.72, 0.73, 0.74, 0.75, 0.76, 0.731])(
    'gives a sound piece at %f in, in which every joint still touches',
    (inches) => {
      const after = refitted(demo, all(demo, inches * INCH));
      expect(readMaster(formatMaster(after)).diagnostics).toEqual([]);
      const fits = valueIn(findJoints(after, defaultAllowances('snug'))).joints.map((j) => j.fits.length);
      const before = valueIn(findJoints(demo, defaultAllowances('snug'))).joints.map((j) => j.fits.length);
      expect(fits).toEqual(before);
    },
  );

  it('puts every coordinate on the grid of 0.0001 mm', () => {
    for (const [path, value] of leaves(refitted(demo, all(demo, 17 + 1 / 3)).parts))
      if (typeof value === 'number' && !path.endsWith('.thickness'))
        expect(Math.abs(value * 10_000 - Math.round(value * 10_000))).toBeLessThan(1e-6);
  });
});

/** Why a refit is refused: code, part and feature of each diagnostic. */
function refusals(master: Master, thicknesses: Record<string, number>): string[] {
  const out = refitMaster(master, { thicknesses });
  if (out.ok) return [];
  return out.diagnostics.map((d) => [d.code, d.locus.part, d.locus.feature].filter(Boolean).join(' '));
}

it('lets a slot that opens into a curve end on the curve', () => {
  const piece = copy(demo);
  const { S3 } = Object.fromEntries(piece.parts.map((p) => [p.id, p]));
  // A half disc of 150 round (150, 0), with a slot for the left divider's thickness from its round side.
  const at = (u: number): [number, number] => [
    u,
    Math.round(Math.sqrt(150 ** 2 - (u - 150) ** 2) * 1e4) / 1e4,
  ];
  S3!.outline = {
    start: [0, 0],
    segments: [
      { to: [300, 0] },
      { to: at(159), centre: [150, 0], dir: 'ccw' },
      { to: [159, 50], on: 'right' },
      { to: [141, 50] },
      { to: at(141), on: 'left' },
      { to: [0, 0], centre: [150, 0], dir: 'ccw' },
    ],
  };
  piece.marks.push(
    { id: 'right', axis: 'X', constant: 209, terms: { D1: 0.5 } },
    { id: 'left', axis: 'X', constant: 209, terms: { D1: -0.5 } },
  );
  const after = refitted(masterOf(formatMaster(piece as Master)), { ...all(demo, 18), D1: 30 });
  const to = after.parts[10]!.outline.segments.map((s) => s.to);
  expect(to[1]).toEqual(at(165));
  expect(to[2]).toEqual([165, 50]);
  expect(to[3]).toEqual([135, 50]);
  expect(to[4]).toEqual(at(135));
});

describe('a refit is refused by name', () => {
  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('for a thickness of %d', (t) =>
    expect(refusals(demo, { ...all(demo, 18), S2: t })).toEqual(['refit/thickness S2']),
  );

  it('for a thickness that is missing, and for one of a part that does not exist', () => {
    const { S2: _, ...rest } = all(demo, 18) as Record<string, number>;
    expect(refusals(demo, { ...rest, S9: 18 })).toEqual([
      'refit/thickness-missing S2',
      'refit/unknown-part S9',
    ]);
  });

  it.each([54.1, 60, 5.9])('for %d mm, more than three times what was drawn or less than a third', (t) =>
    expect(refusals(demo, { ...all(demo, 18), S3: t })).toEqual(['refit/too-far S3']),
  );

  it('at three times or a third only for what is wrong then', () =>
    expect([54, 6].flatMap((t) => refusals(demo, { ...all(demo, 18), S3: t }))).toEqual([]));

  it('for a pocket or hole as deep as the plate', () =>
    expect(refusals(demo, { ...all(demo, 18), TOP: 8 })).toEqual([
      'refit/too-deep TOP TOP.h1',
      'refit/too-deep TOP TOP.h2',
    ]));

  // The plinth's shoulder runs from v = 45 up to the bottom shelf's underside, at v = 118 − S1 − 40.
  it('for an edge that vanishes', () =>
    expect(refusals(demo, { ...all(demo, 18), S1: 33 })).toContain('refit/edge-vanishes PL PL.outline'));

  it('for an edge that runs backwards', () =>
    expect(refusals(demo, { ...all(demo, 18), S1: 34 })).toContain('refit/edge-flips PL PL.outline'));

  it('for cuts that meet', () =>
    // The bottom shelf's mortise and the plinth's are 36 mm apart.
    expect(refusals(demo, all(demo, 36))).toContain('refit/cuts-meet EL EL.m1'));

  it('for a loop that crosses itself', () => {
    // A low rail of 350 mm: the notch for it would reach through the end's hollowed front edge.
    const thick = copy(demo);
    Object.assign(thick.parts.find((p) => p.id === 'RL')!, { thickness: 150 });
    expect(refusals(thick, { ...all(demo, 18), RL: 350 })).toContain('refit/crossing-loop EL EL.outline');
  });

  it('for a mark askew to its edge', () => {
    const spoiled = copy(demo);
    spoiled.parts[10]!.outline.segments[2]!.on = 'Y60+PL';
    expect(refusals(spoiled as Master, all(demo, 17))).toEqual(['refit/mark-askew S3 S3.outline']);
  });

  it('for two marks that ask for different places', () => {
    const spoiled = copy(demo);
    spoiled.marks.push({ id: 'X376-D2/2', axis: 'X', constant: 385, terms: { D2: -0.5 } });
    spoiled.parts[10]!.outline.segments[2]!.on = ['X385-D1/2', 'X376-D2/2'];
    expect(refusals(spoiled as Master, { ...all(demo, 18), D1: 17 })).toContain(
      'refit/marks-disagree S3 S3.outline',
    );
    // They agree as long as both dividers are alike.
    expect(refusals(spoiled as Master, all(demo, 17))).toEqual([]);
  });

  it('for neighbours that part', () => {
    const spoiled = copy(demo);
    // The rounding of the loose shelf's corner stays behind when its side moves.
    delete spoiled.parts[10]!.outline.segments[1]!.on;
    expect(refusals(spoiled as Master, all(demo, 17))).toContain('refit/neighbours-part S3 S3.outline');
  });
});

describe('plates that stand askew', () => {
  const at = Math.PI / 6;
  const [c, s] = [Math.cos(at), Math.sin(at)];
  /** A plate leaning back by 30 degrees, its top edge under a cover and its sides between two others. */
  const leaning = (): Master =>
    valueIn(
      readMaster(
        JSON.stringify({
          format: 'haunch-master',
          version: 1,
          title: 'Leaning back',
          units: 'mm',
          designThickness: 18,
          marks: [
            { id: 'under', axis: 'Z', constant: 500, terms: { COVER: -1 } },
            { id: 'beside', axis: 'X', constant: 0, terms: { SIDE: 1 } },
            { id: 'face', axis: 'Y', constant: 100, terms: { BACK: 1 } },
            { id: 'pin', axis: 'X', constant: 20, terms: { SIDE: 1 } },
          ],
          parts: [
            {
              ...plain('BACK', [18, 118, 0], '+X', [0, s, c], [0, -c, s]),
              frame: { origin: [18, 118, 0], u: '+X', v: [0, s, c], n: [0, -c, s], on: 'face' },
              outline: {
                start: [0, 0],
                segments: [
                  { to: [300, 0] },
                  { to: [300, 482 / c] },
                  { to: [0, 482 / c], on: 'under' },
                  { to: [0, 0], on: 'beside' },
                ],
              },
              holes: [{ id: 'BACK.h', centre: [20, 100], diameter: 5, face: 'n+', depth: 5, on: ['pin'] }],
            },
            plain('COVER', [0, 0, 482], '+X', '+Y', '+Z'),
            plain('SIDE', [0, 0, 0], '+Y', '+Z', '+X'),
          ],
        }),
      ),
    );

  it('have their edges where the mark cuts their own plane', () => {
    const after = valueIn(refitMaster(leaning(), { thicknesses: { BACK: 18, COVER: 12, SIDE: 15 } }));
    const back = after.parts[0]!;
    // The cover's underside rises by 6 mm: the leaning edge grows by 6 / cos 30°. The side's face moves by 3 mm.
    expect(back.outline.segments[1]!.to[1]).toBeCloseTo(488 / c, 3);
    expect(back.outline.segments[1]!.to[0]).toBeCloseTo(303, 3);
    expect(back.frame.origin).toEqual([15, 118, 0]);
    expect(back.holes[0]!.centre).toEqual([20, 100]);
  });

  it('follow their own mark along their normal, and their edges stay on theirs', () => {
    const after = valueIn(refitMaster(leaning(), { thicknesses: { BACK: 12, COVER: 18, SIDE: 18 } }));
    const { origin } = after.parts[0]!.frame;
    // The origin goes along n until it is 6 mm nearer in Y: −6 = −c·d, so d = 6 / c, and z rises by s·d.
    expect(origin[1]).toBeCloseTo(112, 4);
    expect(origin[2]).toBeCloseTo((6 / c) * s, 3);
    // The upper edge is still at z = 482.
    const v = after.parts[0]!.outline.segments[1]!.to[1];
    expect(origin[2] + c * v).toBeCloseTo(482, 3);
  });
});

/** A plain square plate in any frame. */
function plain(id: string, origin: number[], u: string, v: string | number[], n: string | number[]) {
  return {
    id,
    name: id,
    thickness: 18,
    stock: 'sheet',
    frame: { origin, u, v, n },
    hold: 'n-',
    grain: 'u',
    showFace: 'n+',
    cutFace: 'n+',
    outline: {
      start: [0, 0],
      segments: [{ to: [300, 0] }, { to: [300, 300] }, { to: [0, 300] }, { to: [0, 0] }],
    },
    through: [],
    pockets: [],
    holes: [],
  };
}
