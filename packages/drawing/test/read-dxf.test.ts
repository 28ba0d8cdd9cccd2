import { describe, expect, it } from 'vitest';
import { type Entity, type ReadDxfOptions, readDxf } from '../src/index.js';

const file = (entities: string, header = '9\n$INSUNITS\n70\n4\n'): string =>
  `0\nSECTION\n2\nHEADER\n${header}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities}0\nENDSEC\n0\nEOF\n`;
const groups = (...g: readonly (string | number)[]): string => g.map((v) => `${v}\n`).join('');

function entities(source: string | Uint8Array, options: ReadDxfOptions = {}): readonly Entity[] {
  const r = readDxf(source, options);
  if (!r.ok) throw new Error(r.diagnostics.map((d) => `${d.message} ${d.locus.line}`).join('\n'));
  return r.value.entities;
}

const ARC = groups(0, 'ARC', 8, 'A', 10, 10, 20, 5, 40, 5, 50, 0, 51, 90);
const BEHIND = groups(210, 0, 220, 0, 230, -1);

describe('readDxf', () => {
  it('reads an arc counter-clockwise from start to end', () => {
    expect(entities(file(ARC))[0]).toMatchObject({
      kind: 'arc',
      from: { x: 15, y: 5 },
      to: { x: 10, y: 10 },
      centre: { x: 10, y: 5 },
      radius: 5,
    });
  });

  it('turns entities over that are seen from behind: x mirrored, bulges negated, arcs still counter-clockwise', () => {
    const arc = entities(file(ARC + BEHIND))[0]!;
    expect(arc).toMatchObject({
      kind: 'arc',
      from: { x: -10, y: 10 },
      to: { x: -15, y: 5 },
      centre: { x: -10, y: 5 },
    });
    if (arc.kind === 'arc') expect(arc.bulge).toBeCloseTo(Math.SQRT2 - 1, 12);
    const poly =
      groups(
        0,
        'LWPOLYLINE',
        8,
        'A',
        90,
        2,
        70,
        1,
        38,
        -6,
        39,
        6,
        10,
        0,
        20,
        0,
        42,
        0.5,
        10,
        10,
        20,
        0,
        42,
        0.25,
      ) + BEHIND;
    expect(entities(file(poly))[0]).toMatchObject({
      elevation: 6,
      depth: -6,
      vertices: [
        { x: 0, y: 0, bulge: -0.5 },
        { x: -10, y: 0, bulge: -0.25 },
      ],
    });
    // LINE is in world coordinates whatever its extrusion direction.
    expect(entities(file(groups(0, 'LINE', 8, 'A', 10, 1, 20, 2, 11, 3, 21, 4) + BEHIND))[0]).toMatchObject({
      from: { x: 1, y: 2 },
      to: { x: 3, y: 4 },
    });
  });

  it('reads point groups in any order', () => {
    expect(entities(file(groups(0, 'LINE', 8, 'A', 10, 1, 11, 3, 20, 2, 21, 4)))[0]).toMatchObject({
      from: { x: 1, y: 2 },
      to: { x: 3, y: 4 },
    });
  });

  it('reads an old polyline with its vertices, and closes one that ends where it began', () => {
    const vertex = (x: number, y: number, b = 0) => groups(0, 'VERTEX', 8, 'A', 10, x, 20, y, 42, b);
    const poly =
      groups(0, 'POLYLINE', 8, 'A', 66, 1, 30, -3, 39, 3) +
      vertex(0, 0, 1) +
      vertex(10, 0) +
      vertex(5, 8) +
      vertex(0, 0) +
      groups(0, 'SEQEND');
    expect(entities(file(poly))[0]).toMatchObject({
      closed: true,
      elevation: -3,
      depth: 3,
      vertices: [
        { x: 0, y: 0, bulge: 1 },
        { x: 10, y: 0, bulge: 0 },
        { x: 5, y: 8, bulge: 0 },
      ],
    });
  });

  it('scales every unit to millimetres on the grid', () => {
    const line = groups(0, 'LINE', 10, 0, 20, 0, 11, 0.7087, 21, 0);
    const to = (options: ReadDxfOptions, header = '') => {
      const e = entities(file(line, header), options)[0]!;
      return e.kind === 'line' ? e.to.x : null;
    };
    expect(to({ unit: 'inch' })).toBe(18.001);
    expect(to({}, '9\n$INSUNITS\n70\n1\n')).toBe(18.001);
    expect(to({ unit: 'cm' })).toBe(7.087);
    expect(to({ unit: 'm' })).toBe(708.7);
    expect(to({}, '9\n$INSUNITS\n70\n6\n')).toBe(708.7);
    // Unit codes as published for $INSUNITS: 2 foot, 9 mil.
    expect(to({}, '9\n$INSUNITS\n70\n2\n')).toBe(216.0118);
    expect(to({}, '9\n$INSUNITS\n70\n9\n')).toBe(0.018);
  });

  it('guesses inches from slots of 0.7087, and says so', () => {
    const box = (x: number, w: number) =>
      groups(0, 'LWPOLYLINE', 90, 4, 70, 1, 10, x, 20, 0, 10, x + w, 20, 0, 10, x + w, 20, 4, 10, x, 20, 4);
    const r = readDxf(file(box(0, 24) + box(2, 0.7087) + box(9, 0.7087), ''));
    expect(r.ok && r.value.unit).toMatchObject({ name: 'inch', basis: 'guessed', factor: 25.4 });
    expect(r.diagnostics[0]!.message).toContain('0.7087 long, which is 18 mm drawn in inch');
  });

  it('assumes millimetres where nothing speaks for another unit', () => {
    const r = readDxf(file(groups(0, 'LINE', 10, 0, 20, 0, 11, 317, 21, 0), ''));
    expect(r.ok && r.value.unit).toMatchObject({ name: 'mm', basis: 'assumed' });
    expect(r.diagnostics.map((d) => d.code)).toEqual(['read/no-unit']);
  });

  it('decodes code page ANSI_1252 before AC1021 and UTF-8 from it on', () => {
    const text = (version: string) =>
      file(
        groups(0, 'TEXT', 8, 'TÜR', 10, 0, 20, 0, 40, 5, 1, 'Tür ½'),
        `9\n$ACADVER\n1\n${version}\n9\n$INSUNITS\n70\n4\n`,
      );
    const ansi = Uint8Array.from(text('AC1015'), (c) => c.charCodeAt(0));
    const utf8 = new TextEncoder().encode(text('AC1021'));
    for (const bytes of [ansi, utf8])
      expect(entities(bytes)[0]).toMatchObject({ layer: 'TÜR', text: 'Tür ½' });
  });

  it('says the line of a number that is none', () => {
    for (const bad of ['12,5', 'NaN', '1e400', '', '0x10']) {
      const r = readDxf(file(groups(0, 'LINE', 8, 'A', 10, 0, 20, 0, 11, bad, 21, 0)), { file: 'x.dxf' });
      expect(r.ok).toBe(false);
      expect(r.diagnostics[0]).toMatchObject({ code: 'read/bad-number', locus: { file: 'x.dxf', line: 23 } });
    }
  });

  it('never drops a type of entity in silence', () => {
    const r = readDxf(
      file(groups(0, '3DFACE', 8, 'A', 0, '3DFACE', 8, 'A', 0, 'INSERT', 8, 'A', 2, 'Hinge', 10, 0, 20, 0)),
    );
    expect(r.diagnostics.map((d) => d.message)).toEqual([
      "Block 'HINGE' is put in place 1 time, but the file does not hold it.",
      '2 3DFACE entities left out: this type is not read.',
      'The file holds nothing that is read.',
    ]);
  });

  it('reads layers with what hides them', () => {
    const tables =
      '0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nA\n70\n1\n62\n3\n0\nLAYER\n2\nB\n70\n0\n62\n-5\n0\nENDTAB\n0\nENDSEC\n';
    const r = readDxf(tables + file(ARC));
    expect(r.ok && r.value.layers).toEqual([
      { name: 'A', off: false, frozen: true, colour: 3 },
      { name: 'B', off: true, frozen: false, colour: 5 },
    ]);
  });
});
