import { distance, type Point, pointRingDistance, type Ring, ringArea, snap } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { expect } from 'vitest';
import {
  type Drawing,
  type DrawingImport,
  type Entity,
  type FindPartsOptions,
  importDrawing,
} from '../src/index.js';

/** A line or an arc, by its ends and its bulge. */
export interface Stretch {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
}

const place = (line: number, layer = '0') => ({ layer, handle: `H${line}`, line, elevation: 0, depth: 0 });

/** A drawing of these entities, in millimetres. */
export const drawingOf = (entities: readonly Entity[], layers: Drawing['layers'] = []): Drawing => ({
  kind: 'drawing',
  file: 'test.dxf',
  version: 'AC1015',
  unit: { name: 'mm', factor: 1, basis: 'header', reason: 'The file states mm.' },
  layers,
  entities,
});

export const line = (x0: number, y0: number, x1: number, y1: number, at = 1, layer = '0'): Entity => ({
  kind: 'line',
  ...place(at, layer),
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
});

export const polyline = (
  points: readonly (readonly [number, number, number?])[],
  at = 1,
  layer = '0',
  closed = true,
): Entity => ({
  kind: 'polyline',
  ...place(at, layer),
  vertices: points.map(([x, y, bulge]) => ({ x, y, bulge: bulge ?? 0 })),
  closed,
});

export const rectangle = (x0: number, y0: number, x1: number, y1: number, at = 1, layer = '0'): Entity =>
  polyline(
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ],
    at,
    layer,
  );

/** A run of lines through points, numbered from `at` on. */
export const lines = (points: readonly (readonly [number, number])[], at = 1, layer = '0'): Entity[] =>
  points.slice(1).map(([x, y], i) => line(points[i]![0], points[i]![1], x, y, at + 10 * i, layer));

const snapped = (p: Point): Point => ({ x: snap(p.x), y: snap(p.y) });

/** The loose stretches of rings. */
export const stretchesOf = (rings: readonly Ring[]): Stretch[] =>
  rings.flatMap(({ vertices }) =>
    vertices.map((v, i) => {
      const w = vertices[(i + 1) % vertices.length]!;
      return { from: { x: v.x, y: v.y }, to: { x: w.x, y: w.y }, bulge: v.bulge };
    }),
  );

/** Stretches as LINE and ARC entities on the grid, in their order. */
export function entitiesOf(stretches: readonly Stretch[], layer = '0'): Entity[] {
  return stretches.map((s, i): Entity => {
    const [from, to] = [snapped(s.from), snapped(s.to)];
    if (s.bulge === 0) return { kind: 'line', ...place(10 + 10 * i, layer), from, to };
    // An arc entity runs counter-clockwise.
    const [a, b] = s.bulge > 0 ? [from, to] : [to, from];
    const bulge = Math.abs(s.bulge);
    const chord = distance(a, b);
    const radius = (chord * (1 + bulge * bulge)) / (4 * bulge);
    const apothem = (chord * (1 - bulge * bulge)) / (4 * bulge);
    const centre = {
      x: (a.x + b.x) / 2 - ((b.y - a.y) / chord) * apothem,
      y: (a.y + b.y) / 2 + ((b.x - a.x) / chord) * apothem,
    };
    return { kind: 'arc', ...place(10 + 10 * i, layer), from: a, to: b, bulge, centre, radius };
  });
}

/** Part of a stretch, from one share of its way to another. */
export function cutOut(s: Stretch, f0: number, f1: number): Stretch {
  const at = (f: number): Point => {
    if (s.bulge === 0)
      return { x: s.from.x + (s.to.x - s.from.x) * f, y: s.from.y + (s.to.y - s.from.y) * f };
    const sweep = 4 * Math.atan(s.bulge);
    const [dx, dy] = [s.to.x - s.from.x, s.to.y - s.from.y];
    const half = 1 / (2 * Math.tan(sweep / 2));
    const centre = {
      x: (s.from.x + s.to.x) / 2 - dy * half,
      y: (s.from.y + s.to.y) / 2 + dx * half,
    };
    const [c, n] = [Math.cos(sweep * f), Math.sin(sweep * f)];
    const [x, y] = [s.from.x - centre.x, s.from.y - centre.y];
    return { x: centre.x + c * x - n * y, y: centre.y + n * x + c * y };
  };
  const bulge = s.bulge === 0 ? 0 : Math.tan(Math.atan(s.bulge) * (f1 - f0));
  return { from: f0 === 0 ? s.from : at(f0), to: f1 === 1 ? s.to : at(f1), bulge };
}

export const reversed = (s: Stretch): Stretch => ({ from: s.to, to: s.from, bulge: -s.bulge + 0 });

export function read(entities: readonly Entity[], options: FindPartsOptions = {}): DrawingImport {
  return importDrawing(drawingOf(entities), options);
}

export const codesOf = (r: DrawingImport): string[] => r.diagnostics.map((d) => d.code.slice(5));

/** All closed curves of a part. */
const ringsOf = (p: Part): Ring[] => [p.outline, ...p.through, ...p.pockets].map((c) => c.ring);

/** The greatest distance of the corners of either of two rings from the other. */
export function apart(a: Ring, b: Ring): number {
  let most = 0;
  for (const v of a.vertices) most = Math.max(most, pointRingDistance(b, v));
  for (const v of b.vertices) most = Math.max(most, pointRingDistance(a, v));
  return most;
}

/** Asserts that two sets of parts are the same, in any order, no corner further apart than `within` mm. */
export function expectSameParts(found: readonly Part[], known: readonly Part[], within: number): void {
  expect(found.length).toBe(known.length);
  const left = [...known];
  for (const p of found) {
    const i = left.findIndex((q) => apart(p.outline.ring, q.outline.ring) <= within);
    expect(i, `${p.id} is none of the known parts`).toBeGreaterThanOrEqual(0);
    const [q] = left.splice(i, 1);
    expect(ringsOf(p).length).toBe(ringsOf(q!).length);
    expect(p.holes.length).toBe(q!.holes.length);
    for (const r of ringsOf(p)) {
      const twin = ringsOf(q!).find((s) => apart(r, s) <= within);
      expect(twin, `a curve of ${p.id} is in no known part`).toBeDefined();
      expect(r.vertices.length).toBe(twin!.vertices.length);
      expect(Math.abs(ringArea(r) - ringArea(twin!))).toBeLessThanOrEqual(within * 4000);
    }
    for (const h of p.holes)
      expect(
        q!.holes.some(
          (g) => distance(g.centre, h.centre) <= within && Math.abs(g.diameter - h.diameter) <= within,
        ),
      ).toBe(true);
  }
}
