import { type Clip, loadClip, movePoint, polygonRing, STAY } from '@haunch/geometry';
import { type Cutter, movePart, type Part } from '@haunch/model';
import { readProgram } from '@haunch/nc/read';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Alignment, alignmentRule, alignParts } from '../src/index.js';
import { contour, fixed, lines, machine, plate, router, swap, tagged, text } from './plate.js';

const clip: Clip = await loadClip();

const align = (
  program: string,
  parts: readonly Part[],
  layout = false,
  cutters: Cutter[] = [router],
): Alignment =>
  alignParts({ reading: readProgram(program, {}), parts, thickness: 18, cutters, machine, clip, layout });

/** The plate's program turned by quarter turns about the origin, then moved. */
function turnedProgram(program: readonly string[], quarters: number, dx: number, dy: number): string[] {
  let [x, y] = [0, 0];
  return program.map((l) => {
    const said = /[XY]/.test(l);
    x = Number(/X(-?[\d.]+)/.exec(l)?.[1] ?? x);
    y = Number(/Y(-?[\d.]+)/.exec(l)?.[1] ?? y);
    if (!said) return l;
    const p = movePoint({ ...STAY, turn: (quarters * Math.PI) / 2, dx, dy }, { x, y });
    const rest = l.replace(/[XY]-?[\d.]+ ?/g, '').trim();
    const [g, ...more] = rest.split(' ');
    return [g, `X${fixed(p.x)}`, `Y${fixed(p.y)}`, ...more].join(' ').trim();
  });
}

/** A plate without symmetry: a corner cut away and a mortise off its middle. */
const odd: Part = {
  ...plate,
  id: 'O',
  outline: contour('O', {
    vertices: polygonRing([
      { x: 50, y: 50 },
      { x: 150, y: 50 },
      { x: 150, y: 90 },
      { x: 120, y: 110 },
      { x: 50, y: 110 },
    ]).vertices.map((v, i) => ({ ...v, tag: `O/e${i}` })),
  }),
  through: [],
};
/** Its program in one pass without tabs: only where it lies is asked here. */
function oddProgram(r = 3): string[] {
  // Offset corners: neighbouring edges moved out by the radius, met again.
  const v = odd.outline.ring.vertices;
  const n = v.length;
  const line = (i: number) => {
    const [a, b] = [v[i % n]!, v[(i + 1) % n]!];
    const l = Math.hypot(b.x - a.x, b.y - a.y);
    const [nx, ny] = [(b.y - a.y) / l, -(b.x - a.x) / l];
    return { nx, ny, c: nx * a.x + ny * a.y + r };
  };
  const corner = (i: number) => {
    const [p, q] = [line(i + n - 1), line(i)];
    const d = p.nx * q.ny - p.ny * q.nx;
    return `X${fixed((p.c * q.ny - q.c * p.ny) / d)} Y${fixed((p.nx * q.c - q.nx * p.c) / d)}`;
  };
  return [
    'G21 G90 G17 G94',
    'T1 M6',
    'S18000 M3',
    'G0 Z28',
    `G0 ${corner(0)}`,
    'G1 Z-0.2 F500',
    ...[1, 2, 3, 4, 0].map((i) => `G1 ${corner(i)} F3000`),
    'G0 Z28',
    'M5',
    'M30',
  ];
}

describe('finding parts in a program', () => {
  it('finds a plate where it was drawn, to the grid', () => {
    const a = align(text(lines()), [plate]);
    expect(a.found).toMatchObject([{ item: 'A', piece: 1, by: 'piece' }]);
    // A disc does not reach into the mortise's corners.
    expect(a.found[0]!.share).toBeGreaterThan(0.95);
    expect(a).toMatchObject({ lacking: [], strange: [] });
    // The plate lies on itself after half a turn, so its box tells.
    const xs = a.found[0]!.part.outline.ring.vertices.map((v) => v.x);
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([50, 150]);
  });

  it('finds it turned by quarters and moved anywhere', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 3 }),
        fc.integer({ min: -4000, max: 4000 }),
        fc.integer({ min: -4000, max: 4000 }),
        (quarters, dx, dy) => {
          const program = turnedProgram(oddProgram(), quarters, dx / 10, dy / 10);
          const [f] = align(text(program), [odd]).found;
          const turn = (quarters * Math.PI) / 2;
          expect(f!.motion.turn).toBeCloseTo(turn, 12);
          // The program's words have three decimals.
          expect(Math.abs(f!.motion.dx - dx / 10)).toBeLessThan(0.001);
          expect(Math.abs(f!.motion.dy - dy / 10)).toBeLessThan(0.001);
        },
      ),
      { numRuns: 12 },
    );
  });

  it('finds a drawing that lies anyhow', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.integer({ min: -500, max: 500 }),
        (turn, dx) => {
          const drawn = movePart({ ...STAY, turn, dx, dy: 2 * dx }, odd);
          const [f] = align(text(oddProgram()), [drawn]).found;
          f!.part.outline.ring.vertices.forEach((v, i) => {
            const w = odd.outline.ring.vertices[i]!;
            expect(Math.hypot(v.x - w.x, v.y - w.y)).toBeLessThan(0.003);
          });
        },
      ),
      { numRuns: 12 },
    );
  });

  it('names a part that is cut as its mirror image', () => {
    const a = align(text(oddProgram()), [movePart({ ...STAY, mirror: true }, odd)]);
    expect(a.found[0]!.motion.mirror).toBe(true);
    const rule = alignmentRule(a);
    expect(rule.verdict).toBe('fail');
    expect(rule.findings[0]).toMatchObject({ part: 'O' });
    expect(rule.findings[0]!.message).toMatch(/cut unmirrored/);
    expect(alignmentRule(align(text(oddProgram()), [odd])).verdict).toBe('pass');
  });

  it('names a mirrored part by its recess alone, where the outline is the same either way', () => {
    const pocketed: Part = {
      ...plate,
      pockets: [{ ...contour('A.p', tagged('A.p', 55, 52, 75, 68)), face: 'n+', depth: 6 }],
    };
    const recess = [
      'G0 X58 Y55',
      'G1 Z12 F500',
      'G1 X72 F3000',
      'G1 Y60',
      'G1 X58',
      'G1 Y65',
      'G1 X72',
      'G1 Z28',
    ];
    const program = lines().flatMap((l) => (l === 'M5' ? [...recess, l] : [l]));
    expect(align(text(program), [pocketed]).found[0]!.motion.mirror).toBe(false);
    const other = movePart({ ...STAY, mirror: true }, pocketed);
    expect(align(text(program), [other]).found[0]!.motion.mirror).toBe(true);
  });

  it('rests on the walls that agree when one has moved, and does not stand between them', () => {
    // The right end 0.08 mm further out, on every pass.
    const moved = lines().map((l) => l.replace('X153', 'X153.08'));
    const drawing = movePart({ ...STAY, dx: 300, dy: -20 }, plate);
    const [f] = align(text(moved), [drawing]).found;
    const xs = f!.part.outline.ring.vertices.map((v) => v.x);
    expect(Math.min(...xs)).toBeCloseTo(50, 3);
    expect(Math.max(...xs)).toBeCloseTo(150, 3);
  });

  it('still finds a part that hangs on its surroundings or has lost a wall', () => {
    const whole = oddProgram();
    const leg = whole[7]!.replace(' F3000', '');
    const open = whole.flatMap((l, i) =>
      i === 7 ? ['G0 Z28', leg.replace('G1', 'G0'), 'G1 Z-0.2 F500'] : [l],
    );
    const [f] = align(text(open), [movePart({ ...STAY, turn: 1, dx: 7 }, odd)]).found;
    expect(f).toMatchObject({ item: 'O', by: 'edges' });
    f!.part.outline.ring.vertices.forEach((v, i) => {
      const w = odd.outline.ring.vertices[i]!;
      expect(Math.hypot(v.x - w.x, v.y - w.y)).toBeLessThan(0.003);
    });
    expect(f!.share).toBeLessThan(0.97);
  });

  it('names what is lacking and what matches nothing', () => {
    const other: Part = { ...plate, id: 'B', outline: contour('B', tagged('B', 0, 0, 80, 80)), through: [] };
    const a = align(text(lines()), [plate, other]);
    expect(a).toMatchObject({ lacking: ['B'], missed: [], strange: [] });
    const alone = align(text(lines()), [other]);
    expect(alone.found).toEqual([]);
    expect(alone.missed).toEqual(['B']);
    expect(alone.strange[0]).toMatchObject({ at: { x: 100, y: 80 } });
    expect(alignmentRule(alone).verdict).toBe('fail');
    // One part that lies on another board is no fault.
    expect(alignmentRule(a).verdict).toBe('pass');
  });

  it('gives parts that are alike out by their places, and counts further copies', () => {
    const second = turnedProgram(lines(), 0, 140, 0);
    const both = [...lines().slice(0, -2), ...second.slice(3)];
    const twin: Part = { ...movePart({ ...STAY, dx: 0, dy: 200 }, plate), id: 'T' };
    const a = align(text(both), [twin, plate]);
    expect(a.found.map((f) => [f.item, Math.min(...f.part.outline.ring.vertices.map((v) => v.x))])).toEqual([
      ['T', 50],
      ['A', 190],
    ]);
    expect(align(text(both), [plate]).found.map((f) => [f.item, f.piece])).toEqual([
      ['A', 1],
      ['A/2', 2],
    ]);
  });

  it('keeps the places of a layout drawing, though its parts are alike', () => {
    const second = turnedProgram(lines(), 0, 140, 0);
    const both = [...lines().slice(0, -2), ...second.slice(3)];
    const right: Part = { ...movePart({ ...STAY, dx: 140 }, plate), id: 'R' };
    const shifted = [right, plate].map((p) => movePart({ ...STAY, dx: 1000, dy: 50 }, p));
    const a = align(text(both), shifted, true);
    expect(a.layout).toMatchObject({ turn: 0 });
    expect(a.layout!.dx).toBeCloseTo(-1000, 3);
    expect(a.found.map((f) => [f.item, Math.min(...f.part.outline.ring.vertices.map((v) => v.x))])).toEqual([
      ['R', 190],
      ['A', 50],
    ]);
  });

  it('finds nothing where nothing is cut', () => {
    expect(align(text(['G21 G90', 'G0 Z28', 'M30']), [plate])).toMatchObject({ found: [], lacking: ['A'] });
    expect(align(text(swap(lines(), 'T1 M6', 'T7 M6')), [plate]).found).toEqual([]);
  });

  it('is the same twice, to the byte', () => {
    expect(JSON.stringify(align(text(lines()), [plate, odd]))).toBe(
      JSON.stringify(align(text(lines()), [plate, odd])),
    );
  });
});
