import { rectangleRing } from '@haunch/geometry';
import type { Board, Move, Part, Toolpath, Workingstep } from '@haunch/model';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderSvg } from './order-svg.js';
import { placeNumbers } from './place-numbers.js';
import { stepPaths } from './step-paths.js';

const step = (number: number, feature: string, more: Partial<Workingstep> = {}): Workingstep => ({
  id: `b/00${number} ${feature}`,
  kind: 'inside profile',
  item: 'A',
  feature,
  cutter: 'router-6',
  depths: [18.3],
  tabs: [],
  slug: null,
  seconds: 10,
  spent: { cutting: 5.5, entering: 2.5, air: 1, change: 0, dwell: 1 },
  ...more,
});
const drilling = step(1, 'A.d', { kind: 'drilling' });
const cutting = step(2, 'A.<m>', {
  tabs: [{ at: { x: 60, y: 50 }, width: 8, height: 3, edge: 'e' }],
});
const moves = (
  s: Workingstep,
  ...places: readonly (readonly [Move['kind'], number, number, number])[]
): Move[] =>
  places.map(([kind, x, y, z]): Move => ({ kind, to: { x, y, z }, feed: 1000, from: s.id }) as Move);
const toolpath: Toolpath = {
  kind: 'toolpath',
  board: 'b',
  moves: [
    ...moves(
      drilling,
      ['rapid', 0, 0, 28],
      ['rapid', 20, 20, 28],
      ['linear', 20, 20, -0.3],
      ['linear', 20, 20, 28],
    ),
    ...moves(
      cutting,
      ['rapid', 40, 50, 28],
      ['linear', 40, 50, 18],
      ['linear', 70, 50, 9],
      // Another pass deeper, with a tab between x = 55 and 65.
      ['linear', 40, 50, -0.3],
      ['linear', 55, 50, -0.3],
      ['linear', 56, 50, 3],
      ['linear', 65, 50, 3],
      ['linear', 66, 50, -0.3],
      ['linear', 90, 50, -0.3],
    ),
    {
      kind: 'circular',
      to: { x: 90, y: 50, z: -0.3 },
      centre: { x: 95, y: 50 },
      turn: 'ccw',
      feed: 1000,
      from: cutting.id,
    },
    ...moves(cutting, ['linear', 90, 50, 28]),
  ],
};

describe('the paths of a step', () => {
  const [first, second] = stepPaths([drilling, cutting], toolpath, 18);

  it('are its cut along the bottom alone, open where a tab stands', () =>
    expect(second!.cut).toEqual(['M40 50L55 50', 'M66 50L90 50A5 5 0 0 1 100 50A5 5 0 0 1 90 50']));

  it('are its ways down in the wood, and those through the air from the step before', () => {
    expect(second!.entering).toEqual(['M40 50L70 50L40 50', 'M65 50L66 50']);
    expect(second!.air).toEqual(['M20 20L40 50']);
    expect(first!.air).toEqual(['M0 0L20 20']);
  });

  it('are a place alone where a hole is drilled', () => {
    expect(first).toMatchObject({ cut: [], entering: [], drilled: [{ x: 20, y: 20 }], extent: null });
    expect(second!.drilled).toEqual([]);
  });
});

describe('numbers in a picture', () => {
  const box = { minX: 0, minY: 0, maxX: 1000, maxY: 600 };
  const point = fc.record({
    x: fc.double({ min: 0, max: 1000, noNaN: true }),
    y: fc.double({ min: 0, max: 600, noNaN: true }),
  });

  it('cover neither each other nor small features where there is room, and stay in the picture', () =>
    fc.assert(
      fc.property(fc.array(point, { maxLength: 40 }), fc.array(point, { maxLength: 5 }), (points, at) => {
        const spots = at.map((p) => ({ at: p, radius: 4 }));
        const places = placeNumbers(points, 8, box, spots).map((p) => p.at);
        places.forEach((p, i) => {
          expect(p.x >= 8 && p.x <= 992 && p.y >= 8 && p.y <= 592).toBe(true);
          for (const q of places.slice(i + 1)) expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeGreaterThan(16);
          for (const s of spots) expect(Math.hypot(p.x - s.at.x, p.y - s.at.y)).toBeGreaterThan(11.99);
        });
      }),
    ));

  it('stand at their own place where it is free', () =>
    expect(placeNumbers([{ x: 500, y: 300 }], 8, box)).toEqual([{ at: { x: 500, y: 300 }, led: false }]));
});

describe('the picture of the order of work', () => {
  const part: Part = {
    kind: 'part',
    id: 'A',
    name: 'plate',
    thickness: 18,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: (({ id, r }) => ({ id, ring: r, bare: r, reliefs: [] }))({
      id: 'A',
      r: rectangleRing(10, 10, 110, 90),
    }),
    through: [],
    pockets: [],
    holes: [],
    from: [],
  };
  const board: Board = {
    id: 'b',
    stock: 'b',
    outline: rectangleRing(0, 0, 200, 100),
    thickness: 18,
    readings: [],
    grain: null,
    keepOuts: [rectangleRing(180, 80, 195, 95)],
  };
  const workplan = { kind: 'workplan' as const, board: 'b', steps: [drilling, cutting], seconds: 20 };
  const svg = orderSvg(
    { board, items: [{ item: 'A', piece: 1, part }], plan: { workplan, toolpath, notes: [] } },
    { zZero: 'bed' },
  );

  it('tells air, descents and cuts apart by their dashes, with a word for each', () => {
    const dashes = ['cut', 'air', 'entering'].map(
      (kind) =>
        new RegExp(`\\.order \\.${kind}\\{[^}]*\\}`).exec(svg)![0].match(/stroke-dasharray:([^;}]*)/)?.[1],
    );
    expect(dashes[0]).toBeUndefined();
    expect(new Set(dashes).size).toBe(3);
    for (const words of ['dashes', 'dots', 'a box', 'a cross', 'at its full depth'])
      expect(svg).toContain(words);
  });

  it('numbers every step, shows tabs and keep-outs, and says where the seconds go', () => {
    expect([...svg.matchAll(/class="num">(\d+)</g)].map((m) => m[1])).toEqual(['1', '2']);
    expect(svg.match(/<rect class="tab"/g)).toHaveLength(2);
    expect(svg.match(/class="keep-out"/g)).toHaveLength(1);
    expect(svg).toContain('2 steps, 0.3 min as planned: cutting 0.2 min');
    expect(svg).toContain('>5.5<');
  });

  it('is to scale with its bar, well formed, and spells what XML reserves', () => {
    expect(svg).toContain('20 mm');
    expect(svg).toMatch(/v\d[\d.]*h10v/);
    const open: string[] = [];
    for (const [, end, name, self] of svg.matchAll(/<(\/?)([a-z]+)\b[^>]*?(\/?)>/g)) {
      if (self) continue;
      if (end) expect(open.pop()).toBe(name);
      else open.push(name!);
    }
    expect(open).toEqual([]);
    expect(svg).not.toContain('A.<m>');
    expect(svg).toContain('A.&lt;m&gt;');
  });
});
