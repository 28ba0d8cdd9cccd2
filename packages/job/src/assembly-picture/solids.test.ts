/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { loadClip, ringArea, ringPerimeter } from '@haunch/geometry';
import { partsOfMaster } from '@haunch/joinery';
import { type Master, MasterSchema } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { weighedLines } from './contour-lines.js';
import { type Solid, solidsOfMaster } from './plate-solid.js';
import { areaOf } from './polygon-area.js';
import { along, cross, dot, type Vec } from './vec.js';
import { depthAt, viewFrom } from './view.js';
import { facesTowards, visibleFaces, windsRound } from './visible-faces.js';
import { visibleLines } from './visible-lines.js';

const clip = await loadClip();
const sideboard = MasterSchema.parse(
  JSON.parse(
    readFileSync(
      new URL('../../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
      'utf8',
    ),
  ),
);
const FROM = { azimuth: 0.5, elevation: 0.6 };

const rectangle = (x0: number, y0: number, x1: number, y1: number) => ({
  start: [x0, y0],
  segments: [
    [x1, y0],
    [x1, y1],
    [x0, y1],
    [x0, y0],
  ].map((to) => ({ to })),
});
const box = (id: string, origin: Vec, size: Vec, more: object = {}) => ({
  id,
  name: id,
  thickness: size[2],
  stock: 'board',
  frame: { origin, u: '+X', v: '+Y', n: '+Z' },
  hold: 'n-',
  grain: 'u',
  showFace: 'n+',
  cutFace: 'n+',
  outline: rectangle(0, 0, size[0], size[1]),
  through: [],
  pockets: [],
  holes: [],
  ...more,
});
const pieceOf = (...parts: unknown[]): Master =>
  MasterSchema.parse({
    format: 'haunch-master',
    version: 1,
    title: 'boxes',
    units: 'mm',
    designThickness: 18,
    parts,
  });

/** Volume and vector area of what the faces enclose, by the divergence theorem. */
function enclosed(s: Solid): { volume: number; vectorArea: Vec } {
  let volume = 0;
  let vectorArea: Vec = [0, 0, 0];
  for (const f of s.faces) {
    let twice: Vec = [0, 0, 0];
    for (const l of f.loops)
      for (const [i, a] of l.entries()) twice = along(twice, 1, cross(a, l[(i + 1) % l.length]!));
    const area = Math.abs(dot(twice, f.normal)) / 2;
    volume += (area * dot(f.loops[0]![0]!, f.normal)) / 3;
    vectorArea = along(vectorArea, area, f.normal);
  }
  return { volume, vectorArea };
}

const draw = (master: Master, from = FROM) => {
  const view = viewFrom(from);
  const solids = solidsOfMaster(master, clip);
  const towards = facesTowards(view, solids);
  return { view, towards, faces: visibleFaces(towards, clip), lines: visibleLines(view, solids, towards) };
};

describe('plates as solids', () => {
  it('are closed and hold the volume of their drawings', () => {
    const parts = partsOfMaster(sideboard);
    solidsOfMaster(sideboard, clip).forEach((s, i) => {
      const part = parts[i]!;
      const t = part.thickness!;
      const discs = part.holes.map(
        (h) => (Math.PI * h.diameter ** 2 * (h.depth === 'through' ? t : h.depth)) / 4,
      );
      const sum = (xs: readonly number[]) => xs.reduce((a, b) => a + b, 0);
      const exact =
        ringArea(part.outline.bare) * t -
        sum(part.through.map((c) => ringArea(c.bare) * t)) -
        sum(part.pockets.map((c) => ringArea(c.bare) * c.depth)) -
        sum(discs);
      const { volume, vectorArea } = enclosed(s);
      // A chord cuts off two thirds of its height, 0.08 mm at most, times its length.
      const curves = [part.outline, ...part.through, ...part.pockets].map((c) => ringPerimeter(c.bare));
      const rims = part.holes.map((h) => Math.PI * h.diameter);
      expect(Math.abs(volume - exact), s.id).toBeLessThan(((0.08 * 2) / 3) * t * sum([...curves, ...rims]));
      expect(Math.hypot(...vectorArea), s.id).toBeLessThan(1e-3);
    });
  });

  it('take recesses that overlap and run out over an edge', () => {
    const pocket = (id: string, face: string, depth: number, loop: object) => ({ id, face, depth, loop });
    const [s] = solidsOfMaster(
      pieceOf(
        box('B', [0, 0, 0], [100, 60, 20], {
          pockets: [
            pocket('B.a', 'n+', 8, rectangle(-5, 10, 40, 20)),
            pocket('B.b', 'n+', 5, rectangle(30, 5, 50, 25)),
            pocket('B.c', 'n-', 12, rectangle(10, 12, 20, 18)),
          ],
        }),
      ),
      clip,
    );
    // By hand: a 40·10·8; b beyond a 5·(20·20 − 10·10); c opens into a's floor: 10·6·12.
    const { volume, vectorArea } = enclosed(s!);
    expect(volume).toBeCloseTo(100 * 60 * 20 - 3200 - 1500 - 720, 3);
    expect(Math.hypot(...vectorArea)).toBeLessThan(1e-6);
  });
});

describe('visible sides', () => {
  it('of a box are three, each foreshortened by its lean', () => {
    const { view, faces } = draw(pieceOf(box('B', [10, 20, 30], [400, 300, 250])));
    const [ex, ey, ez] = view.eye;
    // By hand: a side of area A with normal n shows A · (n · eye).
    const byHand = [400 * 300 * ez, 400 * 250 * -ey, 300 * 250 * ex].sort((a, b) => a - b);
    const shown = faces.map((f) => areaOf(f.polygons)).sort((a, b) => a - b);
    expect(shown).toHaveLength(3);
    byHand.forEach((a, i) => {
      expect(shown[i]).toBeCloseTo(a, 6);
    });
    expect(ez).toBeCloseTo(Math.sin(FROM.elevation), 12);
  });

  it('of a box behind another are none, and all of one that is bigger are seen but for what the other covers', () => {
    const piece = pieceOf(
      box('small', [150, 400, 100], [100, 50, 50]),
      box('big', [0, 0, 0], [400, 300, 300]),
    );
    const shown = (azimuth: number) => {
      const { faces } = draw(piece, { azimuth, elevation: 0 });
      const of = (id: string) =>
        faces.filter((f) => f.face.plate === id).reduce((sum, f) => sum + areaOf(f.polygons), 0);
      return [of('small'), of('big')];
    };
    expect(shown(0)[0]).toBe(0);
    expect(shown(0)[1]).toBeCloseTo(400 * 300, 6);
    expect(shown(Math.PI)[0]).toBeCloseTo(100 * 50, 6);
    expect(shown(Math.PI)[1]).toBeCloseTo(400 * 300 - 100 * 50, 6);
  });

  it('of a recess are its floor less what the front wall hides', () => {
    const depth = 10;
    const { view, faces } = draw(
      pieceOf(
        box('B', [0, 0, 0], [400, 300, 40], {
          pockets: [{ id: 'B.p', face: 'n+', depth, loop: rectangle(100, 100, 200, 180) }],
        }),
      ),
    );
    const floor = faces.find((f) => f.face.normal[2] === 1 && areaOf(f.face.loops) < 100 * 80);
    // By hand: from right front above, the front and the right rim hide strips of the floor.
    const [ex, ey, ez] = view.eye;
    const free = (100 - (depth * Math.abs(ex)) / ez) * (80 - (depth * Math.abs(ey)) / ez);
    expect(areaOf(floor!.polygons)).toBeCloseTo(free * ez, 3);
  });

  it('together cover the silhouette once', () => {
    const { towards, faces } = draw(sideboard);
    const silhouette = areaOf(clip.union(towards.flatMap((f) => f.loops)));
    const sum = faces.reduce((s, f) => s + areaOf(f.polygons), 0);
    expect(Math.abs(sum / silhouette - 1)).toBeLessThan(1e-6);
  });
});

describe('visible lines', () => {
  it('of a box are nine, six of them its contour', () => {
    const { lines, towards } = draw(pieceOf(box('B', [0, 0, 0], [400, 300, 250])));
    expect(lines).toHaveLength(9);
    const weighed = weighedLines(lines, towards);
    expect(weighed.filter((l) => l.contour)).toHaveLength(6);
    expect(weighed.filter((l) => !l.contour)).toHaveLength(3);
  });

  it('end where a nearer plate begins', () => {
    // Seen level from the front, the middle third of the long box is behind the short one.
    const { lines } = draw(
      pieceOf(box('far', [0, 100, 50], [300, 20, 10]), box('near', [100, 0, 0], [100, 20, 200])),
      { azimuth: 0, elevation: 0 },
    );
    const level = lines.filter((l) => Math.abs(l.from.y - 60) < 1e-6 && Math.abs(l.to.y - 60) < 1e-6);
    const ends = level.map((l) =>
      [l.from.x, l.to.x].sort((a, b) => a - b).map((x) => Math.round(x * 1e3) / 1e3),
    );
    expect(new Set(ends.map(String))).toEqual(new Set(['0,100', '200,300']));
  });

  it.each([FROM, { azimuth: 3.9, elevation: 0.4 }, { azimuth: -0.7, elevation: -0.3 }])(
    'and the borders of visible sides are the same, from %o',
    (from) => {
      const { faces, lines } = draw(sideboard, from);
      const at = (p: { x: number; y: number }) =>
        faces.find(
          ({ face: { box: b }, polygons }) =>
            p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY && windsRound(polygons, p),
        )?.face;
      const sides = (a: { x: number; y: number }, b: { x: number; y: number }) => {
        // Less than the narrowest strip of a rounded corner that is turned to the eye here, mm.
        const beside = 0.0002;
        const l = Math.hypot(b.x - a.x, b.y - a.y);
        const m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
        const n = { x: (-(b.y - a.y) / l) * beside, y: ((b.x - a.x) / l) * beside };
        return {
          m,
          faces: [at({ x: m.x + n.x, y: m.y + n.y }), at({ x: m.x - n.x, y: m.y - n.y })] as const,
        };
      };
      const long = (a: { x: number; y: number }, b: { x: number; y: number }) =>
        Math.hypot(b.x - a.x, b.y - a.y) > 2;

      // Every line lies on a side that is seen beside it.
      const bare = lines.filter((l) => {
        if (!long(l.from, l.to)) return false;
        const { m, faces: two } = sides(l.from, l.to);
        const near = (l.nearFrom + l.nearTo) / 2;
        return !two.some((f) => f && Math.abs(depthAt(f.depth, m) - near) < 1e-3);
      });
      expect(bare).toEqual([]);

      // Every border between two planes that are seen carries a line, save within a curved wall.
      let borders = 0;
      const unlined: unknown[] = [];
      for (const { face, polygons } of faces)
        for (const p of polygons)
          p.forEach((a, i) => {
            const b = p[(i + 1) % p.length]!;
            if (!long(a, b)) return;
            const { m, faces: two } = sides(a, b);
            const [f, g] = two;
            if (f === g) return;
            const onePlate = f && g && f.plate === g.plate;
            if (
              onePlate &&
              dot(f.normal, g.normal) > 0.85 &&
              Math.abs(depthAt(f.depth, m) - depthAt(g.depth, m)) < 0.5
            )
              return;
            borders++;
            const covered = lines.some((l) => {
              const [dx, dy] = [l.to.x - l.from.x, l.to.y - l.from.y];
              const k = Math.hypot(dx, dy);
              const t = ((m.x - l.from.x) * dx + (m.y - l.from.y) * dy) / k;
              const off = Math.abs(dx * (m.y - l.from.y) - dy * (m.x - l.from.x)) / k;
              return off < 0.01 && t > -0.01 && t < k + 0.01;
            });
            if (!covered) unlined.push([face.plate, f?.plate, g?.plate, a, b]);
          });
      expect(unlined).toEqual([]);
      expect(borders).toBeGreaterThan(300);
    },
  );
});
