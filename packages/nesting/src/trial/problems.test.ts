import { polygonRing, rectangleRing, ringBounds, ringProblems, STAY } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { compareScores, scoreLayout } from '../score-layout.js';
import { lowerBound } from './bounds.js';
import { boardProblem, stripProblem } from './problem.js';
import { readProblemXml } from './read-problem-xml.js';
import { readProblems } from './read-problems.js';

const square = { id: 'a', demand: 2, outline: rectangleRing(0, 0, 10, 10), turns: [0] };
const facts = { name: 'p', source: 'here' };

const STRIP = {
  name: 'two',
  source: 'by hand',
  stripHeight: 10,
  items: [
    {
      id: '0',
      demand: 2,
      rotations: [0, 180],
      polygon: [
        [0, 0],
        [4, 0],
        [0, 5],
      ],
    },
  ],
};

describe('stripProblem', () => {
  it('has a board so long that the score asks for less length, never for less width', () => {
    // Squares in a row fill a strip of their own width wholly: the densest layout that spares width.
    const { instance } = stripProblem(facts, 40, [{ ...square, demand: 12 }]);
    const laid = (across: number) =>
      scoreLayout(instance, {
        kind: 'layout',
        placements: instance.items.map(({ id }, i) => ({
          item: id,
          board: 'strip',
          motion: { ...STAY, dx: 10 * Math.floor(i / across), dy: 10 * (i % across) },
        })),
        unplaced: [],
      });
    // Two abreast, half as dense as it might be, is better than the row; four abreast are best.
    expect(compareScores(laid(4), laid(2))).toBeLessThan(0);
    expect(compareScores(laid(2), laid(1))).toBeLessThan(0);
  });
});

describe('readProblems', () => {
  it('reads a strip: copies, turns, area', () => {
    const o = readProblems(JSON.stringify(STRIP), 'two.json');
    expect(o.ok).toBe(true);
    if (!o.ok) return;
    const [p] = o.value;
    expect(p).toMatchObject({ name: 'two', stripWidth: 10, itemArea: 20 });
    expect(p!.instance.items.map((i) => i.id)).toEqual(['item0', 'item0/2']);
    expect(p!.instance.items[0]!.turns).toEqual([0, Math.PI]);
  });
  it('leaves out corners that are doubled but for rounding, by which the outline would cross itself, and says so', () => {
    const polygon = [
      [0, 0],
      [10, 0],
      [10, -1.8e-14],
      [20, -1.8e-14],
      [20, 10],
      [0, 10],
      [1e-9, 0],
    ];
    const text = JSON.stringify({
      name: 'doubled',
      stripHeight: 30,
      items: [{ id: 'a', demand: 1, rotations: [0], polygon }],
    });
    const read = readProblems(text, 'doubled.json');
    const [problem] = read.ok ? read.value : [];
    expect(problem!.instance.items[0]!.outline.vertices).toHaveLength(5);
    expect(ringProblems(problem!.instance.items[0]!.outline)).toEqual([]);
    expect(problem!.itemArea).toBeCloseTo(200, 6);
    expect(problem!.notes.join()).toContain('left out of a');
  });

  it('reads holes, counts their area off, and refuses one that is none', () => {
    const [item] = STRIP.items;
    const ring = (x: number) => [
      [x, 1],
      [x + 1, 1],
      [x, 2],
    ];
    const withHole = (x: number) =>
      readProblems(JSON.stringify({ ...STRIP, items: [{ ...item, holes: [ring(x)] }] }), 'two.json');
    const o = withHole(0.5);
    expect(o.ok && o.value[0]!.itemArea).toBe(19);
    expect(o.ok && o.value[0]!.instance.items[1]!.holes).toHaveLength(1);
    expect(withHole(5).diagnostics.map((d) => d.code)).toEqual(['lay/hole-outside-part']);
  });
  it('reads boards, with and without a stock', () => {
    const bins = [
      { width: 10, height: 10, stock: null },
      { width: 5, height: 5, stock: 2 },
    ];
    const o = readProblems(JSON.stringify([{ ...STRIP, stripHeight: undefined, bins }]), 'x.pack.json');
    expect(o.ok && o.value[0]!.instance.boards.map((b) => b.id)).toEqual(['b1.1', 'b1.2', 'b2.1', 'b2.2']);
    expect(o.ok && o.value[0]!.stripWidth).toBe(undefined);
  });
  it('offers sampled turns where any is allowed, and says so', () => {
    const items = [{ ...STRIP.items[0], rotations: 'continuous' }];
    const o = readProblems(JSON.stringify({ ...STRIP, items }), 'c.json');
    expect(o.ok && o.value[0]!.instance.items[0]!.turns.length).toBe(72);
    expect(o.ok && o.value[0]!.notes[0]).toMatch(/72 turns/);
  });
  it.each([
    ['no JSON', '{', ''],
    ['no items', JSON.stringify({ ...STRIP, items: 3 }), 'items'],
    ['an empty list of items', JSON.stringify({ ...STRIP, items: [] }), 'items'],
    ['no width', JSON.stringify({ ...STRIP, stripHeight: -1 }), 'stripHeight'],
    [
      'two corners',
      JSON.stringify({
        ...STRIP,
        items: [
          {
            ...STRIP.items[0],
            polygon: [
              [0, 0],
              [1, 1],
            ],
          },
        ],
      }),
      'items[0].polygon',
    ],
    [
      'a text for a corner',
      JSON.stringify([
        STRIP,
        {
          ...STRIP,
          items: [
            {
              ...STRIP.items[0],
              polygon: [
                [0, 0],
                [1, '1'],
                [0, 1],
              ],
            },
          ],
        },
      ]),
      '[1].items[0].polygon',
    ],
    [
      'no turns',
      JSON.stringify({ ...STRIP, items: [{ ...STRIP.items[0], rotations: [] }] }),
      'items[0].rotations',
    ],
    [
      'half an item',
      JSON.stringify({ ...STRIP, items: [{ ...STRIP.items[0], demand: 0.5 }] }),
      'items[0].demand',
    ],
    [
      'no area',
      JSON.stringify({
        ...STRIP,
        items: [
          {
            ...STRIP.items[0],
            polygon: [
              [0, 0],
              [1, 1],
              [2, 2],
            ],
          },
        ],
      }),
      'items',
    ],
    ['neither strip nor boards', JSON.stringify({ ...STRIP, stripHeight: undefined }), 'stripHeight'],
    ['an empty list', '[]', ''],
  ])('refuses %s with its place', (_, text, path) => {
    const o = readProblems(text, 'bad.json');
    expect(o.ok).toBe(false);
    expect(o.diagnostics[0]!.locus.file).toBe('bad.json');
    expect(o.diagnostics[0]!.locus.path ?? '').toBe(path);
  });
});

const segments = (corners: readonly (readonly [number, number])[]): string =>
  corners
    .map(([x, y], i) => {
      const [u, v] = corners[(i + 1) % corners.length]!;
      return `<segment n="${i + 1}" x0="${x}" y0="${y}" x1="${u}" y1="${v}"/>`;
    })
    .join('\n');

const xml = (
  over: { lot?: string; polygons?: string } = {},
): string => `<?xml version="1.0" encoding="UTF-8"?>
<nesting><name>tri</name>
<problem><boards><piece id="board0" quantity="1"><component idPolygon="polygon0" type="0" xOffset="0" yOffset="0"/></piece></boards>
<lot>${over.lot ?? '<piece id="piece0" quantity="3"><orientation><enumeration angle="0"/><enumeration angle="180"/></orientation><component idPolygon="polygon1" type="0" xOffset="0" yOffset="0"/></piece>'}</lot></problem>
<polygons><polygon id="polygon0" nVertices="4"><lines>${segments([
  [0, 0],
  [50, 0],
  [50, 10],
  [0, 10],
])}</lines></polygon>
<polygon id="polygon1" nVertices="3"><lines>${
  over.polygons ??
  segments([
    [0, 0],
    [4, 0],
    [0, 5],
  ])
}</lines></polygon></polygons></nesting>`;

describe('readProblemXml', () => {
  it('reads boards, lot, turns and polygons', () => {
    const o = readProblemXml(xml(), 'tri.xml');
    expect(o.diagnostics).toEqual([]);
    expect(o.ok && o.value[0]).toMatchObject({ name: 'tri', stripWidth: 10, itemArea: 30 });
    expect(o.ok && o.value[0]!.instance.items.map((i) => i.turns.length)).toEqual([2, 2, 2]);
  });
  it.each([
    ['broken XML', xml().replace('</lot>', ''), /XML is broken/],
    [
      'a polygon that is not there',
      xml({ lot: '<piece id="p" quantity="1"><component idPolygon="polygon9" type="0"/></piece>' }),
      /polygon9/,
    ],
    [
      'a polygon that is open',
      xml({
        polygons: segments([
          [0, 0],
          [4, 0],
          [0, 5],
        ]).replace('x1="0" y1="5"', 'x1="0" y1="6"'),
      }),
      /not closed after its segment 2/,
    ],
    [
      'a number that is none',
      xml({
        polygons: segments([
          [0, 0],
          [4, 0],
          [0, 5],
        ]).replace('x0="4"', 'x0="four"'),
      }),
      /no number x0/,
    ],
    [
      'a piece of two outlines',
      xml({
        lot: '<piece id="p" quantity="1"><component idPolygon="polygon1" type="0"/><component idPolygon="polygon1" type="0"/></piece>',
      }),
      /more than one/,
    ],
    ['an empty lot', xml({ lot: '' }), /no <piece> in a <lot>/],
    [
      'half a piece',
      xml({ lot: '<piece id="p" quantity="0.5"><component idPolygon="polygon1" type="0"/></piece>' }),
      /quantity 0.5/,
    ],
  ])('refuses %s with its line', (_, text, says) => {
    const o = readProblemXml(text, 'tri.xml');
    expect(o.ok).toBe(false);
    expect(o.diagnostics[0]!.message).toMatch(says);
    expect(o.diagnostics[0]!.locus.line).toBeGreaterThan(0);
  });
});

describe('a great problem', () => {
  const big = { id: 'g', demand: 2, outline: rectangleRing(0, 0, 4000, 3000), turns: [0] };
  it('is laid out in smaller millimetres, and stated in its own unit', () => {
    const p = stripProblem(facts, 5000, [big]);
    expect(p).toMatchObject({ unit: 0.1, stripWidth: 5000, itemArea: 24e6 });
    expect(ringBounds(p.instance.items[0]!.outline).maxX).toBeCloseTo(400, 9);
    expect(lowerBound(p)).toEqual({ value: 8000, reason: 'items too tall to share the width' });
    const boards = boardProblem(facts, [{ width: 4000, height: 3000 }], [big]);
    expect([boards.unit, lowerBound(boards).value]).toEqual([0.1, 2]);
  });
});

describe('lowerBound', () => {
  it('is the area over the width where nothing else binds', () =>
    expect(lowerBound(stripProblem(facts, 20, [square])).value).toBe(10));
  it('is the longest item, in its shortest turn', () => {
    const long = { id: 'l', demand: 1, outline: rectangleRing(0, 0, 30, 5), turns: [0, Math.PI / 2] };
    expect(lowerBound(stripProblem(facts, 20, [long]))).toMatchObject({ value: 30, reason: 'longest item' });
    expect(lowerBound(stripProblem(facts, 100, [long])).value).toBeCloseTo(5, 9);
  });
  it('adds the lengths of items that take more than half the width', () => {
    const tall = { id: 't', demand: 3, outline: rectangleRing(0, 0, 4, 11), turns: [0] };
    expect(lowerBound(stripProblem(facts, 20, [tall])).value).toBe(12);
    // A triangle 12 high is above half of 20 on the sixth of its length next to its tall side.
    const corner = polygonRing([
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 0, y: 12 },
    ]);
    const many = { id: 'c', demand: 30, outline: corner, turns: [0] };
    const b = lowerBound(stripProblem(facts, 20, [many]));
    expect(b.reason).toBe('area');
    expect(lowerBound(stripProblem(facts, 12.5, [{ ...many, demand: 1 }])).value).toBe(6);
  });
  it('counts boards by area, and is not misled by rounding', () => {
    const third = { id: 'x', demand: 3, outline: rectangleRing(0, 0, 0.1, 10), turns: [0] };
    expect(lowerBound(boardProblem(facts, [{ width: 0.3, height: 10 }], [third])).value).toBe(1);
    expect(lowerBound(boardProblem(facts, [{ width: 10, height: 10 }], [square])).value).toBe(2);
  });
});
