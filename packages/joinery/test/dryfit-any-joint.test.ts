import { polygonRing, type Ring, rectangleRing } from '@haunch/geometry';
import type { MasterMate, Part } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DryPiece, dryAssemble } from '../src/index.js';
import { contour, flatPart, turnedPiece, type V } from './dryfit-pieces.js';

// Joints of any size, standing askew, spoiled one way at a time: nothing here is the sideboard's.

const size = fc.integer({ min: 60, max: 300 }).map((n) => n / 10);
const askew = fc.record({
  axis: fc.constantFrom<V>([1, 2, 3], [0, 0, 1], [-1, 0.2, 0.1]),
  by: fc.constantFrom(0, 0.7, 2.1, Math.PI / 2),
});
type Askew = typeof askew extends fc.Arbitrary<infer T> ? T : never;

const said = (piece: DryPiece, { axis, by }: Askew): (string | undefined)[][] =>
  dryAssemble(turnedPiece(piece, axis, by), { order: false }).diagnostics.map((d) => [
    d.code.slice(7),
    d.locus.feature,
  ]);

const mate = (features: readonly string[], type: string): MasterMate => ({
  id: 'M',
  type,
  slotPart: 'A',
  slotFeatures: [...features],
  enteringPart: 'B',
  enteringMoves: '-Z',
  locates: ['+X', '-X', '+Y', '-Y'],
  stopsOn: '-Z',
});

/** A rectangle of these bounds. */
interface Box {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}
const ringOf = ({ x, y }: Box): Ring => rectangleRing(x[0], y[0], x[1], y[1]);

/** Plate B stands on plate A, two tenons in two mortises, which lie as told. */
function mortised(t: number, e: number, width: number, boxes: readonly Box[]): DryPiece {
  const a: Part = {
    ...flatPart('A', rectangleRing(-200, -80, 200, 80), t),
    through: boxes.map((b, i) => contour(`A.m${i + 1}`, ringOf(b))),
  };
  const outline: [number, number][] = [
    [-180, -90],
    [180, -90],
    [180, 0],
    ...[90, -90].flatMap((x): [number, number][] => [
      [x + width / 2, 0],
      [x + width / 2, t],
      [x - width / 2, t],
      [x - width / 2, 0],
    ]),
    [-180, 0],
  ];
  const b = flatPart('B', polygonRing(outline.map(([x, y]) => ({ x, y }))), e);
  return {
    parts: [
      { part: a, frame: { origin: [0, 0, 0], u: '+X', v: '+Y', n: '+Z' } },
      { part: b, frame: { origin: [0, -e / 2, t], u: '+X', v: '-Z', n: '+Y' } },
    ],
    mates: [mate(['A.m1', 'A.m2'], 'through mortise and tenon')],
  };
}

/** Plate B stands in a housing of plate A, `deep` into it where the recess is `cut` deep. */
function housed(
  t: number,
  e: number,
  deep: number,
  box: Box,
  cut = deep,
  face: 'n+' | 'n-' = 'n+',
): DryPiece {
  const a: Part = {
    ...flatPart('A', rectangleRing(-200, -80, 200, 80), t),
    pockets: [{ ...contour('A.p1', ringOf(box)), face, depth: cut }],
  };
  return {
    parts: [
      { part: a, frame: { origin: [0, 0, 0], u: '+X', v: '+Y', n: '+Z' } },
      {
        part: flatPart('B', rectangleRing(-100, -120, 100, 0), e),
        frame: { origin: [0, -e / 2, t - deep], u: '+X', v: '-Z', n: '+Y' },
      },
    ],
    mates: [mate(['A.p1'], 'stopped housing')],
  };
}

/** A box with one wall moved outwards. */
const grown = (b: Box, wall: 0 | 1 | 2 | 3, by: number): Box => ({
  x: [b.x[0] - (wall === 0 ? by : 0), b.x[1] + (wall === 1 ? by : 0)],
  y: [b.y[0] - (wall === 2 ? by : 0), b.y[1] + (wall === 3 ? by : 0)],
});
const beside = (b: Box, dx: number, dy: number): Box => ({
  x: [b.x[0] + dx, b.x[1] + dx],
  y: [b.y[0] + dy, b.y[1] + dy],
});
const wall = fc.constantFrom<(0 | 1 | 2 | 3)[]>(0, 1, 2, 3);
const runs = { numRuns: 40 };

describe('two mortises and their tenons', () => {
  const figures = fc.record({
    t: size,
    e: size,
    width: fc.integer({ min: 20, max: 120 }),
    which: fc.constantFrom<(0 | 1)[]>(0, 1),
    wall,
    at: askew,
  });
  type Figures = typeof figures extends fc.Arbitrary<infer T> ? T : never;
  const spoiled = ({ t, e, width, which }: Figures, spoil: (b: Box) => Box): DryPiece => {
    const boxes = [-90, 90].map((x): Box => ({ x: [x - width / 2, x + width / 2], y: [-e / 2, e / 2] }));
    return mortised(
      t,
      e,
      width,
      boxes.map((b, i) => (i === which ? spoil(b) : b)),
    );
  };
  const name = (f: Figures): string => `A.m${f.which + 1}`;

  it('go together as drawn', () =>
    fc.assert(
      fc.property(figures, (f) => {
        expect(
          said(
            spoiled(f, (b) => b),
            f.at,
          ),
        ).toEqual([]);
      }),
      runs,
    ));

  it('one wall in by 0.1 to 1 is narrow, out by 0.1 to 5 is loose, at that mortise alone', () =>
    fc.assert(
      fc.property(figures, fc.integer({ min: 10, max: 100 }), (f, n) => {
        expect(
          said(
            spoiled(f, (b) => grown(b, f.wall, -n / 100)),
            f.at,
          ),
        ).toEqual([['narrow', name(f)]]);
        expect(
          said(
            spoiled(f, (b) => grown(b, f.wall, n / 20 - 0.4)),
            f.at,
          ),
        ).toEqual([['loose', name(f)]]);
      }),
      runs,
    ));

  it('one that lies beside its tenon is shifted, though its twin lies right', () =>
    fc.assert(
      fc.property(figures, fc.integer({ min: 10, max: 250 }), fc.boolean(), (f, n, across) => {
        const by = (f.wall % 2 === 0 ? 1 : -1) * (n / 100);
        const piece = spoiled(f, (b) => beside(b, across ? 0 : by, across ? by : 0));
        expect(said(piece, f.at)).toEqual([['shifted', name(f)]]);
      }),
      runs,
    ));
});

describe('a housing and the plate in it', () => {
  const figures = fc
    .record({ t: size, e: size, share: fc.integer({ min: 25, max: 70 }), wall, at: askew })
    .map((f) => ({ ...f, deep: Number(((f.t * f.share) / 100).toFixed(2)) }));
  type Figures = typeof figures extends fc.Arbitrary<infer T> ? T : never;
  const box = ({ e }: Figures): Box => ({ x: [-100, 100], y: [-e / 2, e / 2] });

  it('go together as drawn', () =>
    fc.assert(
      fc.property(figures, (f) => {
        expect(said(housed(f.t, f.e, f.deep, box(f)), f.at)).toEqual([]);
      }),
      runs,
    ));

  it('are named narrow, loose, shifted, shallow, or in the wrong face', () =>
    fc.assert(
      fc.property(figures, fc.integer({ min: 10, max: 100 }), (f, n) => {
        fc.pre(n !== 50);
        const by = n / 100;
        const [b, { t, e, deep, at }] = [box(f), f];
        // What is off by just as much as the two sheets differ may be the wrong sheet as well.
        fc.pre(Math.abs(Math.abs(t - e) - by) > 0.01);
        expect(said(housed(t, e, deep, grown(b, f.wall, -by)), at)).toEqual([['narrow', 'A.p1']]);
        // A wall half a millimetre off holds nothing, and there is no twin here that does.
        const wide = by < 0.5 ? ['loose', 'A.p1'] : ['not-located', undefined];
        expect(said(housed(t, e, deep, grown(b, f.wall, by)), at)).toEqual([wide]);
        expect(said(housed(t, e, deep, beside(b, 0, by)), at)).toEqual([['shifted', 'A.p1']]);
        expect(said(housed(t, e, deep, b, deep - by), at)).toEqual([['shallow', 'A.p1']]);
        expect(said(housed(t, e, deep, b, deep, 'n-'), at)).toEqual([['wrong-face', 'A.p1']]);
      }),
      runs,
    ));
});
