import { ringArea } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { type Drawing, type Entity, findParts } from '../src/index.js';

let line = 0;
const place = (layer = '0', elevation = 0, depth = 0) => ({
  layer,
  handle: null,
  line: ++line,
  elevation,
  depth,
});
const drawingOf = (entities: readonly Entity[], layers: Drawing['layers'] = []): Drawing => ({
  kind: 'drawing',
  file: 'test.dxf',
  version: 'AC1015',
  unit: { name: 'mm', factor: 1, basis: 'header', reason: 'The file states mm.' },
  layers,
  entities,
});
const polyline = (points: readonly (readonly [number, number])[], p = place()): Entity => ({
  kind: 'polyline',
  ...p,
  vertices: points.map(([x, y]) => ({ x, y, bulge: 0 })),
  closed: true,
});
const rectangle = (x0: number, y0: number, x1: number, y1: number, p = place()): Entity =>
  polyline(
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ],
    p,
  );
const lines = (points: readonly (readonly [number, number])[], p?: ReturnType<typeof place>): Entity[] =>
  points.slice(1).map(([x, y], i) => ({
    kind: 'line',
    ...(p ?? place()),
    from: { x: points[i]![0], y: points[i]![1] },
    to: { x, y },
  }));
const circle = (x: number, y: number, radius: number, p = place()): Entity => ({
  kind: 'circle',
  ...p,
  centre: { x, y },
  radius,
});
const text = (x: number, y: number, words: string, p = place()): Entity => ({
  kind: 'text',
  ...p,
  at: { x, y },
  text: words,
  height: 10,
  turn: 0,
});

function found(entities: readonly Entity[], options = {}) {
  const r = findParts(drawingOf(entities), options);
  if (!r.ok) throw new Error(r.diagnostics.map((d) => d.message).join('\n'));
  return { parts: r.value, codes: r.diagnostics.map((d) => d.code) };
}

describe('findParts', () => {
  it('nests: outline, through cut, part within the cut, hole within that', () => {
    const { parts, codes } = found([
      rectangle(0, 0, 400, 400),
      rectangle(50, 50, 350, 350),
      rectangle(100, 100, 300, 300),
      circle(200, 200, 20),
    ]);
    expect(parts.map((p) => [p.id, p.through.length, p.holes.length])).toEqual([
      ['P-1', 1, 0],
      ['P-2', 0, 1],
    ]);
    expect(parts[1]!.holes[0]).toMatchObject({ centre: { x: 200, y: 200 }, diameter: 40, depth: 'through' });
    expect(codes).toEqual([]);
  });

  it('turns every contour counter-clockwise and tags its edges in order', () => {
    const { parts } = found([
      polyline([
        [0, 0],
        [0, 100],
        [200, 100],
        [200, 0],
      ]),
      polyline([
        [50, 20],
        [50, 80],
        [68, 80],
        [68, 20],
      ]),
    ]);
    const [p] = parts;
    for (const c of [p!.outline, ...p!.through]) {
      expect(ringArea(c.ring)).toBeGreaterThan(0);
      expect(c.ring.vertices.map((v) => v.tag)).toEqual([0, 1, 2, 3].map((k) => `${c.id}/e${k}`));
      expect(c.reliefs).toEqual([]);
    }
    expect(p!.from.length).toBe(2);
  });

  it('chains loose lines whose ends miss each other by less than 0.01 mm, whatever their order and direction', () => {
    const { parts, codes } = found([
      ...lines([
        [200, 0],
        [200.004, 100],
      ]),
      ...lines([
        [0.003, 0.004],
        [200, 0],
      ]),
      ...lines([
        [0, 100.005],
        [0, 0],
      ]),
      ...lines([
        [0, 100],
        [200, 100],
      ]),
    ]);
    expect(parts.length).toBe(1);
    expect(parts[0]!.outline.ring.vertices.length).toBe(4);
    expect(codes).toEqual([]);
  });

  it('never joins the two ends of one line, however short', () => {
    const drawn = [
      ...lines([
        [0, 0],
        [200, 0],
        [200, 100],
        [0.008, 100],
        [0, 100],
        [0, 0],
      ]),
    ];
    // Left as they are drawn; else the tiny edge would be made one with the edge that it goes on from.
    expect(found(drawn, { keep: ['straight', 'tiny'] }).parts[0]!.outline.ring.vertices.length).toBe(5);
    expect(found(drawn).parts[0]!.outline.ring.vertices.length).toBe(4);
  });

  it('keeps a hole that touches the outline at one point, drawn in loose lines', () => {
    const { parts } = found([
      ...lines([
        [0, 0],
        [100, 0],
        [200, 0],
        [200, 100],
        [0, 100],
        [0, 0],
      ]),
      ...lines([
        [100, 0],
        [120, 40],
        [80, 40],
        [100, 0],
      ]),
    ]);
    expect(parts.length).toBe(1);
    expect(parts[0]!.through.length).toBe(1);
    expect(ringArea(parts[0]!.outline.ring)).toBe(20_000);
  });

  it('parts two squares that touch at a corner', () => {
    const { parts } = found([
      ...lines([
        [0, 0],
        [100, 0],
        [100, 100],
        [0, 100],
        [0, 0],
      ]),
      ...lines([
        [100, 100],
        [200, 100],
        [200, 200],
        [100, 200],
        [100, 100],
      ]),
    ]);
    expect(parts.map((p) => ringArea(p.outline.ring))).toEqual([10_000, 10_000]);
  });

  it('numbers parts from the top left and names them by the text in them', () => {
    const { parts } = found([
      rectangle(0, 0, 100, 100),
      rectangle(200, 200, 300, 300),
      rectangle(0, 200, 100, 300),
      text(210, 210, 'Right'),
      text(10, 210, 'Left'),
      text(500, 500, 'Nowhere'),
    ]);
    expect(parts.map((p) => [p.id, p.name])).toEqual([
      ['P-1', 'Left'],
      ['P-2', 'Right'],
      ['P-3', 'P-3'],
    ]);
  });

  it('takes ids from layers when every outline has its own, and never an id like a number', () => {
    const { parts, codes } = found([
      rectangle(0, 0, 100, 100, place('7')),
      rectangle(200, 0, 300, 100, place('SHELF')),
    ]);
    expect(parts.map((p) => p.id)).toEqual(['P-7', 'SHELF']);
    expect(codes).toEqual(['read/renamed-part']);
  });

  it('nests across layers that mean operations', () => {
    const { parts } = found([
      rectangle(0, 0, 100, 100, place('OUTSIDE')),
      rectangle(200, 0, 300, 100, place('OUTSIDE')),
      rectangle(40, 40, 58, 80, place('INSIDE')),
      rectangle(240, 40, 258, 80, place('INSIDE')),
    ]);
    expect(parts.map((p) => p.through.length)).toEqual([1, 1]);
  });

  it('states thickness from the outline, else as given, else not', () => {
    expect(found([rectangle(0, 0, 9, 9, place('0', 0, 17.4))], { thickness: 18 }).parts[0]!.thickness).toBe(
      17.4,
    );
    expect(found([rectangle(0, 0, 9, 9)], { thickness: 18 }).parts[0]!.thickness).toBe(18);
    expect(found([rectangle(0, 0, 9, 9)]).parts[0]!.thickness).toBeNull();
  });

  it('reads curves below the plane as recesses of their depth', () => {
    const { parts, codes } = found([
      rectangle(0, 0, 200, 100),
      rectangle(50, 20, 68, 80, place('0', -6)),
      circle(20, 20, 2.5, place('0', -12)),
    ]);
    expect(parts[0]!.pockets.map((p) => [p.depth, p.face])).toEqual([[6, 'n+']]);
    expect(parts[0]!.holes.map((h) => [h.depth, h.diameter])).toEqual([[12, 5]]);
    expect(codes).toEqual(['read/pocket', 'read/pocket']);
  });

  it('places an open outline by both ends and the gap', () => {
    const r = findParts(
      drawingOf(
        lines([
          [0, 0],
          [200, 0],
          [200, 100],
          [0, 100],
          [0, 0.4],
        ]),
      ),
    );
    const d = r.diagnostics.find((x) => x.code === 'read/open-outline')!;
    expect(r.ok).toBe(false);
    expect([d.locus.at, d.message]).toEqual([
      { x: 0, y: 0 },
      'A contour is open: its ends at (0, 0) and (0, 0.4) are 0.4 mm apart.',
    ]);
  });

  it('places the crossing of a figure of eight', () => {
    const r = findParts(
      drawingOf([
        polyline([
          [0, 0],
          [200, 100],
          [200, 0],
          [0, 100],
        ]),
      ]),
    );
    expect(r.diagnostics.map((d) => [d.code, d.locus.at])).toContainEqual([
      'read/self-crossing',
      { x: 100, y: 50 },
    ]);
  });

  it('leaves layers alone that are off, unless asked', () => {
    const layers = [{ name: 'OLD', off: true, frozen: false, colour: 7 }];
    const drawing = drawingOf([rectangle(0, 0, 100, 100), rectangle(200, 0, 300, 100, place('OLD'))], layers);
    const count = (hiddenLayers: boolean) => {
      const r = findParts(drawing, { hiddenLayers });
      return r.ok ? r.value.length : -1;
    };
    expect([count(false), count(true)]).toEqual([1, 2]);
  });

  it('throws for options that are no lengths', () => {
    for (const bad of [0, -1, Number.NaN, Infinity])
      expect(() => findParts(drawingOf([]), { thickness: bad })).toThrow(RangeError);
  });
});
