import { ringArea } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pieceAt, piecesOfSpline } from '../src/curves/spline-pieces.js';
import { type Drawing, type Entity, findParts, readDxf } from '../src/index.js';
import { block, dxfText, groups } from './dxf-text.js';

function drawing(text: string | Uint8Array): Drawing {
  const r = readDxf(text, { unit: 'mm' });
  if (!r.ok) throw new Error(r.diagnostics.map((d) => `${d.locus.line}: ${d.message}`).join('\n'));
  return r.value;
}
const read = (entities: string, parts: Parameters<typeof dxfText>[1] = {}): readonly Entity[] =>
  drawing(dxfText(entities, parts)).entities;
const codesOf = (text: string): string[] => readDxf(text).diagnostics.map((d) => d.code.slice(5));

describe('release 9', () => {
  // DXF reference, "obsolete" groups: 38 is the elevation of any entity up to release 10, 3DLINE a line in space.
  const R9 = groups(
    ...[0, 'SECTION', 2, 'ENTITIES'],
    ...[0, 'LINE', 8, '0', 38, -2, 39, 2, 10, 1, 20, 2, 11, 3, 21, 4],
    ...[0, '3DLINE', 8, '0', 10, 0, 20, 0, 30, 5, 11, 9, 21, 0, 31, 5],
    ...[0, 'CIRCLE', 8, '0', 38, -3, 10, 0, 20, 0, 40, 4],
    ...[0, 'ARC', 8, '0', 38, 7, 10, 0, 20, 0, 40, 4, 50, 0, 51, 90],
    ...[0, 'POLYLINE', 8, '0', 66, 1, 38, -4, 70, 1],
    ...[
      0,
      'VERTEX',
      8,
      '0',
      10,
      0,
      20,
      0,
      0,
      'VERTEX',
      8,
      '0',
      10,
      5,
      20,
      0,
      0,
      'VERTEX',
      8,
      '0',
      10,
      5,
      20,
      5,
    ],
    ...[0, 'SEQEND', 8, '0', 0, 'ENDSEC', 0, 'EOF'],
  );

  it('needs no header, tables or handles, and keeps heights in group 38', () => {
    const d = drawing(R9);
    expect(d.version).toBe('unknown');
    expect(d.entities.map((e) => [e.kind, e.elevation, e.handle])).toEqual([
      ['line', -2, null],
      ['line', 5, null],
      ['circle', -3, null],
      ['arc', 7, null],
      ['polyline', -4, null],
    ]);
    expect(d.entities[0]!.depth).toBe(2);
  });

  it('reads the same whatever ends its lines', () => {
    const want = JSON.stringify(drawing(R9));
    for (const end of ['\r\n', '\r']) expect(JSON.stringify(drawing(R9.replaceAll('\n', end)))).toBe(want);
  });
});

describe('units', () => {
  // DXF reference, $INSUNITS 0 to 24. Factors by definition: inch 25.4 mm, US survey foot 1200/3937 m (NIST SP 811).
  const across = (code: number, length: number, extra: readonly (string | number)[] = []) => {
    const text = dxfText(groups(0, 'LINE', 8, 0, 10, 0, 20, 0, 11, length, 21, 0), {
      header: groups(9, '$INSUNITS', 70, code, ...extra),
    });
    const r = readDxf(text);
    const e = r.ok ? r.value.entities[0] : undefined;
    return { to: e?.kind === 'line' ? e.to.x : null, codes: r.diagnostics.map((d) => d.code.slice(5)), r };
  };

  it.each([
    [1, 10, 254],
    [2, 1, 304.8],
    [4, 317, 317],
    [5, 31.7, 317],
    [6, 0.317, 317],
    [9, 10_000, 254],
    [10, 1, 914.4],
    [13, 317_000, 317],
    [14, 3.17, 317],
    [15, 0.1, 1000],
    [21, 1, 304.8006],
    [22, 10, 254.0005],
    [23, 1, 914.4018],
  ])('of code %i: %d long is %d mm', (code, length, mm) => {
    expect(across(code, length)).toMatchObject({ to: mm, codes: [] });
  });

  it.each([3, 7, 8, 11, 12, 16, 17, 18, 19, 20, 24])(
    'of code %i are doubted, as no sheet is measured in them',
    (code) => {
      const { to, codes } = across(code, 317);
      expect(to).toBe(317);
      expect(codes).toEqual(['odd-unit']);
    },
  );

  it.each([0, 25, 99, -1])('of code %i are none', (code) => {
    expect(across(code, 317).codes).toEqual(['no-unit']);
  });

  it('without $INSUNITS are inches where $MEASUREMENT says so and only inches make a usual size', () => {
    expect(across(0, 20, [9, '$MEASUREMENT', 70, 0]).to).toBe(508);
    expect(across(0, 317, [9, '$MEASUREMENT', 70, 0]).to).toBe(317);
    expect(across(0, 317, [9, '$MEASUREMENT', 70, 1]).r.diagnostics[0]!.message).toContain('metric');
  });
});

describe('layers and visibility', () => {
  const layer = (name: string, flags: number, colour: number): string =>
    groups(0, 'LAYER', 2, name, 70, flags, 62, colour, 6, 'CONTINUOUS');
  const tables = `${groups(0, 'TABLE', 2, 'LAYER', 70, 3)}${layer('Cut', 0, 1)}${layer('Cold', 1, 2)}${layer('Dark', 0, -3)}${groups(0, 'ENDTAB')}`;
  const circle = (x: number, on: string, ...more: (string | number)[]): string =>
    groups(0, 'CIRCLE', 8, on, ...more, 10, x, 20, 0, 40, 5);

  it('have names that are the same in capitals and small letters', () => {
    const entities = read(circle(0, 'CUT') + circle(20, 'cOlD') + circle(40, 'other'), { tables });
    expect(entities.map((e) => e.layer)).toEqual(['Cut', 'Cold', 'other']);
  });

  it('that are frozen or off hide what is on them', () => {
    const r = readDxf(dxfText(circle(0, 'CUT') + circle(20, 'COLD') + circle(40, 'Dark'), { tables }));
    if (!r.ok) throw new Error();
    expect(r.value.layers).toEqual([
      { name: 'Cut', off: false, frozen: false, colour: 1 },
      { name: 'Cold', off: false, frozen: true, colour: 2 },
      { name: 'Dark', off: true, frozen: false, colour: 3 },
    ]);
    const parts = findParts(r.value);
    expect(parts.ok && parts.value.length).toBe(1);
    expect(parts.diagnostics.map((d) => d.code)).toContain('read/hidden-layer');
  });

  it('leave colours to entities that have their own; 0 and 256 mean the block and the layer', () => {
    const entities = read([1, 0, 256, -5, 255].map((c, i) => circle(20 * i, 'Cut', 62, c)).join(''), {
      tables,
    });
    expect(entities.map((e) => e.colour)).toEqual([1, undefined, undefined, 5, 255]);
  });

  it('leave out paper space (67) and what is invisible (60), and count it', () => {
    const text = dxfText(
      circle(0, 'Cut') + circle(20, 'Cut', 67, 1) + circle(40, 'Cut', 60, 1) + circle(60, 'Cut', 67, 0),
    );
    expect(drawing(text).entities.map((e) => (e.kind === 'circle' ? e.centre.x : null))).toEqual([0, 60]);
    expect(readDxf(text).diagnostics.find((d) => d.code === 'read/paper-space')!.message).toBe(
      '2 entities in paper space or invisible left out.',
    );
  });
});

describe('extended data', () => {
  it('may hold empty integers and anything else without a word', () => {
    const junk = [
      1001,
      'APP',
      1070,
      '',
      1071,
      '',
      1040,
      'x',
      1000,
      'NaN',
      1002,
      '{',
      1010,
      '',
      1020,
      '',
      1030,
      '',
    ];
    const line = groups(0, 'LINE', 8, 0, 10, 1, 11, 3, 20, 2, 21, 4, ...junk);
    expect(codesOf(dxfText(line))).toEqual(['odd-unit']);
    expect(read(line)).toMatchObject([{ from: { x: 1, y: 2 }, to: { x: 3, y: 4 } }]);
  });

  it('of an embedded object (101) is not the entity’s', () => {
    const text = groups(
      0,
      'MTEXT',
      8,
      0,
      10,
      1,
      20,
      2,
      40,
      3,
      1,
      'Side',
      101,
      'Embedded Object',
      10,
      99,
      20,
      98,
      1,
      'no',
    );
    expect(read(text)).toMatchObject([{ kind: 'text', text: 'Side', at: { x: 1, y: 2 } }]);
  });
});

describe('closed and periodic splines', () => {
  const square = [
    [0, 0],
    [60, 0],
    [60, 60],
    [0, 60],
  ] as const;
  const wrapped = [...square, ...square.slice(0, 3)];
  const text =
    groups(0, 'SPLINE', 8, 0, 70, 11, 71, 3, 72, 11, 73, 7, 74, 0) +
    Array.from({ length: 11 }, (_, i) => groups(40, i)).join('') +
    wrapped.map(([x, y]) => groups(10, x, 20, y, 30, 0)).join('');

  it('run over their own knots only: a uniform cubic passes (P₀ + 4P₁ + P₂)/6 at each', () => {
    // The value of the uniform cubic B-spline at a knot (de Boor, A Practical Guide to Splines, ch. X; from memory).
    const [e] = read(text);
    if (e?.kind !== 'spline') throw new Error();
    expect(e.closed).toBe(true);
    const { origin, pieces } = piecesOfSpline(e);
    expect(pieces.length).toBe(4);
    pieces.forEach((p, i) => {
      const [a, b, c] = [wrapped[i]!, wrapped[i + 1]!, wrapped[i + 2]!];
      const at = pieceAt(p, 0);
      expect(at.x + origin.x).toBeCloseTo((a[0] + 4 * b[0] + c[0]) / 6, 9);
      expect(at.y + origin.y).toBeCloseTo((a[1] + 4 * b[1] + c[1]) / 6, 9);
    });
  });

  it('make one closed contour', () => {
    const parts = findParts(drawing(dxfText(text)));
    expect(parts.ok && parts.value.length).toBe(1);
    // Green's theorem over the four stretches by Simpson's rule, which is exact to degree 3, on 400 steps each.
    const basis = (t: number) => [
      (1 - t) ** 3,
      3 * t ** 3 - 6 * t ** 2 + 4,
      -3 * t ** 3 + 3 * t ** 2 + 3 * t + 1,
      t ** 3,
    ];
    const at = (i: number, t: number, axis: 0 | 1) =>
      basis(t).reduce((sum, w, k) => sum + (w / 6) * wrapped[i + k]![axis], 0);
    let area = 0;
    for (let i = 0; i < 4; i++)
      for (let k = 0; k < 400; k++) {
        const [x0, y0, x1, y1] = [
          at(i, k / 400, 0),
          at(i, k / 400, 1),
          at(i, (k + 1) / 400, 0),
          at(i, (k + 1) / 400, 1),
        ];
        area += (x0 * y1 - x1 * y0) / 2;
      }
    expect(parts.ok && Math.abs(ringArea(parts.value[0]!.outline.ring) - area)).toBeLessThan(2);
  });
});

describe('boundaries of hatches', () => {
  const hatch = (edges: string, count: number): string =>
    groups(
      0,
      'HATCH',
      8,
      0,
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
      1,
      92,
      1,
      93,
      count,
    ) +
    edges +
    groups(97, 0, 75, 0, 76, 1, 98, 0);
  const arc = (from: number, to: number, counterClockwise: 0 | 1): string =>
    groups(72, 2, 10, 0, 20, 0, 40, 10, 50, from, 51, to, 73, counterClockwise);
  const ends = (e: Entity | undefined): number[] => {
    if (e?.kind !== 'arc') throw new Error(e?.kind);
    const degrees = (p: { x: number; y: number }) =>
      Math.round((Math.atan2(p.y, p.x) * 180) / Math.PI + 360) % 360;
    return [degrees(e.from), degrees(e.to), Math.round((4 * Math.atan(e.bulge) * 180) / Math.PI)];
  };

  it.each([
    [0, 90, 1, [0, 90, 90]],
    [350, 370, 1, [350, 10, 20]],
    [350, 10, 1, [350, 10, 20]],
    // Clockwise angles are counted the other way: 0 to 90 clockwise runs from 0 down to −90.
    [0, 90, 0, [270, 0, 90]],
    [350, 10, 0, [350, 10, 20]],
  ] as const)('have arcs from %d to %d, direction %d', (from, to, direction, want) => {
    expect(ends(read(hatch(arc(from, to, direction), 1))[0])).toEqual(want);
  });

  it('have polylines with bulges, once round', () => {
    const text =
      groups(0, 'HATCH', 8, 0, 10, 0, 20, 0, 30, 0, 91, 1, 92, 2, 72, 1, 73, 1, 93, 2) +
      groups(10, 0, 20, 0, 42, 1, 10, 10, 20, 0, 42, 1, 97, 0, 75, 0);
    expect(read(text)).toMatchObject([
      {
        kind: 'polyline',
        closed: true,
        filled: 'HATCH',
        vertices: [
          { x: 0, bulge: 1 },
          { x: 10, bulge: 1 },
        ],
      },
    ]);
  });
});

describe('SOLID and TRACE', () => {
  it('have three corners where the fourth is the third, and are turned over from behind', () => {
    const text = groups(
      0,
      'SOLID',
      8,
      0,
      10,
      0,
      20,
      0,
      11,
      40,
      21,
      0,
      12,
      0,
      22,
      30,
      13,
      0,
      23,
      30,
      210,
      0,
      220,
      0,
      230,
      -1,
    );
    const [e] = read(text + groups(0, 'TRACE', 8, 0, 10, 0, 20, 0, 11, 4, 21, 0, 12, 0, 22, 3));
    if (e?.kind !== 'polyline') throw new Error();
    expect(e.vertices.map((v) => [v.x, v.y])).toEqual([
      [0, 0],
      [-40, 0],
      [0, 30],
    ]);
  });
});

describe('nested references', () => {
  /** A map in the plane as a 3 × 3 matrix in rows, for a second computation of where things go. */
  type Matrix = readonly (readonly number[])[];
  const times = (a: Matrix, b: Matrix): Matrix =>
    a.map((row) => [0, 1, 2].map((j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)));
  const move = (x: number, y: number): Matrix => [
    [1, 0, x],
    [0, 1, y],
    [0, 0, 1],
  ];
  const scale = (x: number, y: number): Matrix => [
    [x, 0, 0],
    [0, y, 0],
    [0, 0, 1],
  ];
  const turn = (degrees: number): Matrix => {
    const a = (degrees * Math.PI) / 180;
    return [
      [Math.cos(a), -Math.sin(a), 0],
      [Math.sin(a), Math.cos(a), 0],
      [0, 0, 1],
    ];
  };
  const reference = fc.record({
    x: fc.integer({ min: -50, max: 50 }),
    y: fc.integer({ min: -50, max: 50 }),
    sx: fc.constantFrom(1, -1, 2, -0.5),
    sy: fc.constantFrom(1, -1, 3),
    angle: fc.integer({ min: -180, max: 180 }),
    columns: fc.integer({ min: 1, max: 3 }),
    rows: fc.integer({ min: 1, max: 2 }),
    dx: fc.integer({ min: -9, max: 9 }),
    dy: fc.integer({ min: -9, max: 9 }),
    behind: fc.boolean(),
    base: fc.tuple(fc.integer({ min: -5, max: 5 }), fc.integer({ min: -5, max: 5 })),
  });
  type Reference = typeof reference extends fc.Arbitrary<infer R> ? R : never;
  const insert = (name: string, r: Reference): string =>
    groups(
      ...[0, 'INSERT', 8, 0, 2, name, 10, r.x, 20, r.y, 41, r.sx, 42, r.sy, 50, r.angle],
      ...[70, r.columns, 71, r.rows, 44, r.dx, 45, r.dy, 210, 0, 220, 0, 230, r.behind ? -1 : 1],
    );
  /** P′ = OCS · (insertion + R · (S · (P − base) + step)) for each place, columns first. */
  const places = (r: Reference): Matrix[] =>
    Array.from({ length: r.columns * r.rows }, (_, k) => {
      const step = move((k % r.columns) * r.dx, Math.floor(k / r.columns) * r.dy);
      const own = times(
        move(r.x, r.y),
        times(turn(r.angle), times(step, times(scale(r.sx, r.sy), move(-r.base[0], -r.base[1])))),
      );
      return r.behind ? times(scale(-1, 1), own) : own;
    });

  it('with arrays, mirrors and turns in each other go where matrices say', () => {
    fc.assert(
      fc.property(reference, reference, (outer, inner) => {
        const blocks =
          block('IN', groups(0, 'POINT', 8, 0, 10, 7, 20, -3), inner.base) +
          block('OUT', insert('IN', inner), outer.base);
        const found = read(insert('OUT', outer), { blocks });
        const wanted = places(outer).flatMap((o) =>
          places(inner).map((i) =>
            times(
              times(o, i),
              [[7], [-3], [1]].map((v) => [...v, 0, 0]),
            ),
          ),
        );
        expect(found.length).toBe(wanted.length);
        found.forEach((e, k) => {
          if (e.kind !== 'point') throw new Error(e.kind);
          expect(e.at.x).toBeCloseTo(wanted[k]![0]![0]!, 3);
          expect(e.at.y).toBeCloseTo(wanted[k]![1]![0]!, 3);
        });
      }),
      { numRuns: 200, seed: 5 },
    );
  });
});
