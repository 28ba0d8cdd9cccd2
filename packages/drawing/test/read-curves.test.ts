import { ringArea, ringSegments, type Segment } from '@haunch/geometry';
import { parseString, toPolylines } from 'dxf';
import DxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ellipseAt, ellipseOfAxes } from '../src/curves/ellipse.js';
import { plainEntities } from '../src/curves/plain-entities.js';
import { pieceAt, piecesOfSpline } from '../src/curves/spline-pieces.js';
import { type Entity, findParts, readDxf, type SplineEntity } from '../src/index.js';
import { dxfText, groups } from './dxf-text.js';

interface Xy {
  readonly x: number;
  readonly y: number;
}

function read(entities: string): readonly Entity[] {
  const r = readDxf(dxfText(entities), { unit: 'mm' });
  if (!r.ok) throw new Error(r.diagnostics.map((d) => d.message).join('\n'));
  return r.value.entities;
}
function partsOf(entities: string) {
  const r = readDxf(dxfText(entities), { unit: 'mm' });
  if (!r.ok) throw new Error(r.diagnostics.map((d) => d.message).join('\n'));
  const parts = findParts(r.value);
  if (!parts.ok) throw new Error(parts.diagnostics.map((d) => d.message).join('\n'));
  return parts.value;
}

const ellipse = (
  cx: number,
  cy: number,
  mx: number,
  my: number,
  ratio: number,
  from: number,
  to: number,
  ...more: number[]
): string =>
  groups(
    0,
    'ELLIPSE',
    8,
    'A',
    10,
    cx,
    20,
    cy,
    30,
    0,
    11,
    mx,
    21,
    my,
    31,
    0,
    ...more,
    40,
    ratio,
    41,
    from,
    42,
    to,
  );

interface SplineText {
  degree: number;
  knots: readonly number[];
  controls: readonly (readonly [number, number])[];
  weights?: readonly number[];
  flags?: number;
  fit?: readonly (readonly [number, number])[];
}
const spline = (s: SplineText): string =>
  groups(
    0,
    'SPLINE',
    8,
    'A',
    70,
    s.flags ?? 8,
    71,
    s.degree,
    72,
    s.knots.length,
    73,
    s.controls.length,
    74,
    s.fit?.length ?? 0,
  ) +
  s.knots.map((k) => groups(40, k)).join('') +
  (s.weights ?? []).map((w) => groups(41, w)).join('') +
  s.controls.map(([x, y]) => groups(10, x, 20, y, 30, 0)).join('') +
  (s.fit ?? []).map(([x, y]) => groups(11, x, 21, y, 31, 0)).join('');

/** The place on a spline at a parameter, by de Boor's recursion in its textbook form: a second evaluation. */
function deBoor(s: Pick<SplineEntity, 'degree' | 'knots' | 'controls'>, t: number): Xy {
  const { degree: p, knots: u, controls: c } = s;
  let k = p;
  while (k < c.length - 1 && t >= u[k + 1]!) k++;
  const basis = (i: number, q: number): number => {
    if (q === 0) return i === k ? 1 : 0;
    const part = (a: number, b: number, n: number) => (b === 0 ? 0 : (a / b) * n);
    return (
      part(t - u[i]!, u[i + q]! - u[i]!, basis(i, q - 1)) +
      part(u[i + q + 1]! - t, u[i + q + 1]! - u[i + 1]!, basis(i + 1, q - 1))
    );
  };
  let [x, y, w] = [0, 0, 0];
  c.forEach((v, i) => {
    if (i < k - p || i > k) return;
    const b = basis(i, p) * v.weight;
    x += b * v.x;
    y += b * v.y;
    w += b;
  });
  return { x: x / w, y: y / w };
}

const firstSpline = (entities: readonly Entity[]): SplineEntity => {
  const e = entities[0]!;
  if (e.kind !== 'spline') throw new Error(e.kind);
  return e;
};

// Values computed with two independent libraries.
const H = Math.SQRT1_2;
const CIRCLE: SplineText = {
  degree: 2,
  knots: [0, 0, 0, 0.25, 0.25, 0.5, 0.5, 0.75, 0.75, 1, 1, 1],
  controls: [
    [1, 0],
    [1, 1],
    [0, 1],
    [-1, 1],
    [-1, 0],
    [-1, -1],
    [0, -1],
    [1, -1],
    [1, 0],
  ],
  weights: [1, H, 1, H, 1, H, 1, H, 1],
};
const CUBIC: SplineText = {
  degree: 3,
  knots: [0, 0, 0, 0, 0.5, 1, 1, 1, 1],
  controls: [
    [0, 0],
    [1, 2],
    [3, 3],
    [5, 1],
    [6, 0],
  ],
};
const scaled = (s: SplineText, by: number): SplineText => ({
  ...s,
  controls: s.controls.map(([x, y]) => [x * by, y * by]),
});
/** The place at a parameter by the pieces that are followed. */
function atPieces(s: SplineEntity, t: number): Xy {
  const { origin, pieces } = piecesOfSpline(s);
  const spans = s.knots
    .slice(s.degree, s.controls.length + 1)
    .filter((k, i, all) => i === 0 || k > all[i - 1]!);
  let k = 0;
  while (k < pieces.length - 1 && t >= spans[k + 1]!) k++;
  const p = pieceAt(pieces[k]!, (t - spans[k]!) / (spans[k + 1]! - spans[k]!));
  return { x: p.x + origin.x, y: p.y + origin.y };
}

describe('values of splines', () => {
  it.each([
    [CIRCLE, 0.0625, 0.9297883, 0.3680947],
    [CIRCLE, 0.125, H, H],
    [CIRCLE, 0.3, Math.cos((107.08631 * Math.PI) / 180), Math.sin((107.08631 * Math.PI) / 180)],
    [CUBIC, 0.25, 1.5, 1.96875],
    [CUBIC, 0.5, 3, 2.25],
    [CUBIC, 0.75, 4.5, 1.40625],
  ] as const)('at a parameter are those of other libraries (%#)', (s, t, x, y) => {
    const e = firstSpline(read(spline(s)));
    for (const p of [atPieces(e, t), deBoor(e, t)]) {
      expect(p.x).toBeCloseTo(x, 7);
      expect(p.y).toBeCloseTo(y, 7);
    }
  });
});

/** Segments of a plain entity. */
function segmentsOf(e: Entity): Segment[] {
  if (e.kind === 'line') return [{ kind: 'line', from: e.from, to: e.to }];
  if (e.kind === 'arc')
    return ringSegments({
      vertices: [
        { ...e.from, bulge: e.bulge },
        { ...e.to, bulge: 0 },
      ],
    }).slice(0, 1);
  if (e.kind === 'circle')
    return ringSegments({
      vertices: [
        { x: e.centre.x + e.radius, y: e.centre.y, bulge: 1 },
        { x: e.centre.x - e.radius, y: e.centre.y, bulge: 1 },
      ],
    });
  if (e.kind !== 'polyline') throw new Error(e.kind);
  const all = ringSegments({ vertices: e.vertices });
  return e.closed ? all : all.slice(0, e.vertices.length - 1);
}
/** Distance of a place from a segment, computed from the definition of each. */
function distanceTo(s: Segment, p: Xy): number {
  if (s.kind === 'arc') {
    const [dx, dy] = [p.x - s.centre.x, p.y - s.centre.y];
    const from = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
    const turn =
      ((((Math.atan2(dy, dx) - from) * Math.sign(s.sweep)) % (2 * Math.PI)) + 4 * Math.PI) % (2 * Math.PI);
    if (turn <= Math.abs(s.sweep)) return Math.abs(Math.hypot(dx, dy) - s.radius);
  } else {
    const [dx, dy] = [s.to.x - s.from.x, s.to.y - s.from.y];
    const t = Math.min(1, Math.max(0, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / (dx * dx + dy * dy)));
    return Math.hypot(p.x - s.from.x - t * dx, p.y - s.from.y - t * dy);
  }
  return Math.min(Math.hypot(p.x - s.from.x, p.y - s.from.y), Math.hypot(p.x - s.to.x, p.y - s.to.y));
}
function placeOn(s: Segment, share: number): Xy {
  if (s.kind === 'line')
    return { x: s.from.x + share * (s.to.x - s.from.x), y: s.from.y + share * (s.to.y - s.from.y) };
  const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + share * s.sweep;
  return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
}
const farthest = (segments: readonly Segment[], places: readonly Xy[]): number =>
  places.reduce(
    (most, p) =>
      Math.max(
        most,
        segments.reduce((m, s) => Math.min(m, distanceTo(s, p)), Infinity),
      ),
    0,
  );
const chords = (places: readonly Xy[]): Segment[] =>
  places.slice(1).flatMap((to, i): Segment[] => {
    const from = places[i]!;
    // A curve may rest: control points that repeat hold it where it is.
    return from.x === to.x && from.y === to.y ? [] : [{ kind: 'line', from, to }];
  });

/** What the rounding of coordinates to 0.0001 mm may add at most. */
const GRID = 1e-4;
/** Both ways: no place of the curve is off the segments, none of the segments off the curve. */
function expectFollowed(e: Entity, at: (share: number) => Xy, corners: readonly number[] = []): Entity {
  const { entities, notFollowed } = plainEntities([e]);
  expect(notFollowed).toEqual([]);
  const segments = segmentsOf(entities[0]!);
  // Chords between places would cut corners off, so that corners are places too.
  const shares = [...Array.from({ length: 2001 }, (_, i) => i / 2000), ...corners].sort((a, b) => a - b);
  const dense = shares.map(at);
  expect(
    farthest(
      segments,
      dense.filter((_, i) => i % 4 === 0),
    ),
  ).toBeLessThanOrEqual(0.01 + GRID);
  const along = segments.flatMap((s) => [0, 0.25, 0.5, 0.75, 1].map((k) => placeOn(s, k)));
  const sagitta = chords(dense).reduce(
    (m, s) => Math.max(m, Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)),
    0,
  );
  expect(farthest(chords(dense), along)).toBeLessThanOrEqual(0.01 + GRID + sagitta * 0.02);
  return entities[0]!;
}

/**
 * Arcs of the best-spaced pairs that follow an ellipse: a pair over a length h leaves a curve by about |κ′|·h³/324
 * (Meek and Walton, J. Comput. Appl. Math. 59, 1995; from memory). Halving needs at most twice as many.
 */
function fewestArcs(a: number, b: number, within: number): number {
  const n = 10_000;
  let pairs = 0;
  for (let i = 0; i < n; i++) {
    const s = ((i + 0.5) / n) * 2 * Math.PI;
    const speed = Math.hypot(a * Math.sin(s), b * Math.cos(s));
    const bend = Math.abs(3 * a * b * (a * a - b * b) * Math.sin(s) * Math.cos(s)) / speed ** 6;
    pairs += (Math.cbrt(bend / (324 * within)) * speed * 2 * Math.PI) / n;
  }
  return 2 * pairs;
}

describe('following curves', () => {
  it('keeps within 0.01 mm of any ellipse and its arcs, both ways', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 2000, noNaN: true }),
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: 0.01, max: 6.2831, noNaN: true }),
        (size, ratio, turn, start, sweep) => {
          const shape = ellipseOfAxes(
            { x: 500, y: -300 },
            { x: size * Math.cos(turn), y: size * Math.sin(turn) },
            { x: -size * ratio * Math.sin(turn), y: size * ratio * Math.cos(turn) },
            start,
            start + sweep,
          )!;
          const e: Entity = {
            kind: 'ellipse',
            layer: '0',
            handle: null,
            line: 1,
            elevation: 0,
            depth: 0,
            ...shape,
          };
          if (plainEntities([e]).entities.length === 0) return;
          expectFollowed(e, (k) => ellipseAt(shape, shape.start + k * (shape.end - shape.start)));
        },
      ),
      { numRuns: 60, seed: 11 },
    );
  });

  it('keeps within 0.01 mm of any spline, rational or not, of any degree and with corners, both ways', () => {
    const xy = fc.tuple(fc.integer({ min: -300, max: 300 }), fc.integer({ min: -300, max: 300 }));
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }),
        fc.array(fc.tuple(xy, fc.constantFrom(1, 1, 1, 0.5, 3), fc.constantFrom(0, 1, 1, 2)), {
          minLength: 6,
          maxLength: 12,
        }),
        (degree, raw) => {
          let u = 0;
          const inner = raw.slice(degree + 1).map((r) => (u += r[2]));
          const top = u + 1;
          const knots = [
            ...new Array<number>(degree + 1).fill(0),
            ...inner,
            ...new Array<number>(degree + 1).fill(top),
          ];
          const controls = raw.map(([[x, y], weight]) => ({ x, y, weight }));
          const e: SplineEntity = {
            kind: 'spline',
            layer: '0',
            handle: null,
            line: 1,
            elevation: 0,
            depth: 0,
            degree,
            knots,
            controls,
            closed: false,
            fit: [],
          };
          // More equal knots than the degree tear a curve apart; that is no curve to follow.
          for (let i = 0; i + degree < knots.length - 1; i++)
            if (i > 0 && i + degree < knots.length - 2 && knots[i] === knots[i + degree]) return;
          if (controls.every((c) => c.x === controls[0]!.x && c.y === controls[0]!.y)) return;
          expectFollowed(
            e,
            (k) => deBoor(e, Math.min(k * top, top * (1 - 1e-12))),
            knots.map((k) => k / top),
          );
        },
      ),
      { numRuns: 60, seed: 12 },
    );
  });

  it('makes a hole of a rational quadratic circle', () => {
    const [part] = partsOf(groups(0, 'CIRCLE', 8, 'A', 10, 0, 20, 0, 40, 90) + spline(scaled(CIRCLE, 25)));
    expect(part!.holes).toMatchObject([{ centre: { x: 0, y: 0 }, diameter: 50 }]);
  });

  it('makes a hole of the usual four cubic curves, which leave it by 2.725e-4 of the radius at most', () => {
    const k = 0.552285;
    const quarter = [
      [1, 0],
      [1, k],
      [k, 1],
      [0, 1],
      [-k, 1],
      [-1, k],
      [-1, 0],
      [-1, -k],
      [-k, -1],
      [0, -1],
      [k, -1],
      [1, -k],
      [1, 0],
    ] as const;
    const s: SplineText = {
      degree: 3,
      knots: [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4],
      controls: quarter,
    };
    expect(plainEntities(read(spline(scaled(s, 30)))).entities).toMatchObject([
      { kind: 'circle', centre: { x: 0, y: 0 }, radius: 30 },
    ]);
    // 2.725e-4 · 60 mm is more than 0.01 mm: that is no circle any more.
    expect(plainEntities(read(spline(scaled(s, 60)))).entities[0]!.kind).toBe('polyline');
  });

  it('makes lines of splines that hide straight runs, and one line of one', () => {
    const straight: SplineText = {
      degree: 3,
      knots: [0, 0, 0, 0, 1, 1, 1, 1],
      controls: [
        [0, 0],
        [10, 5],
        [20, 10],
        [60, 30],
      ],
    };
    expect(plainEntities(read(spline(straight))).entities).toMatchObject([
      { kind: 'line', from: { x: 0, y: 0 }, to: { x: 60, y: 30 } },
    ]);
    const corner: SplineText = {
      degree: 2,
      knots: [0, 0, 0, 1, 1, 2, 2, 2],
      controls: [
        [0, 0],
        [20, 0],
        [40, 0],
        [40, 10],
        [40, 30],
      ],
    };
    expect(plainEntities(read(spline(corner))).entities).toMatchObject([
      {
        kind: 'polyline',
        vertices: [
          { x: 0, y: 0, bulge: 0 },
          { x: 40, y: 0, bulge: 0 },
          { x: 40, y: 30 },
        ],
      },
    ]);
    const rounded: SplineText = {
      degree: 2,
      knots: [0, 0, 0, 1, 1, 2, 2, 3, 3, 3],
      weights: [1, 1, 1, H, 1, 1, 1],
      controls: [
        [0, 0],
        [10, 0],
        [20, 0],
        [30, 0],
        [30, 10],
        [30, 15],
        [30, 30],
      ],
    };
    const [e] = plainEntities(read(spline(rounded))).entities;
    expect(e).toMatchObject({
      vertices: [{ bulge: 0 }, { x: 20, y: 0 }, { x: 30, y: 10, bulge: 0 }, { x: 30, y: 30 }],
    });
    if (e?.kind === 'polyline') expect(e.vertices[1]!.bulge).toBeCloseTo(Math.SQRT2 - 1, 9);
  });

  it('makes a circle of an ellipse that is one, and an arc of its arc', () => {
    expect(plainEntities(read(ellipse(5, 6, 3, 4, 1, 0, 2 * Math.PI))).entities).toMatchObject([
      { kind: 'circle', centre: { x: 5, y: 6 }, radius: 5 },
    ]);
    expect(plainEntities(read(ellipse(0, 0, 10, 0, 1, 0, Math.PI / 2))).entities).toMatchObject([
      { kind: 'arc', from: { x: 10, y: 0 }, to: { x: 0, y: 10 }, radius: 10 },
    ]);
  });

  it('gives an elliptic plate its area, πab', () => {
    const [part] = partsOf(ellipse(0, 0, 300, 0, 0.5, 0, 2 * Math.PI));
    // The boundary is at most 0.01 mm off.
    expect(Math.abs(ringArea(part!.outline.ring) - Math.PI * 300 * 150)).toBeLessThan(0.01 * 1500);
    expect(part!.outline.ring.vertices.length).toBeLessThanOrEqual(2 * fewestArcs(300, 150, 0.01) + 4);
  });

  it('joins curves with lines to one outline', () => {
    const half =
      ellipse(100, 0, 100, 0, 0.4, 0, Math.PI) +
      groups(0, 'LINE', 8, 'A', 10, 0, 20, 0, 11, 0, 21, -50) +
      groups(0, 'LINE', 8, 'A', 10, 0, 20, -50, 11, 200, 21, -50) +
      groups(0, 'LINE', 8, 'A', 10, 200, 20, -50, 11, 200, 21, 0);
    expect(partsOf(half).length).toBe(1);
  });
});

describe('reading curves', () => {
  it('runs an ellipse clockwise that is seen from behind, between the same ends', () => {
    const [up] = read(ellipse(0, 0, 20, 0, 0.5, 0, Math.PI / 2));
    const [down] = read(ellipse(0, 0, 20, 0, 0.5, 0, Math.PI / 2, 210, 0, 220, 0, 230, -1));
    if (up?.kind !== 'ellipse' || down?.kind !== 'ellipse') throw new Error();
    expect(ellipseAt(up, up.end)).toMatchObject({ x: expect.closeTo(0, 9), y: expect.closeTo(10, 9) });
    expect(ellipseAt(down, down.start)).toMatchObject({ x: expect.closeTo(0, 9), y: expect.closeTo(-10, 9) });
    expect(ellipseAt(down, down.end)).toMatchObject({ x: expect.closeTo(20, 9), y: expect.closeTo(0, 9) });
  });

  it('draws a cubic through points where nothing else is stated, closed without a kink, and says so', () => {
    const open =
      groups(0, 'SPLINE', 8, 'A', 70, 8, 71, 3, 74, 4) +
      [
        [0, 0],
        [30, 10],
        [60, -5],
        [90, 0],
      ]
        .map(([x, y]) => groups(11, x!, 21, y!, 31, 0))
        .join('');
    const r = readDxf(dxfText(open), { unit: 'mm' });
    expect(r.diagnostics.map((d) => d.code)).toEqual(['read/drawn-through']);
    const e = firstSpline(read(open));
    for (const p of e.fit)
      expect(Math.min(...e.controls.map((c) => Math.hypot(c.x - p.x, c.y - p.y)))).toBeLessThan(1e-9);
    const square = [
      [0, 0],
      [50, 0],
      [50, 50],
      [0, 50],
    ]
      .map(([x, y]) => groups(11, x!, 21, y!, 31, 0))
      .join('');
    const closed = firstSpline(read(groups(0, 'SPLINE', 8, 'A', 70, 9, 71, 3, 74, 4) + square));
    const [c1, last] = [closed.controls[1]!, closed.controls.at(-2)!];
    // No kink at the seam: both neighbours of (0, 0) lie opposite each other.
    expect(c1.x + last.x).toBeCloseTo(0, 9);
    expect(c1.y + last.y).toBeCloseTo(0, 9);
    // The curve through the corners of a square is the same seen from each side.
    const second = closed.controls[4]!;
    expect([second.x - 50, second.y]).toEqual([expect.closeTo(-c1.y, 9), expect.closeTo(c1.x, 9)]);
  });

  it.each([
    ['knots that fall', { ...CUBIC, knots: [0, 0, 0, 0, 0.5, 0.4, 1, 1, 1] }],
    ['a knot too few', { ...CUBIC, knots: [0, 0, 0, 0, 1, 1, 1, 1] }],
    [
      'too few control points',
      {
        ...CUBIC,
        controls: [
          [0, 0],
          [1, 1],
        ],
      },
    ],
    ['degree 0', { ...CUBIC, degree: 0 }],
    ['knots that span nothing', { ...CUBIC, knots: [0, 0, 0, 0, 0, 0, 0, 0, 0] }],
    ['a weight of 0', { ...CUBIC, weights: [1, 1, 0, 1, 1] }],
    ['a weight too few', { ...CUBIC, weights: [1, 1, 1, 1] }],
    ['neither control points nor others', { ...CUBIC, knots: [], controls: [] }],
  ] as const)('refuses %s', (_, s) => {
    expect(readDxf(dxfText(spline(s as SplineText))).diagnostics[0]).toMatchObject({
      code: 'read/bad-spline',
    });
  });

  it('gives every curve that is too large or winding up, at once and with its place', () => {
    const r = readDxf(
      dxfText(groups(0, 'CIRCLE', 8, 'A', 10, 0, 20, 0, 40, 5) + ellipse(0, 0, 1e9, 0, 0.1, 0, 3)),
      { unit: 'm' },
    );
    if (!r.ok) throw new Error();
    expect(findParts(r.value).diagnostics.map((d) => [d.code, d.locus.line])).toContainEqual([
      'read/not-followed',
      25,
    ]);
  });
});

describe('filled areas', () => {
  const hatch = (paths: string, count: number): string =>
    groups(
      0,
      'HATCH',
      8,
      'A',
      10,
      0,
      20,
      0,
      30,
      0,
      210,
      0,
      220,
      0,
      230,
      1,
      2,
      'SOLID',
      70,
      1,
      71,
      0,
      91,
      count,
    ) +
    paths +
    groups(75, 0, 76, 1, 98, 1, 10, 1, 20, 1);
  const square = groups(
    92,
    7,
    72,
    0,
    73,
    1,
    93,
    4,
    10,
    0,
    20,
    0,
    10,
    100,
    20,
    0,
    10,
    100,
    20,
    50,
    10,
    0,
    20,
    50,
    97,
    0,
  );
  const lens = groups(
    92,
    1,
    93,
    3,
    72,
    1,
    10,
    20,
    20,
    20,
    11,
    40,
    21,
    20,
    72,
    2,
    10,
    30,
    20,
    20,
    40,
    10,
    50,
    0,
    51,
    90,
    73,
    1,
    72,
    2,
    10,
    30,
    20,
    20,
    40,
    10,
    50,
    180,
    51,
    270,
    73,
    0,
    97,
    0,
  );

  it('become contours where nothing else is drawn, with a warning', () => {
    const text = dxfText(hatch(square + lens, 2));
    const r = readDxf(text, { unit: 'mm' });
    if (!r.ok) throw new Error();
    expect(r.value.entities.map((e) => [e.kind, e.filled])).toEqual([
      ['polyline', 'HATCH'],
      ['line', 'HATCH'],
      ['arc', 'HATCH'],
      ['arc', 'HATCH'],
    ]);
    const parts = findParts(r.value);
    expect(parts.ok && parts.value[0]!.through.length).toBe(1);
    expect(parts.diagnostics.map((d) => [d.level, d.code])).toContainEqual(['warning', 'read/filled']);
  });

  it('are left out where lines are drawn, with a note', () => {
    const text = dxfText(groups(0, 'CIRCLE', 8, 'A', 10, 0, 20, 0, 40, 500) + hatch(square, 1));
    const r = readDxf(text, { unit: 'mm' });
    const parts = r.ok ? findParts(r.value) : null;
    expect(parts?.ok && parts.value.map((p) => p.through.length)).toEqual([0]);
    expect(parts?.diagnostics.map((d) => [d.level, d.code])).toEqual([['note', 'read/filled']]);
  });

  it('of SOLID go round their corners 1, 2, 4, 3', () => {
    const solid = groups(0, 'SOLID', 8, 'A', 10, 0, 20, 0, 11, 40, 21, 0, 12, 0, 22, 30, 13, 40, 23, 30);
    expect(read(solid)).toMatchObject([
      {
        filled: 'SOLID',
        closed: true,
        vertices: [
          { x: 0, y: 0 },
          { x: 40, y: 0 },
          { x: 40, y: 30 },
          { x: 0, y: 30 },
        ],
      },
    ]);
  });

  it('have spline and ellipse edges, also clockwise ones', () => {
    const path = groups(
      92,
      1,
      93,
      2,
      72,
      3,
      10,
      0,
      20,
      0,
      11,
      20,
      21,
      0,
      40,
      0.5,
      50,
      180,
      51,
      360,
      73,
      0,
      72,
      4,
      94,
      1,
      73,
      0,
      74,
      0,
      95,
      4,
      96,
      2,
      40,
      0,
      40,
      0,
      40,
      1,
      40,
      1,
      10,
      20,
      20,
      0,
      10,
      -20,
      20,
      0,
      97,
      0,
      97,
      0,
    );
    const r = readDxf(dxfText(hatch(path, 1)), { unit: 'mm' });
    const parts = r.ok ? findParts(r.value) : null;
    // Half an ellipse above its major axis: clockwise from 180° is over the top.
    expect(parts?.ok && ringArea(parts.value[0]!.outline.ring)).toBeCloseTo((Math.PI * 20 * 10) / 2, 0);
    expect(parts?.ok && Math.max(...parts.value[0]!.outline.ring.vertices.map((v) => v.y))).toBeCloseTo(
      10,
      1,
    );
  });
});

// Two general-purpose readers of other authors (MIT) as independent witnesses.
describe('curves as others read them', () => {
  const text = dxfText(spline(scaled(CUBIC, 20)) + ellipse(10, 20, 30, 40, 0.3, 0.5, 4));

  it('have the same numbers for the first witness', () => {
    const all = new DxfParser().parseSync(text)!.entities as unknown as {
      controlPoints?: Xy[];
      knotValues?: number[];
      degreeOfSplineCurve?: number;
      center?: Xy;
      majorAxisEndPoint?: Xy;
      axisRatio?: number;
      startAngle?: number;
      endAngle?: number;
    }[];
    const [s, e] = read(spline(scaled(CUBIC, 20)) + ellipse(10, 20, 30, 40, 0.3, 0.5, 4));
    if (s?.kind !== 'spline' || e?.kind !== 'ellipse') throw new Error();
    expect(s.controls.map(({ x, y }) => ({ x, y }))).toEqual(
      all[0]!.controlPoints!.map(({ x, y }) => ({ x, y })),
    );
    expect(s.knots).toEqual(all[0]!.knotValues);
    expect(s.degree).toBe(all[0]!.degreeOfSplineCurve);
    expect(e.centre).toMatchObject({ x: all[1]!.center!.x, y: all[1]!.center!.y });
    expect([e.major.x, e.major.y, e.ratio, e.start, e.end]).toEqual(
      [30, 40, 0.3, 0.5, 4].map((v) => expect.closeTo(v, 9)),
    );
    expect(all[1]!).toMatchObject({ axisRatio: 0.3, startAngle: 0.5, endAngle: 4 });
  });

  it('pass through the same places for the second witness', () => {
    const lines = toPolylines(parseString(text)).polylines;
    const plain = plainEntities(
      read(spline(scaled(CUBIC, 20)) + ellipse(10, 20, 30, 40, 0.3, 0.5, 4)),
    ).entities;
    expect(lines.length).toBe(2);
    lines.forEach((l, i) => {
      const places = l.vertices.map(([x, y]) => ({ x, y }));
      expect(places.length).toBeGreaterThan(10);
      expect(farthest(segmentsOf(plain[i]!), places)).toBeLessThanOrEqual(0.0101);
    });
  });
});
