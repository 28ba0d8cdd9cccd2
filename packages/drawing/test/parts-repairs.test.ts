import { ringArea } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { findParts, importDrawing, type LayerRules } from '../src/index.js';
import { codesOf, drawingOf, line, lines, polyline, read, rectangle } from './parts-scene.js';

const areas = (r: ReturnType<typeof read>): number[] =>
  r.parts.map((p) => Math.round(ringArea(p.outline.ring))).sort((a, b) => a - b);
const done = (r: ReturnType<typeof read>, kind: string) => r.repairs.filter((x) => x.kind === kind);
const chords = (n: number, radius: number, cx = 100, cy = 100): [number, number][] =>
  Array.from({ length: n }, (_, i) => [
    Math.round((cx + radius * Math.cos((2 * Math.PI * i) / n)) * 1e4) / 1e4,
    Math.round((cy + radius * Math.sin((2 * Math.PI * i) / n)) * 1e4) / 1e4,
  ]);

describe('gaps', () => {
  it('meets two lines at their corner and bridges a gap in one line, bending neither', () => {
    const r = read([
      line(0, 0, 199.95, 0, 1),
      line(200, 0.05, 200, 100, 2),
      line(200, 100, 100.03, 100, 3),
      line(99.97, 100, 0, 100, 4),
      line(0, 100, 0, 0, 5),
    ]);
    expect(areas(r)).toEqual([20_000]);
    expect(r.parts[0]!.outline.ring.vertices.map((v) => [v.x, v.y])).toContainEqual([200, 0]);
    expect(r.parts[0]!.outline.ring.vertices.length).toBe(4);
    expect(done(r, 'join').map((x) => [x.at, x.deviation])).toEqual([
      [{ x: 99.97, y: 100 }, 0.06],
      [{ x: 200, y: 0 }, 0.05],
    ]);
  });

  it('leaves neighbours alone that are drawn a tenth of a millimetre apart', () => {
    const r = read([
      ...lines([
        [0, 0],
        [100, 0],
        [100, 50],
        [0, 50],
        [0, 0],
      ]),
      ...lines(
        [
          [100.1, 0],
          [200, 0],
          [200, 50],
          [100.1, 50],
          [100.1, 0],
        ],
        100,
      ),
    ]);
    expect(areas(r)).toEqual([4995, 5000]);
    expect(r.repairs).toEqual([]);
  });

  it('closes a long contour over a gap of its own, a short one not', () => {
    const open = (w: number) =>
      read([
        polyline(
          [
            [0, 0.3],
            [0, w],
            [w, w],
            [w, 0],
            [0, 0],
          ],
          1,
          '0',
          false,
        ),
      ]);
    expect(codesOf(open(900))).toContain('joined-gap');
    expect(areas(open(900))).toEqual([810_000]);
    expect(codesOf(open(100))).toContain('open-outline');
    expect(open(100).unclear).toMatchObject([{ code: 'read/open-outline', entities: [{ line: 1 }] }]);
  });

  it('closes only as far as it is told', () => {
    const drawn = [
      polyline(
        [
          [0, 0.3],
          [0, 900],
          [900, 900],
          [900, 0],
          [0, 0],
        ],
        1,
        '0',
        false,
      ),
    ];
    expect(codesOf(read(drawn, { joinWithin: 0.2 }))).toContain('open-outline');
    expect(codesOf(read(drawn, { joinWithin: 0.31 }))).not.toContain('open-outline');
  });
});

describe('common lines', () => {
  it('parts a board that a line crosses from edge to edge, and gives both its edge', () => {
    const r = read([
      ...lines([
        [0, 0],
        [300, 0],
        [300, 100],
        [0, 100],
        [0, 0],
      ]),
      line(120, 0, 120, 100, 100),
    ]);
    expect(areas(r)).toEqual([12_000, 18_000]);
    expect(codesOf(r)).toEqual(expect.arrayContaining(['parted-line', 'shared-edge']));
    expect(done(r, 'shared').map((x) => x.entities)).toEqual([[{ line: 100, handle: 'H100' }]]);
  });

  it('makes six parts of a grid of lines that cross', () => {
    const r = read([
      ...lines([
        [0, 0],
        [300, 0],
        [300, 200],
        [0, 200],
        [0, 0],
      ]),
      line(0, 80, 300, 80, 100),
      line(100, 0, 100, 200, 110),
      line(220, 0, 220, 200, 120),
    ]);
    expect(areas(r)).toEqual([6400, 8000, 9600, 9600, 12_000, 14_400]);
    expect(r.unclear).toEqual([]);
  });

  it('lets no line part anything that ends in the air', () => {
    const r = read([
      ...lines([
        [0, 0],
        [300, 0],
        [300, 100],
        [0, 100],
        [0, 0],
      ]),
      line(150, -20, 150, 120, 100),
      line(80, 0, 80, 60, 110),
    ]);
    expect(areas(r)).toEqual([30_000]);
    expect(done(r, 'split')).toEqual([]);
    expect(r.leftOut.map((l) => [l.why, l.entities.map((e) => e.line)])).toEqual([['engraving', [100, 110]]]);
  });

  it('leaves a shared edge a line of its own if that is to be kept', () => {
    const drawn = [
      ...lines([
        [0, 0],
        [300, 0],
        [300, 100],
        [0, 100],
        [0, 0],
      ]),
      line(120, 0, 120, 100, 100),
    ];
    const [shared] = done(read(drawn), 'shared');
    const kept = read(drawn, { keep: [shared!.id] });
    expect(areas(kept)).toEqual([30_000]);
    expect(kept.leftOut).toMatchObject([{ why: 'engraving', entities: [{ line: 100 }] }]);
  });

  it('tells the gap between two notches from a part, and the same gap without neighbours not', () => {
    const notch = (x: number) => rectangle(x - 6, 40, x + 6, 60, 900);
    const slots = [
      rectangle(20, 40, 26, 60, 500),
      rectangle(40, 40, 46, 60, 510),
      rectangle(60, 40, 66, 60, 520),
    ];
    const halves = [
      ...lines(
        [
          [100, 0],
          [0, 0],
          [0, 100],
          [100, 100],
          [100, 60],
          [94, 60],
          [94, 40],
          [100, 40],
          [100, 0],
        ],
        1,
      ),
      ...lines(
        [
          [100, 0],
          [200, 0],
          [200, 100],
          [100, 100],
        ],
        200,
      ),
      ...lines(
        [
          [100, 60],
          [106, 60],
          [106, 40],
          [100, 40],
        ],
        300,
      ),
    ];
    const r = read([...halves, ...slots]);
    expect(r.parts.length).toBe(2);
    expect(done(r, 'gap').length).toBe(1);
    expect(read([...halves, ...slots], { keep: ['gap'] }).parts.length).toBe(3);
    expect(read([notch(100), ...slots]).parts.length).toBe(4);
  });
});

describe('contours that touch or cross themselves', () => {
  it('has a place for a bow-tie of lines', () => {
    const r = read(
      lines([
        [0, 0],
        [200, 100],
        [200, 0],
        [0, 100],
        [0, 0],
      ]),
    );
    expect(r.diagnostics.map((d) => [d.code, d.locus.at])).toContainEqual([
      'read/self-crossing',
      { x: 100, y: 50 },
    ]);
    expect(r.unclear).toMatchObject([{ code: 'read/self-crossing', at: { x: 100, y: 50 } }]);
  });

  it('cuts off a neck without width, and lets a spike fall off', () => {
    const neck = read([
      polyline([
        [0, 0],
        [200, 0],
        [200, 100],
        [120, 100],
        [100, 0],
        [80, 100],
        [0, 100],
      ]),
    ]);
    expect(areas(neck)).toEqual([9000, 9000]);
    const spike = read([
      polyline([
        [0, 0],
        [200, 0],
        [200, 50],
        [260, 50],
        [200, 50],
        [200, 100],
        [0, 100],
      ]),
    ]);
    expect(areas(spike)).toEqual([20_000]);
    expect(spike.parts[0]!.outline.ring.vertices.length).toBe(4);
    expect(codesOf(spike)).toContain('self-touching');
  });

  it('makes a hole of a hole that is drawn in one go with its outline', () => {
    const r = read([
      polyline([
        [0, 0],
        [200, 0],
        [200, 100],
        [0, 100],
        [0, 0],
        [50, 40],
        [50, 60],
        [80, 60],
        [80, 40],
        [50, 40],
      ]),
    ]);
    expect(r.parts.map((p) => [Math.round(ringArea(p.outline.ring)), p.through.length])).toEqual([
      [20_000, 1],
    ]);
  });
});

describe('arcs drawn as chords', () => {
  it('makes one hole of 200 chords, and says how far it is from them', () => {
    const r = read([rectangle(0, 0, 200, 200), polyline(chords(200, 40), 10)]);
    expect(r.parts[0]!.holes).toMatchObject([{ centre: { x: 100, y: 100 }, diameter: 80 }]);
    const [arc] = done(r, 'arc');
    // The sagitta of a chord, r (1 − cos(π/n)): 0.0049 mm.
    expect(arc!.deviation).toBeCloseTo(40 * (1 - Math.cos(Math.PI / 200)), 3);
    expect(arc!.before[0]!.vertices.length).toBe(200);
  });

  it('makes one arc of a round corner of 50 chords between straight edges', () => {
    const corner = Array.from({ length: 51 }, (_, i): [number, number] => {
      const a = (Math.PI / 2) * (i / 50);
      return [
        Math.round((150 + 50 * Math.cos(a)) * 1e4) / 1e4,
        Math.round((50 + 50 * Math.sin(a)) * 1e4) / 1e4,
      ];
    });
    const r = read(lines([[0, 0], [200, 0], ...corner, [0, 100], [0, 0]]));
    const { vertices } = r.parts[0]!.outline.ring;
    expect(vertices.length).toBe(5);
    const bend = vertices.find((v) => v.bulge !== 0)!;
    expect(bend.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 4);
    expect(codesOf(r)).toContain('arcs-recovered');
  });

  it('leaves polygons that are meant, and what is to be kept', () => {
    const hexagon = read([rectangle(0, 0, 200, 200), polyline(chords(6, 10), 10)]);
    const large = read([rectangle(0, 0, 200, 200), polyline(chords(12, 60), 10)]);
    const kept = read([rectangle(0, 0, 200, 200), polyline(chords(200, 40), 10)], { keep: ['arc'] });
    expect([hexagon, large, kept].map((r) => r.parts[0]!.through[0]!.ring.vertices.length)).toEqual([
      6, 12, 200,
    ]);
    for (const r of [hexagon, large, kept]) expect(done(r, 'arc')).toEqual([]);
  });

  it('recovers no arc further than it is told', () => {
    // Every second corner is 0.02 mm outside.
    const rough = chords(60, 40).map(([x, y], i): [number, number] =>
      i % 2 === 0 ? [x, y] : [100 + (x - 100) * 1.0005, 100 + (y - 100) * 1.0005],
    );
    const drawn = [rectangle(0, 0, 200, 200), polyline(rough, 10)];
    expect(read(drawn, { arcsWithin: 0.005 }).parts[0]!.holes).toEqual([]);
    expect(read(drawn, { arcsWithin: 0.02 }).parts[0]!.holes.length).toBe(1);
  });
});

describe('what is no part', () => {
  it('leaves out sheets and the frame round them, and keeps a plate with plain cuts', () => {
    const sheet = (x: number) => [
      rectangle(x, 0, x + 500, 500, 1),
      rectangle(x + 10, 10, x + 200, 200, 10),
      rectangle(x + 50, 50, x + 68, 100, 20),
      rectangle(x + 210, 10, x + 400, 200, 30),
      rectangle(x + 250, 50, x + 268, 100, 40),
    ];
    const r = read([rectangle(-100, -100, 1300, 700, 99), ...sheet(0), ...sheet(600)]);
    expect(r.parts.length).toBe(4);
    expect(done(r, 'border').length).toBe(3);
    const plate = read([
      rectangle(0, 0, 500, 500),
      rectangle(10, 10, 30, 100, 10),
      rectangle(50, 10, 70, 100, 20),
    ]);
    expect(plate.parts.map((p) => p.through.length)).toEqual([2]);
  });

  it('takes layers at their word only when it says so, and as the rules say whatever they are called', () => {
    const drawn = [
      rectangle(0, 0, 200, 100, 1, 'PLATE'),
      rectangle(20, 20, 80, 80, 10, 'ENGRAVING'),
      rectangle(120, 20, 138, 80, 20, 'HOUSING-8'),
    ];
    const shape = (layers: LayerRules) => {
      const r = read(drawn, { layers });
      const [p] = r.parts;
      return [p!.through.length, p!.pockets.map((k) => [k.depth, k.face]), codesOf(r)];
    };
    expect(shape({})).toEqual([1, [], ['layer-assumed', 'cut-through']]);
    expect(shape({ 'HOUSING-8': { as: 'cut' } })).toEqual([1, [], ['layer-assumed']]);
    expect(shape({ 'HOUSING-8': { as: 'pocket', depth: 8 }, ENGRAVING: { as: 'engrave' } })).toEqual([
      0,
      [[8, 'n+']],
      ['layer-left-out', 'pocket'],
    ]);
    expect(shape({ 'HOUSING-8': { as: 'pocket', depth: 8, face: 'n-' }, ENGRAVING: { as: 'cut' } })).toEqual([
      1,
      [[8, 'n-']],
      ['pocket'],
    ]);
    expect(() => read(drawn, { layers: { PLATE: { as: 'pocket', depth: -1 } } })).toThrow(RangeError);
  });

  it('reads layers that are off when nothing else is drawn', () => {
    const off = ['A', 'B'].map((name) => ({ name, off: true, frozen: false, colour: 7 }));
    const r = importDrawing(
      drawingOf([rectangle(0, 0, 100, 100, 1, 'A'), rectangle(200, 0, 300, 100, 10, 'B')], off),
    );
    expect(r.parts.map((p) => p.id)).toEqual(['A', 'B']);
    expect(codesOf(r)).toEqual(['all-hidden']);
  });

  it('counts parts that are the same, turned or turned over', () => {
    const hook = (x: number, y: number, turn: number, mirror: boolean, at: number) => {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const points = [
        [0, 0],
        [100, 0],
        [100, 30],
        [40, 30],
        [40, 80],
        [0, 80],
      ].map(([px, py]): [number, number] => {
        const q = mirror ? -py! : py!;
        return [Math.round((x + c * px! - s * q) * 1e4) / 1e4, Math.round((y + s * px! + c * q) * 1e4) / 1e4];
      });
      return polyline(points, at);
    };
    const r = read([
      hook(0, 0, 0, false, 1),
      hook(500, 0, 0.7, false, 10),
      hook(1000, 0, 2, true, 20),
      rectangle(0, 300, 100, 380, 30),
    ]);
    // The one that is turned over lies topmost, so that the others are turned over with respect to it.
    expect(r.families).toEqual([
      { parts: ['P-1'], mirrored: [] },
      { parts: ['P-2'], mirrored: ['P-3', 'P-4'] },
    ]);
  });
});

it('gives the parts that it understood even where something is an error, and findParts refuses', () => {
  const drawing = drawingOf([
    rectangle(0, 0, 100, 100),
    ...lines(
      [
        [200, 0],
        [300, 0],
        [300, 100],
        [200, 100],
        [200, 2],
      ],
      10,
    ),
  ]);
  const r = importDrawing(drawing);
  expect([r.parts.length, r.unclear.length]).toEqual([1, 1]);
  expect(findParts(drawing).ok).toBe(false);
});
