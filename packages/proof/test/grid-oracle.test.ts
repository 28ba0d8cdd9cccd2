import { loadClip, type Point, type Polygon } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AsCutBoard, proveProgram } from '../src/index.js';
import { fixed, inputFor, lines, swap, text } from './plate.js';

const clip = await loadClip();

const asCutOf = (program: readonly string[]): AsCutBoard => {
  const out = proveProgram(inputFor(clip, text(program)));
  if (!out.ok) throw new Error(out.diagnostics[0]!.message);
  return out.value.asCut;
};

/**
 * A second sweep that shares nothing with the first, not even the reader: words of G0 and G1 blocks are picked by a
 * pattern, every way is walked in steps of 0.1 mm or less, and each place of a grid keeps the lowest tip that came
 * within the radius. A place that lies within `unsure` of a swept edge is left out by comparing two radii.
 */
function lowestTips(program: readonly string[], grid: readonly Point[], radius: number): number[] {
  const low = grid.map(() => Infinity);
  const at = { x: 0, y: 0, z: 100 };
  for (const line of program) {
    const to = { ...at };
    for (const [, letter, value] of line.matchAll(/([XYZ])(-?[\d.]+)/g))
      to[letter!.toLowerCase() as 'x' | 'y' | 'z'] = Number(value);
    const n = Math.max(1, Math.ceil(Math.hypot(to.x - at.x, to.y - at.y, to.z - at.z) / 0.1));
    for (let i = 0; i <= n; i++) {
      const k = i / n;
      const z = at.z + (to.z - at.z) * k;
      if (z >= 18) continue;
      const [x, y] = [at.x + (to.x - at.x) * k, at.y + (to.y - at.y) * k];
      grid.forEach((p, g) => {
        if (z < low[g]! && (p.x - x) ** 2 + (p.y - y) ** 2 <= radius * radius) low[g] = z;
      });
    }
    Object.assign(at, to);
  }
  return low;
}

const inside = (polygon: Polygon, p: Point): boolean => {
  let odd = false;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y)) odd = !odd;
  });
  return odd;
};
const area = (polygon: Polygon): number =>
  Math.abs(
    polygon.reduce((sum, a, i) => {
      const b = polygon[(i + 1) % polygon.length]!;
      return sum + a.x * b.y - b.x * a.y;
    }, 0) / 2,
  );

/** Places of the plate, off all round figures. */
const grid: Point[] = [];
for (let x = 45.37; x < 155; x += 2.71) for (let y = 45.53; y < 115; y += 2.39) grid.push({ x, y });

function agree(program: readonly string[]): { asked: number; levels: number } {
  const { items, top } = asCutOf(program);
  expect(top).toBe(18);
  const [sure, rather] = [lowestTips(program, grid, 2.98), lowestTips(program, grid, 3.02)];
  let asked = 0;
  for (const level of items[0]!.levels)
    grid.forEach((p, g) => {
      const [gone, near] = [sure[g]! <= level.at - 0.02, rather[g]! <= level.at + 0.02];
      if (gone !== near || level.outer === null) return;
      // What stands beyond the kerf belongs to the waste.
      if (p.x < 47.5 || p.x > 152.5 || p.y < 47.5 || p.y > 112.5) return;
      asked++;
      const stands = inside(level.outer, p) && !level.holes.some((h) => inside(h, p));
      expect({ x: p.x, y: p.y, at: level.at, stands }).toEqual({
        x: p.x,
        y: p.y,
        at: level.at,
        stands: !gone,
      });
    });
  return { asked, levels: items[0]!.levels.length };
}

describe('the sweep at every depth', () => {
  it('is what a fine grid says that shares no code with it', () => {
    const { asked, levels } = agree(lines());
    expect(levels).toBeGreaterThan(3);
    expect(asked).toBeGreaterThan(500 * levels);
  });

  it('is so for grooves of any depth, slope and direction', () => {
    const place = fc.tuple(fc.integer({ min: 56, max: 144 }), fc.integer({ min: 56, max: 66 }));
    const depth = fc.integer({ min: 20, max: 170 }).map((d) => d / 10);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, place, depth, depth), { minLength: 1, maxLength: 4 }),
        (grooves) => {
          const extra = grooves.flatMap(([[ax, ay], [bx, by], za, zb]) => [
            `G0 X${ax} Y${ay}`,
            `G1 Z${fixed(za)} F500`,
            `G1 X${bx} Y${by} Z${fixed(zb)}`,
            'G0 Z28',
          ]);
          agree(swap(lines(), 'M5', ...extra, 'M5'));
        },
      ),
      { numRuns: 6 },
    );
  });

  it('leaves the areas that hand calculation gives, at every depth', () => {
    const above = asCutOf(lines()).items[0]!.levels.filter((l) => l.low >= 9);
    expect(above.length).toBeGreaterThan(0);
    for (const level of above) {
      // Convex and cut from outside, the plate keeps its own area.
      expect(area(level.outer!)).toBeCloseTo(100 * 60, 3);
      // Steiner: a disc of radius d round a convex path sweeps A + P·d + π·d²; the mortise's path is 34 × 12.1.
      const steiner = 34 * 12.1 + 2 * (34 + 12.1) * 3 + Math.PI * 9;
      const [hole] = level.holes;
      expect(area(hole!)).toBeLessThanOrEqual(steiner + 1e-6);
      expect(area(hole!)).toBeGreaterThan(steiner - 2 * Math.PI * 3 * 0.0006);
    }
  });

  it('is not what the grid says of another program, so the comparison can fail', () => {
    const moved = lines().map((l) => l.replace('Y85.1', 'Y84.1'));
    const { items } = asCutOf(lines());
    const tips = lowestTips(moved, [{ x: 100, y: 87.6 }], 3);
    const top = items[0]!.levels.at(-1)!;
    const stands = !top.holes.some((h) => inside(h, { x: 100, y: 87.6 }));
    expect([tips[0]! <= top.at, stands]).toEqual([false, false]);
  });
});
