/// <reference types="node" />
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { denormalise, parseString } from 'dxf';
import { describe, expect, it } from 'vitest';
import { type Entity, findParts, readDxf } from '../src/index.js';
import { block, dxfText, groups } from './dxf-text.js';
import { ROOT } from './sideboard.js';

const insert = (name: string, ...more: readonly (string | number)[]): string =>
  groups(0, 'INSERT', 8, 'A', 2, name, ...more);
const at = (x: number, y: number): readonly number[] => [10, x, 20, y, 30, 0];
const line = (x0: number, y0: number, x1: number, y1: number, layer = '0'): string =>
  groups(0, 'LINE', 8, layer, 10, x0, 20, y0, 30, 0, 11, x1, 21, y1, 31, 0);
const circle = (x: number, y: number, r: number, layer = '0'): string =>
  groups(0, 'CIRCLE', 8, layer, 10, x, 20, y, 30, 0, 40, r);
const BEHIND = [210, 0, 220, 0, 230, -1];

function read(entities: string, blocks: string, tables?: string): readonly Entity[] {
  const r = readDxf(dxfText(entities, { blocks, ...(tables === undefined ? {} : { tables }) }), {
    unit: 'mm',
  });
  if (!r.ok) throw new Error(r.diagnostics.map((d) => d.message).join('\n'));
  return r.value.entities;
}
const codes = (text: string): string[] => readDxf(text, { unit: 'mm' }).diagnostics.map((d) => d.code);

describe('INSERT', () => {
  it('puts a point where base, scale and turn say: P′ = ins + R·S·(P − base)', () => {
    // Base (1, 1), scales 2 and 3, 30°, at (10, 20): (3, 2) goes to (11.964102, 24.598076), computed independently.
    const [e] = read(
      insert('B', ...at(10, 20), 41, 2, 42, 3, 50, 30),
      block('B', groups(0, 'POINT', 8, 0, 10, 3, 20, 2), [1, 1]),
    );
    expect(e).toMatchObject({ kind: 'point', at: { x: 11.9641, y: 24.5981 } });
  });

  it('keeps quarter turns exact', () => {
    const [e] = read(insert('B', ...at(0, 0), 50, -90), block('B', line(0, 0, 100000, 0)));
    expect(e).toMatchObject({ from: { x: 0, y: 0 }, to: { x: 0, y: -100000 } });
  });

  it('turns arcs and bulges over in a mirror, whether by scale or seen from behind', () => {
    const arc = groups(0, 'ARC', 8, 0, 10, 0, 20, 0, 40, 10, 50, 0, 51, 90);
    const poly = groups(0, 'LWPOLYLINE', 8, 0, 90, 2, 70, 0, 10, 0, 20, 0, 42, 0.5, 10, 10, 20, 0);
    for (const how of [[41, -1], BEHIND]) {
      const [a, p] = read(insert('B', ...at(0, 0), ...how), block('B', arc + poly));
      expect(a).toMatchObject({ kind: 'arc', from: { x: 0, y: 10 }, to: { x: -10, y: 0 } });
      if (a?.kind === 'arc') expect(a.bulge).toBeCloseTo(Math.SQRT2 - 1, 12);
      expect(p).toMatchObject({
        vertices: [
          { x: 0, y: 0, bulge: -0.5 },
          { x: -10, y: 0 },
        ],
      });
    }
  });

  it('undoes a mirror by a mirror', () => {
    const inner = block('IN', circle(3, 4, 2)) + block('OUT', insert('IN', ...at(1, 0), 41, -1));
    expect(read(insert('OUT', ...at(0, 0), ...BEHIND), inner)[0]).toMatchObject({
      kind: 'circle',
      centre: { x: 2, y: 4 },
    });
  });

  it('makes ellipses of circles and arcs under unlike scales, and keeps what closes closed', () => {
    const slot = groups(
      0,
      'LWPOLYLINE',
      8,
      0,
      90,
      4,
      70,
      1,
      10,
      0,
      20,
      0,
      10,
      20,
      20,
      0,
      42,
      1,
      10,
      20,
      20,
      10,
      10,
      0,
      20,
      10,
      42,
      1,
    );
    const text = dxfText(insert('B', ...at(0, 0), 41, 3), { blocks: block('B', circle(0, 50, 5) + slot) });
    const r = readDxf(text, { unit: 'mm' });
    if (!r.ok) throw new Error();
    expect(r.value.entities.map((e) => e.kind)).toEqual(['ellipse', 'line', 'ellipse', 'line', 'ellipse']);
    expect(r.value.entities[0]).toMatchObject({ centre: { x: 0, y: 50 }, major: { x: 15, y: 0 }, start: 0 });
    const parts = findParts(r.value);
    expect(parts.ok && parts.value.length).toBe(2);
  });

  it('repeats in rows and columns, the steps turned but not scaled', () => {
    const found = read(
      insert('B', ...at(100, 0), 41, 2, 42, 2, 50, 90, 70, 3, 71, 2, 44, 10, 45, 7),
      block('B', circle(0, 0, 1)),
    );
    expect(found.map((e) => (e.kind === 'circle' ? [e.centre.x, e.centre.y, e.radius] : []))).toEqual([
      [100, 0, 2],
      [100, 10, 2],
      [100, 20, 2],
      [93, 0, 2],
      [93, 10, 2],
      [93, 20, 2],
    ]);
  });

  it('carries heights and depths through, so that recesses stay recesses', () => {
    const pocket = groups(0, 'CIRCLE', 8, 0, 10, 0, 20, 0, 30, -3, 39, 3, 40, 5);
    const [e] = read(groups(0, 'INSERT', 8, 'A', 2, 'B', 10, 0, 20, 0, 30, 1, 43, 2), block('B', pocket));
    expect(e).toMatchObject({ elevation: -5, depth: 6 });
  });

  it('takes layer 0 for the layer of the reference, and a frozen reference hides all of it', () => {
    const blocks =
      block('IN', circle(0, 0, 1) + circle(9, 0, 1, 'OWN')) +
      block('OUT', groups(0, 'INSERT', 8, 0, 2, 'IN', ...at(0, 0)));
    const tables = groups(0, 'TABLE', 2, 'LAYER', 0, 'LAYER', 2, 'A', 70, 1, 62, 7, 0, 'ENDTAB');
    const found = read(insert('OUT', ...at(0, 0)), blocks, tables);
    expect(found.map((e) => [e.layer, e.hiddenBy])).toEqual([
      ['A', 'A'],
      ['OWN', 'A'],
    ]);
    expect(read(insert('OUT', ...at(0, 0)), blocks).map((e) => e.hiddenBy)).toEqual([undefined, undefined]);
    const r = readDxf(dxfText(insert('OUT', ...at(0, 0)), { blocks, tables }), { unit: 'mm' });
    expect(r.ok && findParts(r.value).ok).toBe(false);
  });

  it('reads attributes as lettering, but for hidden ones, and finds names in capitals or not', () => {
    const attribute = (flags: number, text: string) =>
      groups(0, 'ATTRIB', 8, 0, 10, 5, 20, 6, 40, 3, 1, text, 2, 'TAG', 70, flags);
    const found = read(
      insert('b', ...at(50, 50), 66, 1) +
        attribute(0, 'Shelf') +
        attribute(1, 'secret') +
        groups(0, 'SEQEND'),
      block('B', circle(0, 0, 1)),
    );
    expect(found).toMatchObject([
      { kind: 'text', text: 'Shelf', at: { x: 5, y: 6 }, layer: 'A' },
      { kind: 'circle' },
    ]);
    expect(found.length).toBe(2);
  });

  it('says nothing of blocks that nobody refers to, and of the others once', () => {
    const bad = groups(0, 'LINE', 8, 0, 10, 'x', 20, 0, 11, 1, 21, 1) + groups(0, 'MLINE', 8, 0);
    expect(codes(dxfText(circle(0, 0, 9), { blocks: block('B', bad) }))).toEqual([]);
    expect(
      codes(dxfText(insert('B', ...at(0, 0)) + insert('B', ...at(0, 0)), { blocks: block('B', bad) })).filter(
        (c) => c === 'read/bad-number',
      ).length,
    ).toBe(1);
  });

  it('refuses a block in itself by its name, however far down', () => {
    const ring =
      block('A', insert('B', ...at(0, 0))) +
      block('B', insert('C', ...at(0, 0))) +
      block('C', insert('A', ...at(0, 0)));
    const r = readDxf(dxfText(insert('B', ...at(0, 0)), { blocks: ring }));
    expect(r.diagnostics[0]).toMatchObject({
      code: 'read/block-recursion',
      message: "Block 'B' holds itself.",
    });
  });

  it('reads 16 blocks inside each other and refuses 17', () => {
    const chain = (n: number): string =>
      Array.from({ length: n }, (_, i) =>
        block(`B${i}`, i === n - 1 ? circle(0, 0, 40) : insert(`B${i + 1}`, ...at(1, 0))),
      ).join('');
    expect(read(insert('B0', ...at(0, 0)), chain(16))).toMatchObject([{ centre: { x: 15, y: 0 } }]);
    expect(codes(dxfText(insert('B0', ...at(0, 0)), { blocks: chain(17) }))).toContain('read/dxf-limit');
  });

  it('refuses what doubles sixteen times over, and arrays without end, at once', () => {
    const two = (n: number): string => insert(`B${n}`, ...at(0, 0)) + insert(`B${n}`, ...at(1, 0));
    const doubling =
      Array.from({ length: 15 }, (_, i) => block(`B${i}`, two(i + 1).repeat(3))).join('') +
      block('B15', circle(0, 0, 1));
    for (const [entities, blocks] of [
      [insert('B0', ...at(0, 0)), doubling],
      [insert('B', ...at(0, 0), 70, 32767, 71, 32767), block('B', insert('NONE', ...at(0, 0)))],
      [insert('B', ...at(0, 0), 70, 32767, 71, 32767), block('B', circle(0, 0, 1))],
    ] as const)
      expect(codes(dxfText(entities, { blocks }))).toContain('read/dxf-limit');
  });

  it('leaves out references that are tilted, of no size or to another file, and says so', () => {
    const blocks = block('B', circle(0, 0, 1));
    expect(
      codes(dxfText(circle(0, 0, 9) + insert('B', ...at(0, 0), 210, 1, 220, 0, 230, 0), { blocks })),
    ).toEqual(['read/not-flat']);
    expect(codes(dxfText(circle(0, 0, 9) + insert('B', ...at(0, 0), 41, 0), { blocks }))).toEqual([
      'read/no-size',
    ]);
  });
});

// A general-purpose reader of other authors (MIT) as an independent witness: it states for each entity the chain
// of references that puts it in place. Its transform of a place is scale, turn, then shift, from inside out.
interface Witness {
  x: number;
  y: number;
  r: number;
  transforms: { x: number; y: number; scaleX: number; scaleY: number; rotation?: number }[];
}
function placed(text: string): number[][] {
  const all = denormalise(parseString(text)) as unknown as Witness[];
  return all.map((e) => {
    let [x, y] = [e.x, e.y];
    for (const t of e.transforms) {
      const a = ((t.rotation ?? 0) * Math.PI) / 180;
      [x, y] = [x * (t.scaleX || 1), y * (t.scaleY || 1)];
      [x, y] = [t.x + x * Math.cos(a) - y * Math.sin(a), t.y + x * Math.sin(a) + y * Math.cos(a)];
    }
    return [x, y];
  });
}
const places = (entities: readonly Entity[]): number[][] =>
  entities.map((e) => (e.kind === 'circle' ? [e.centre.x, e.centre.y] : []));
const sorted = (p: readonly number[][]): number[][] =>
  p.map((q) => q.map((v) => Math.round(v * 1000) / 1000 + 0)).sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!);

describe('blocks as others put them in place', () => {
  it('agrees on nested references with turns and scales', () => {
    const blocks =
      block('IN', circle(3, 4, 1)) +
      block(
        'OUT',
        insert('IN', ...at(10, 5), 41, 2, 42, 2, 43, 2, 50, 30) +
          insert('IN', ...at(-7, 2), 41, 1, 42, 1, 43, 1, 50, 200),
      );
    const text = dxfText(insert('OUT', ...at(100, 50), 41, 3, 42, 3, 43, 3, 50, 45), { blocks });
    expect(sorted(places(read(insert('OUT', ...at(100, 50), 41, 3, 42, 3, 43, 3, 50, 45), blocks)))).toEqual(
      sorted(placed(text)),
    );
  });

  const file = resolve(ROOT, '../shared/drawings/L04.dxf');
  it.runIf(existsSync(file))('agrees on a turned array from a public file', () => {
    const bytes = readFileSync(file);
    const r = readDxf(bytes, { unit: 'mm' });
    if (!r.ok) throw new Error();
    expect(sorted(places(r.value.entities))).toEqual(sorted(placed(bytes.toString('latin1'))));
  });
});
