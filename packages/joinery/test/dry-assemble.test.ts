import { describe, expect, it } from 'vitest';
import {
  assemblyOrder,
  checkOverlaps,
  type DryPiece,
  defaultAllowances,
  dryAssemble,
  dryPieceOf,
  findJoints,
  fitParts,
  refitMaster,
} from '../src/index.js';
import { all, copy, demo, valueIn } from './demo.js';
import { refitted, spoiled, ZOO } from './dryfit-zoo.js';

const thicknesses = Array.from({ length: 27 }, (_, i) => 12 + i / 2).concat([17.3333, 18.2671, 13.0001]);
const permitted = thicknesses.filter((t) => refitMaster(demo, { thicknesses: all(demo, t) }).ok);

describe('the sideboard, put together', () => {
  it('can be refitted to most thicknesses of the range', () => {
    expect(permitted.length).toBeGreaterThan(20);
  });

  it.each(permitted)('has no interference and holds in every joint at %d mm', (t) => {
    const done = valueIn(dryAssemble(refitted(t), { order: false }));
    expect(done.interference.total.toFixed(4)).toBe('0.0000');
    expect(done.joints).toHaveLength(demo.mates.length);
    for (const j of done.joints) {
      expect(j.withdraws).toBeNull();
      for (const p of j.places)
        for (const d of p.directions) if (d.located) expect([0, null]).toContain(d.clearance);
    }
    expect(checkOverlaps(refitted(t))).toEqual([]);
  });

  it('judges each mortise by itself', () => {
    const done = valueIn(dryAssemble(demo, { order: false }));
    const joint = done.joints.find((j) => j.joint === 'M-EL-S1')!;
    expect(joint.places.map((p) => p.feature)).toEqual(['EL.m1', 'EL.m2']);
  });

  it('is told of holes for pins that look away from those opposite', () => {
    const turned = (part: string, holes: (id: string) => boolean) => {
      const m = copy(demo);
      for (const h of m.parts.find((p) => p.id === part)!.holes)
        if (holes(h.id)) h.face = h.face === 'n+' ? 'n-' : 'n+';
      return dryAssemble(m, { order: false }).diagnostics.map((d) => [d.code, d.locus.part, d.locus.feature]);
    };
    expect(turned('D1', () => false)).toEqual([]);
    expect(turned('D1', () => true)).toEqual([['dryfit/holes-away', 'D1', 'D1.pa1']]);
    expect(turned('EL', (id) => id === 'EL.pb3')).toEqual([['dryfit/holes-away', 'EL', 'EL.pb3']]);
    // Through holes have no wrong face.
    expect(turned('S2', () => true)).toEqual([]);
  });

  it('leaves to each of two joints of the same parts its own features', () => {
    const m = copy(demo);
    const one = m.mates.find((x) => x.id === 'M-EL-S1')!;
    one.slotFeatures = ['EL.m1'];
    m.mates.push({ ...one, id: 'M-EL-S1-rear', slotFeatures: ['EL.m2'] });
    const done = valueIn(dryAssemble(m as typeof demo, { order: false }));
    for (const [id, feature] of [
      ['M-EL-S1', 'EL.m1'],
      ['M-EL-S1-rear', 'EL.m2'],
    ])
      expect(done.joints.find((j) => j.joint === id)!.places.map((p) => p.feature)).toEqual([feature]);
  });

  it('as cut has the clearance that was wanted', () => {
    const joinery = valueIn(findJoints(demo, defaultAllowances('snug', 0.1)));
    const cut = valueIn(fitParts(demo, joinery, { relief: null }));
    const piece = dryPieceOf(demo, cut);
    expect(dryAssemble(piece, { order: false }).ok).toBe(false);
    const play = Math.max(...joinery.joints.flatMap((j) => j.fits.map((f) => f.wanted)));
    const done = valueIn(dryAssemble(piece, { play, order: false }));
    const place = done.joints.find((j) => j.joint === 'M-EL-S1')!.places[0]!;
    expect(place.directions.find((d) => d.direction === '+Z')!.clearance).toBe(0.05);
    expect(done.interference.total).toBe(0);
  });

  it('gives plain data, the same every time, and leaves its input alone', () => {
    const before = JSON.stringify(demo);
    const once = valueIn(dryAssemble(demo));
    expect(JSON.parse(JSON.stringify(once))).toEqual(once);
    expect(JSON.stringify(valueIn(dryAssemble(copy(demo))))).toBe(JSON.stringify(once));
    expect(JSON.stringify(demo)).toBe(before);
  });

  it('stops when it is told to', () => {
    for (const after of [0, 3, 54, 60, 65]) {
      let ticks = 0;
      const run = { tick: () => ticks++ < after };
      const outcome = dryAssemble(demo, {}, run);
      expect(outcome.ok).toBe(false);
      expect(outcome.diagnostics[0]!.code).toBe('dryfit/stopped');
    }
    expect(assemblyOrder(demo, { tick: () => false }).diagnostics[0]!.code).toBe('dryfit/stopped');
  });

  it('throws for a play that is no length, and for a stranger among the parts', () => {
    expect(() => dryAssemble(demo, { play: -1 })).toThrow(RangeError);
    expect(() => dryPieceOf(demo, [{ ...dryPieceOf(demo).parts[0]!.part, id: 'X' }])).toThrow(RangeError);
  });
});

describe('the quick check before a cut', () => {
  const overlapping = [
    'narrow',
    'short',
    'shifted',
    'wrong-face',
    'shallow',
    'unmirrored',
    'doubled',
    'interference',
  ];
  for (const animal of ZOO.filter((z) => overlapping.some((c) => z.code === `dryfit/${c}`)))
    it(`refuses ${animal.name}`, () => {
      const [first] = checkOverlaps(spoiled(animal));
      expect(first?.code).toBe(animal.code);
    });
});

describe('input that cannot be meant is named', () => {
  const piece = dryPieceOf(demo);
  const change = (index: number, edit: (p: (typeof piece.parts)[number]) => (typeof piece.parts)[number]) =>
    ({ ...piece, parts: piece.parts.map((p, i) => (i === index ? edit(p) : p)) }) satisfies DryPiece;
  const cases: readonly [string, DryPiece][] = [
    ['dryfit/thickness', change(2, (p) => ({ ...p, part: { ...p.part, thickness: null } }))],
    ['dryfit/thickness', change(2, (p) => ({ ...p, part: { ...p.part, thickness: -3 } }))],
    ['dryfit/frame-not-square', change(2, (p) => ({ ...p, frame: { ...p.frame, v: [0, 0.5, 0] } }))],
    ['dryfit/frame-not-square', change(2, (p) => ({ ...p, frame: { ...p.frame, v: '+X' } }))],
    ['dryfit/left-handed', change(2, (p) => ({ ...p, frame: { ...p.frame, n: '-Z' } }))],
    [
      'dryfit/frame-not-square',
      change(2, (p) => ({ ...p, frame: { ...p.frame, origin: [Number.NaN, 0, 0] } })),
    ],
    [
      'dryfit/bad-curve',
      change(2, (p) => ({
        ...p,
        part: { ...p.part, pockets: p.part.pockets.map((c) => ({ ...c, depth: 99 })) },
      })),
    ],
    [
      'dryfit/bad-curve',
      change(2, (p) => {
        const [a, b, ...rest] = p.part.outline.ring.vertices;
        return {
          ...p,
          part: { ...p.part, outline: { ...p.part.outline, ring: { vertices: [b!, a!, ...rest] } } },
        };
      }),
    ],
    ['dryfit/same-id', { ...piece, parts: [...piece.parts, piece.parts[0]!] }],
    ['dryfit/unknown-part', { ...piece, parts: piece.parts.slice(1) }],
  ];
  it.each(cases)('%s (%#)', (code, bad) => {
    for (const outcome of [dryAssemble(bad), assemblyOrder(bad)]) {
      expect(outcome.ok).toBe(false);
      expect(outcome.diagnostics[0]!.code).toBe(code);
      expect(outcome.diagnostics[0]!.hint).not.toBe('');
      expect(Object.keys(outcome.diagnostics[0]!.locus).length).toBeGreaterThan(0);
    }
  });
});
