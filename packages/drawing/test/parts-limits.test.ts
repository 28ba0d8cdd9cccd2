import { describe, expect, it } from 'vitest';
import { type Entity, importDrawing, thicknessSupport } from '../src/index.js';
import { codesOf, drawingOf, line, polyline, read, rectangle } from './parts-scene.js';

/** Numbers that look random, always the same. */
function numbers(seed: number): () => number {
  let s = seed;
  return () => {
    s = (s * 16_807) % 2_147_483_647;
    return s / 2_147_483_647;
  };
}
const round = (v: number): number => Math.round(v * 1e4) / 1e4;

describe('drawings that are none', () => {
  const refused = (entities: readonly Entity[]): void => {
    const r = importDrawing(drawingOf(entities));
    expect(codesOf(r)).toContain('part-limit');
    expect(r.parts).toEqual([]);
  };

  it('are refused where thousands of lines cross each other', () => {
    const grid = [rectangleOfLines(2000), ...Array.from({ length: 400 }, (_, i) => crossing(i))].flat();
    refused(grid);
  });

  it('are refused where thousands of contours lie over each other', () => {
    const next = numbers(5);
    refused(
      Array.from(
        { length: 3000 },
        (_, i): Entity => ({
          kind: 'circle',
          layer: '0',
          handle: null,
          line: i + 1,
          elevation: 0,
          depth: 0,
          centre: { x: round(50 * next()), y: round(50 * next()) },
          radius: round(50 + 10 * next()),
        }),
      ),
    );
  });

  it('say where a scribble first crosses itself, and no more', () => {
    const next = numbers(9);
    const r = read([
      polyline(Array.from({ length: 3000 }, () => [round(1000 * next()), round(1000 * next())] as const)),
    ]);
    expect(codesOf(r)).toEqual(['self-crossing', 'no-parts'].slice(0, 1));
    expect(r.unclear.length).toBe(1);
  });

  it('lose no line of a heap of twenty thousand: all are in the report', () => {
    const r = read(Array.from({ length: 20_000 }, (_, i) => line(0, 0, 100, 0, i + 1)));
    const told = new Set([...r.repairs, ...r.leftOut].flatMap((x) => x.entities.map((e) => e.line)));
    expect(told.size).toBe(20_000);
  });
});

it('reads a contour of a hundred thousand lines, and measures it', () => {
  const n = 100_000;
  const at = (k: number): readonly [number, number] => {
    const a = (2 * Math.PI * (k % n)) / n;
    const r = 2000 + 3 * ((k % n) % 2);
    return [round(r * Math.cos(a)), round(r * Math.sin(a))];
  };
  const zigzag = Array.from({ length: n }, (_, i) => line(...at(i), ...at(i + 1), i + 1));
  const r = read(zigzag);
  expect(r.parts.map((p) => p.outline.ring.vertices.length)).toEqual([n]);
  expect(thicknessSupport(r.parts)).toEqual([]);
}, 60_000);

const rectangleOfLines = (size: number): Entity[] => {
  const r = rectangle(0, 0, size, size);
  const v = r.kind === 'polyline' ? r.vertices : [];
  return v.map((p, i) => line(p.x, p.y, v[(i + 1) % 4]!.x, v[(i + 1) % 4]!.y, i + 1));
};
const crossing = (i: number): Entity[] => [
  line(0, 4 * i + 2, 2000, 4 * i + 2, 10 + 2 * i),
  line(4 * i + 2, 0, 4 * i + 2, 2000, 11 + 2 * i),
];
