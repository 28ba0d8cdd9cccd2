import { readFileSync } from 'node:fs';
import { ringBounds } from '@haunch/geometry';
import type { Master, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atFrame, masterPart } from '../src/found/standing.js';
import { frameOf } from '../src/frame.js';
import {
  dryAssemble,
  type FoundFrame,
  findMaster,
  findMasterAgain,
  findMates,
  flatPartOf,
  type MateFindings,
  partsOfMaster,
  readMaster,
  recogniseFeatures,
  refitMaster,
} from '../src/index.js';
import { angleOfSlot, slotWidthFor } from '../src/mates/lean.js';
import { demo, valueIn } from './demo.js';
import { leaningPiece, slotFor } from './leaning-piece.js';
import { scrambled } from './mates-pieces.js';

const DEGREES = 180 / Math.PI;
const stand = valueIn(
  readMaster(
    readFileSync(
      new URL('../../../docs/examples/reading-stand/reading-stand.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const truth = partsOfMaster(stand).map(flatPartOf);

/** The angle between two found parts, degrees, 90 at the most. */
function between(frames: readonly FoundFrame[], a: string, b: string): number {
  const n = (id: string) => frames.find((f) => f.part === id)!.frame.n;
  const cosine = n(a).reduce((sum, v, k) => sum + v * n(b)[k]!, 0);
  return Math.acos(Math.min(1, Math.abs(cosine))) * DEGREES;
}

/** The reading stand with its parts where they were found. */
const standing = (found: MateFindings, parts: readonly Part[]): Master => ({
  ...stand,
  marks: [],
  mates: [],
  assembly: [],
  parts: parts.map((p) => atFrame(masterPart(p), found.frames.find((f) => f.part === p.id)!.frame)),
});

const named = (found: MateFindings, names: ReadonlyMap<string, string>): string[] =>
  found.mates
    .map((m) =>
      m.parts
        .map((p) => names.get(p)!)
        .sort()
        .join('-'),
    )
    .sort();

describe('plates that lean', () => {
  it('tells the angle that a slot is wide for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.55, max: Math.PI / 2 - 0.01, noNaN: true }),
        fc.double({ min: 3, max: 30, noNaN: true }),
        fc.double({ min: 3, max: 30, noNaN: true }),
        (angle, slotted, passing) => {
          const width = slotWidthFor(slotted, passing, angle);
          expect(width).toBeCloseTo(slotFor({ angle, slotted, passing }), 9);
          expect(angleOfSlot(width, slotted, passing)).toBeCloseTo(angle, 6);
        },
      ),
    );
    // The reading stand's own figures: 24 up on 7 back and 4 up on 3 back, set out in whole numbers.
    expect(angleOfSlot(24, 18, 18)).toBeCloseTo(Math.atan2(24, 7), 12);
    expect(angleOfSlot(36, 18, 18)).toBeCloseTo(Math.atan2(4, 3), 12);
    expect(angleOfSlot(18, 18, 18)).toBeNull();
    expect(angleOfSlot(100, 18, 18)).toBeNull();
  });

  it.each([40, 55, 70, 82, 101, 125, 139])('are found at %i degrees, of any two thicknesses', (degrees) => {
    for (const [slotted, passing] of [
      [18, 18],
      [15, 9],
      [6.3, 11],
    ] as const) {
      const master = leaningPiece({ angle: degrees / DEGREES, slotted, passing });
      const found = valueIn(findMates(scrambled(partsOfMaster(master).map(flatPartOf), 4).parts));
      expect(found.mates).toHaveLength(1);
      const [a, b] = found.mates[0]!.parts;
      const acute = Math.min(degrees, 180 - degrees);
      for (const { frames } of [found, ...found.questions.flatMap((q) => q.ways)])
        expect(Math.abs(between(frames, a, b) - acute)).toBeLessThan(0.01);
    }
  });

  it('are asked about where they may lean to either side', () => {
    const master = leaningPiece({ angle: 1.2, slotted: 18, passing: 15 });
    const { questions } = valueIn(findMates(partsOfMaster(master).map(flatPartOf)));
    expect(questions.map((q) => q.ways.length > 1)).toEqual([true]);
  });

  it.each([1, 2])(
    'make the reading stand from its bare plates, scrambled by seed %i',
    (seed) => {
      const { parts, names } = scrambled(truth, seed);
      const found = valueIn(findMates(parts));
      expect(named(found, names)).toEqual(
        stand.mates.map((m) => [m.slotPart, m.enteringPart].sort().join('-')).sort(),
      );
      const id = (name: string): string => [...names].find(([, n]) => n === name)![0];
      const { frames } = found;
      expect(between(frames, id('BASE'), id('BACK'))).toBeCloseTo(Math.atan2(24, 7) * DEGREES, 3);
      expect(between(frames, id('BASE'), id('CARD'))).toBeCloseTo(Math.atan2(4, 3) * DEGREES, 3);
    },
    60_000,
  );

  it('of the reading stand do not overlap anything where they are found', () => {
    const parts = partsOfMaster(stand);
    const found = valueIn(findMates(parts.map(flatPartOf)));
    expect(valueIn(dryAssemble(standing(found, parts))).interference.total).toBeLessThan(0.5);
  }, 60_000);

  it('take the angle that somebody says where clearance is drawn in the slot', () => {
    const angle = 65 / DEGREES;
    const master = leaningPiece({ angle, slotted: 18, passing: 15, wider: 0.3 });
    const parts = partsOfMaster(master).map(flatPartOf);
    const told = (lean?: number): number => {
      const found = valueIn(
        findMates(parts.map((p) => (p.id === 'S' && lean !== undefined ? { ...p, lean } : p))),
      );
      return between(found.frames, 'U', 'S');
    };
    expect(Math.abs(told() - 65)).toBeGreaterThan(0.3);
    expect(Math.abs(told(angle) - 65)).toBeLessThan(1e-6);
  });

  it.each([50, 66, 75, 81])(
    'show their angle, of %i degrees, in slots with clearance all round, and end flush with the far face',
    (degrees) => {
      const angle = degrees / DEGREES;
      const [u, s] = partsOfMaster(leaningPiece({ angle, slotted: 18, passing: 15 })) as [Part, Part];
      const [slot] = u.through;
      const { x: mid } = slot!.bare.vertices.reduce((a, v) => ({ x: a.x + v.x / 4 }), { x: 0 });
      const wide = slot!.bare.vertices.map((v) => ({
        ...v,
        x: v.x + 0.1 * Math.sign(v.x - mid),
        y: v.y + 0.1 * Math.sign(v.y - 80),
      }));
      const low = Math.min(...s.outline.bare.vertices.map((v) => v.x));
      const xs = [...new Set(s.outline.bare.vertices.map((v) => v.x))].sort((a, b) => a - b);
      const flush = s.outline.bare.vertices.map((v) =>
        v.x === low ? { ...v, x: xs[1]! - 18 / Math.sin(angle) } : v,
      );
      const parts: Part[] = [
        { ...u, through: [{ ...slot!, bare: { vertices: wide }, ring: { vertices: wide } }] },
        { ...s, outline: { ...s.outline, bare: { vertices: flush }, ring: { vertices: flush } } },
      ];
      const options = { from: 'stool.dxf', check: false };
      const [question] = valueIn(findMaster(parts, options)).questions;
      const found = findMaster(parts, { ...options, answers: { [question!.id]: 1 } });
      const master = valueIn(found).master!;
      const frames = master.parts.map((p) => ({ part: p.id, piece: 0, frame: frameOf(p) }));
      expect(Math.abs(between(frames, 'U', 'S') - degrees)).toBeLessThan(1e-3);
      expect(found.diagnostics.map((d) => d.code)).not.toContain('mates/lean-unmarked');
      for (const t of [12, 18, 25]) {
        const refitted = valueIn(refitMaster(master, { thicknesses: { U: t, S: t } }));
        const needs = slotFor({ angle, slotted: t, passing: t });
        const slot = partsOfMaster(refitted).find((p) => p.id === 'U')!.through[0]!.ring;
        const { minX, maxX } = ringBounds(slot);
        // So does the wall that the flush tenon does not reach.
        expect(Math.abs(maxX - minX - needs)).toBeLessThan(0.002);
        expect(valueIn(dryAssemble(refitted)).interference.total).toBe(0);
      }
    },
  );

  it('are named with the angle that the slot tells, or that was said', () => {
    const said = findMates(truth).diagnostics.filter((d) => d.code === 'mates/leans');
    expect(said.map((d) => d.message).sort()).toEqual([
      'Part BACK leans at 73.74 degrees to part BASE, as a slot that is 6 mm wider than the sheet needs.',
      'Part CARD leans at 53.13 degrees to part BASE, as a slot that is 18 mm wider than the sheet needs.',
    ]);
    const lean = Math.atan2(24, 7);
    const told = findMates(truth.map((p) => (p.id === 'BACK' ? { ...p, lean } : p))).diagnostics;
    expect(told.filter((d) => d.code === 'mates/leans').map((d) => d.message)).toContain(
      'Part BACK leans at 73.74 degrees to part BASE, as it is said to.',
    );
  }, 60_000);

  it('are named where a slot wants one that cannot be found in it', () => {
    // Tenons cut as for a square plate do not reach through at 65 degrees.
    const parts = partsOfMaster(leaningPiece({ angle: 65 / DEGREES, slotted: 18, passing: 15 })).map(
      flatPartOf,
    );
    const short = parts.map((p) => {
      if (p.id !== 'S') return p;
      const low = Math.min(...p.outline.vertices.map((v) => v.x));
      return {
        ...p,
        outline: { vertices: p.outline.vertices.map((v) => (v.x === low ? { ...v, x: v.x + 31 } : v)) },
      };
    });
    const said = findMates(short).diagnostics.filter((d) => d.code === 'mates/leaning-slot');
    const wider = slotFor({ angle: 65 / DEGREES, slotted: 18, passing: 15 }) - 15;
    expect(said.map((d) => [d.locus.part, d.level])).toEqual([['U', 'warning']]);
    expect(said[0]!.message).toContain(`${+wider.toFixed(2)} mm wider`);
    expect(said[0]!.message).toContain('leaning at 65 degrees');
  });

  it('come into a master that goes together, and that says which walls touch nothing of them', () => {
    const parts = partsOfMaster(leaningPiece({ angle: Math.atan2(4, 3), slotted: 18, passing: 18 }));
    // A bay of 10 mm in the slot's wall: nothing reaches its bottom.
    const bay = parts.map((p): Part => {
      const [slot] = p.through;
      if (!slot) return p;
      const left = Math.min(...slot.bare.vertices.map((v) => v.x));
      const at = (dx: number, y: number) => ({ x: left + dx, y, bulge: 0 });
      const vertices = slot.bare.vertices.flatMap((v) =>
        v.x === left && v.y === 110 ? [v, at(0, 90), at(-10, 90), at(-10, 70), at(0, 70)] : [v],
      );
      const bare = { vertices: vertices.map((v, k) => ({ ...v, tag: `${slot.id}/e${k}` })) };
      return { ...p, through: [{ ...slot, bare, ring: bare }] };
    });
    for (const [piece, left] of [
      [parts, []],
      [bay, [['S', 1]]],
    ] as const) {
      const found = findMaster(piece, { from: 'lean.dxf', answers: { 'piece-0': 1 }, check: false });
      const { master } = valueIn(found);
      expect(valueIn(dryAssemble(master!)).interference.total).toBe(0);
      const said = found.diagnostics.filter((d) => d.code === 'mates/lean-unmarked');
      expect(said.map((d) => [d.locus.part, [...d.message.matchAll(/U\.m1\/e\d/g)].length])).toEqual(left);
    }
  });

  it('keep the angle that somebody says in the master, which is found the same again', () => {
    const parts = partsOfMaster(leaningPiece({ angle: 65 / DEGREES, slotted: 18, passing: 15, wider: 0.3 }));
    const options = { from: 'lean.dxf', answers: { 'piece-0': 1 }, check: false };
    const told = valueIn(findMaster(parts, { ...options, leans: { S: 65 } })).master!;
    expect(told.found?.leans).toEqual({ S: 65 });
    const again = valueIn(findMasterAgain(told, { from: 'lean.dxf', check: false })).master!;
    for (const m of [told, again])
      expect(
        between(
          m.parts.map((p) => ({ part: p.id, piece: 0, frame: frameOf(p) })),
          'U',
          'S',
        ),
      ).toBeCloseTo(65, 6);
    expect(again.found?.leans).toEqual({ S: 65 });
    const codes = (leans: Record<string, number>): string[] =>
      findMaster(parts, { ...options, leans }).diagnostics.map((d) => d.code);
    expect(codes({ X: 65 })).toEqual(['mates/no-such-part']);
    expect(codes({ S: 95 })).toEqual(['mates/bad-lean']);
  });

  it('are not seen where the tenon is too short to pass right through, nor in a slot that is too narrow', () => {
    const parts = partsOfMaster(leaningPiece({ angle: 1.1, slotted: 18, passing: 15 })).map(flatPartOf);
    const thick = parts.map((p) => (p.id === 'U' ? { ...p, thickness: 60 } : p));
    const narrow = parts.map((p) => (p.id === 'S' ? { ...p, thickness: 40 } : p));
    for (const strange of [thick, narrow]) expect(valueIn(findMates(strange)).mates).toEqual([]);
  });

  it('are named where a bare drawing is refitted by its slots, which says nothing of angles', () => {
    const said = (parts: readonly Part[]): string[] =>
      recogniseFeatures(parts, { thicknesses: [18] })
        .diagnostics.filter((d) => d.code === 'features/leaning-slots')
        .map((d) => `${d.locus.part}: ${d.message}`);
    const parts = partsOfMaster(stand);
    // The slots for the card are as wide as two sheets, which the table of widths holds.
    expect(said(parts)).toEqual([expect.stringMatching(/^BASE: slots 24 mm .*part BACK .* 73.74 degrees/)]);
    expect(said(parts.filter((p) => p.id !== 'BACK'))).toEqual([]);
    expect(said(partsOfMaster(demo))).toEqual([]);
  });
});
