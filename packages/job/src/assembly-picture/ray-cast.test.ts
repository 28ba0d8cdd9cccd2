/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { loadClip } from '@haunch/geometry';
import { type Master, type MasterLoop, MasterSchema } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { offsetsApart } from './apart.js';
import { assemblySvg } from './assembly-svg.js';
import { solidsOfMaster } from './plate-solid.js';

/**
 * An oracle that shares nothing with the picture but the master and the written SVG: rays are sent through the
 * plates, and the plate that a ray meets first must be the plate that the SVG paints at that place.
 */
type V3 = readonly [number, number, number];
type V2 = readonly [number, number];
type Offsets = ReadonlyMap<string, V3>;

const clip = await loadClip();
const sideboard = MasterSchema.parse(
  JSON.parse(
    readFileSync(
      new URL('../../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url),
      'utf8',
    ),
  ),
);

const dot = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const axis = (name: unknown): V3 => {
  const sign = String(name).startsWith('-') ? -1 : 1;
  const k = 'XYZ'.indexOf(String(name).charAt(1));
  return [k === 0 ? sign : 0, k === 1 ? sign : 0, k === 2 ? sign : 0];
};

const span = (xs: readonly number[]): readonly [number, number] => [Math.min(...xs), Math.max(...xs)];

const eyeFrom = (azimuth: number, elevation: number) => {
  const [sa, ca, se, ce] = [Math.sin(azimuth), Math.cos(azimuth), Math.sin(elevation), Math.cos(elevation)];
  const eye: V3 = [sa * ce, -ca * ce, se];
  const right: V3 = [ca, sa, 0];
  const up: V3 = [-sa * se, ca * se, ce];
  return { eye, right, up };
};
type Eye = ReturnType<typeof eyeFrom>;

function corners(loop: MasterLoop): V2[] {
  const out: V2[] = [];
  let from = loop.start;
  for (const s of loop.segments) {
    out.push(from);
    if (s.centre && s.dir) {
      const [cx, cy] = s.centre;
      const r = Math.hypot(from[0] - cx, from[1] - cy);
      const a = Math.atan2(from[1] - cy, from[0] - cx);
      const b = Math.atan2(s.to[1] - cy, s.to[0] - cx);
      const full = 2 * Math.PI;
      const sweep = s.dir === 'ccw' ? (((b - a) % full) + full) % full : -((((a - b) % full) + full) % full);
      for (let i = 1; i < 16; i++) {
        const t = a + (sweep * i) / 16;
        out.push([cx + r * Math.cos(t), cy + r * Math.sin(t)]);
      }
    }
    from = s.to;
  }
  return out;
}

const holds = (loops: readonly (readonly V2[])[], x: number, y: number): boolean => {
  let odd = false;
  for (const l of loops)
    for (let i = 0; i < l.length; i++) {
      const [ax, ay] = l[i]!;
      const [bx, by] = l[(i + 1) % l.length]!;
      if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
    }
  return odd;
};

interface Plate {
  readonly id: string;
  readonly corners: readonly V3[];
  /** The first place on the ray through `x` towards −`eye` that is solid, as a distance along `eye` from `x`. */
  firstSolid(x: V3, eye: V3): number;
}

/** Where the line p + s·d crosses the sides of closed polygons. */
function crossings(loops: readonly (readonly V2[])[], p: V2, d: V2): number[] {
  const out: number[] = [];
  const off = (q: V2): number => d[0] * (q[1] - p[1]) - d[1] * (q[0] - p[0]);
  const far = d[0] ** 2 + d[1] ** 2;
  if (far < 1e-18) return out;
  for (const l of loops)
    l.forEach((a, i) => {
      const b = l[(i + 1) % l.length]!;
      const [oa, ob] = [off(a), off(b)];
      if (oa > 0 === ob > 0) return;
      const k = oa / (oa - ob);
      out.push(((a[0] + k * (b[0] - a[0]) - p[0]) * d[0] + (a[1] + k * (b[1] - a[1]) - p[1]) * d[1]) / far);
    });
  return out;
}

/** Where the line p + s·d crosses a circle. */
function circleCrossings(centre: V2, radius: number, p: V2, d: V2): number[] {
  const far = d[0] ** 2 + d[1] ** 2;
  if (far < 1e-18) return [];
  const middle = ((centre[0] - p[0]) * d[0] + (centre[1] - p[1]) * d[1]) / far;
  const away = Math.hypot(p[0] + middle * d[0] - centre[0], p[1] + middle * d[1] - centre[1]);
  if (away >= radius) return [];
  const half = Math.sqrt((radius ** 2 - away ** 2) / far);
  return [middle - half, middle + half];
}

function platesOf(master: Master, offsets?: Offsets): Plate[] {
  return master.parts.map((p) => {
    const [u, v, n] = [axis(p.frame.u), axis(p.frame.v), axis(p.frame.n)];
    const o = offsets?.get(p.id) ?? [0, 0, 0];
    const origin: V3 = [p.frame.origin[0] + o[0], p.frame.origin[1] + o[1], p.frame.origin[2] + o[2]];
    const outline = corners(p.outline);
    const through = p.through.map((c) => corners(c.loop));
    const pockets = p.pockets.map((c) => ({ ...c, loop: corners(c.loop) }));
    const t = p.thickness;
    const ranges = [span(outline.map((c) => c[0])), span(outline.map((c) => c[1])), [0, t]] as const;
    const deep = (face: string, depth: number, w: number) => (face === 'n-' ? w < depth : w > t - depth);
    const heights = [
      0,
      t,
      ...[...p.pockets, ...p.holes].flatMap((c) =>
        c.depth === 'through' ? [] : [c.face === 'n-' ? c.depth : t - c.depth],
      ),
    ];
    const isSolid = (a: number, b: number, w: number): boolean =>
      holds([outline], a, b) &&
      !through.some((l) => holds([l], a, b)) &&
      !pockets.some((c) => deep(c.face, c.depth, w) && holds([c.loop], a, b)) &&
      !p.holes.some(
        (h) =>
          Math.hypot(a - h.centre[0], b - h.centre[1]) < h.diameter / 2 &&
          (h.depth === 'through' || deep(h.face, h.depth, w)),
      );
    return {
      id: p.id,
      corners: outline.flatMap(([a, b]) =>
        [0, t].map(
          (w): V3 => [
            origin[0] + a * u[0] + b * v[0] + w * n[0],
            origin[1] + a * u[1] + b * v[1] + w * n[1],
            origin[2] + a * u[2] + b * v[2] + w * n[2],
          ],
        ),
      ),
      firstSolid: (x, eye) => {
        const d: V3 = [x[0] - origin[0], x[1] - origin[1], x[2] - origin[2]];
        const at = [dot(d, u), dot(d, v), dot(d, n)] as const;
        const go = [dot(eye, u), dot(eye, v), dot(eye, n)] as const;
        // Only the stretch of the ray within the plate's box counts.
        let [least, most] = [-1e5, 1e5];
        for (const k of [0, 1, 2] as const) {
          if (Math.abs(go[k]) < 1e-9) {
            if (at[k] < ranges[k][0] || at[k] > ranges[k][1]) return -Infinity;
            continue;
          }
          const [s, e] = span([(ranges[k][0] - at[k]) / go[k], (ranges[k][1] - at[k]) / go[k]]);
          [least, most] = [Math.max(least, s), Math.min(most, e)];
        }
        if (most <= least) return -Infinity;
        const [p2, d2] = [[at[0], at[1]] as const, [go[0], go[1]] as const];
        // Between two neighbours of these the ray is wholly in wood or wholly in air.
        const changes = [
          most,
          least,
          ...crossings([outline, ...through, ...pockets.map((c) => c.loop)], p2, d2),
          ...p.holes.flatMap((h) => circleCrossings(h.centre, h.diameter / 2, p2, d2)),
          ...(Math.abs(go[2]) < 1e-9 ? [] : heights.map((w) => (w - at[2]) / go[2])),
        ]
          .filter((s) => s >= least && s <= most)
          .sort((a, b) => b - a);
        for (let i = 0; i + 1 < changes.length; i++) {
          const m = (changes[i]! + changes[i + 1]!) / 2;
          if (
            changes[i]! - changes[i + 1]! > 1e-6 &&
            isSolid(at[0] + m * go[0], at[1] + m * go[1], at[2] + m * go[2])
          )
            return changes[i]!;
        }
        return -Infinity;
      },
    };
  });
}

function firstHit(plates: readonly Plate[], { eye, right, up }: Eye, x: number, y: number): string {
  const at: V3 = [x * right[0] + y * up[0], x * right[1] + y * up[1], x * right[2] + y * up[2]];
  let best = { id: '', near: -Infinity };
  for (const p of plates) {
    const near = p.firstSolid(at, eye);
    if (near > best.near) best = { id: p.id, near };
  }
  return best.id;
}

/** The loops that an SVG paints for every part, in its own units. */
function painted(svg: string): Map<string, V2[][][]> {
  const out = new Map<string, V2[][][]>();
  for (const [, id, body] of svg.matchAll(/<g data-part="([^"]*)"[^>]*>(.*?)<\/g>/gs)) {
    const areas = [...body!.matchAll(/ d="([^"]*)"/g)].map(([, d]) => {
      const loops: V2[][] = [];
      let [x, y] = [0, 0];
      for (const [, verb, rest] of d!.matchAll(/([Mlhvz])([^Mlhvz]*)/g)) {
        const numbers = (rest!.match(/-?\d*\.?\d+/g) ?? []).map(Number);
        if (verb === 'M') {
          [x, y] = [numbers[0]!, numbers[1]!];
          loops.push([]);
        } else if (verb === 'l') [x, y] = [x + numbers[0]!, y + numbers[1]!];
        else if (verb === 'h') x += numbers[0]!;
        else if (verb === 'v') y += numbers[0]!;
        if (verb !== 'z') loops[loops.length - 1]!.push([x, y]);
      }
      return loops;
    });
    out.set(id!, [...(out.get(id!) ?? []), ...areas]);
  }
  return out;
}

/** How the SVG's units come from the projection's mm, found by laying both extents over each other. */
function placing(plates: readonly Plate[], { right, up }: Eye, areas: Map<string, V2[][][]>) {
  const all = plates.flatMap((p) => p.corners);
  const drawn = [...areas.values()].flat(3) as unknown as V2[];
  const [x0, x1] = span(all.map((c) => dot(c, right)));
  const [, y1] = span(all.map((c) => dot(c, up)));
  const [px0, px1] = span(drawn.map((p) => p[0]));
  const [py0] = span(drawn.map((p) => p[1]));
  const scale = (px1 - px0) / (x1 - x0);
  return {
    scale,
    toMm: (p: V2): V2 => [x0 + (p[0] - px0) / scale, y1 - (p[1] - py0) / scale],
    toPx: (p: V2): V2 => [px0 + (p[0] - x0) * scale, py0 + (y1 - p[1]) * scale],
  };
}

function compare(eye: Eye, svg: string, plates = platesOf(sideboard)) {
  const areas = painted(svg);
  const { toMm } = placing(plates, eye, areas);
  const everywhere = [...areas.values()].flat(3) as unknown as V2[];
  const [px0, px1] = span(everywhere.map((p) => p[0]));
  const [py0, py1] = span(everywhere.map((p) => p[1]));
  const seen = new Set<string>();
  const wrong: string[] = [];
  let decided = 0;
  const hit = (x: number, y: number) => firstHit(plates, eye, ...toMm([x, y]));
  // Steps that share no factor with the piece's own measures, so that many kinds of places are met.
  for (let x = px0 + 3.7; x < px1; x += 31.3)
    for (let y = py0 + 2.9; y < py1; y += 26.9) {
      const expected = hit(x, y);
      // Within a pixel of a border the picture's rounding may decide either way.
      if ([-1, 1].some((d) => hit(x + d, y) !== expected || hit(x, y + d) !== expected)) continue;
      decided++;
      seen.add(expected);
      const found = [...areas].filter(([, a]) => a.some((l) => holds(l, x, y))).map(([id]) => id);
      if (found.join() !== expected)
        wrong.push(`${x.toFixed(1)},${y.toFixed(1)}: ${found.join()} for ${expected}`);
    }
  return { wrong, decided, seen };
}

const plate = (id: string, thickness: number, frame: object, loop: readonly V2[]) => ({
  id,
  name: id,
  thickness,
  stock: 'board',
  frame,
  hold: 'n-',
  grain: 'u',
  showFace: 'n+',
  cutFace: 'n+',
  outline: { start: loop[0], segments: [...loop.slice(1), loop[0]].map((to) => ({ to })) },
  through: [],
  pockets: [],
  holes: [],
});
const pieceOf = (...parts: unknown[]): Master =>
  MasterSchema.parse({
    format: 'haunch-master',
    version: 1,
    title: 'crossing plates',
    units: 'mm',
    designThickness: 18,
    parts,
  });

const pictureFrom = (master: Master, azimuth: number, elevation: number, explode = 0): string =>
  assemblySvg(master, clip, { from: { azimuth, elevation }, explode, labels: false, width: 1400 });

describe('the picture of a piece, against rays through its plates', () => {
  it.each([
    ['from the right of the front and above', 0.56, 0.4],
    ['from the left of the rear and above', 3.9, 0.7],
    ['from below', -0.5, -0.45],
  ])('paints at every place the plate that is met first, %s', (_, azimuth, elevation) => {
    const { wrong, decided, seen } = compare(
      eyeFrom(azimuth, elevation),
      pictureFrom(sideboard, azimuth, elevation),
    );
    expect(wrong).toEqual([]);
    expect(decided).toBeGreaterThan(350);
    expect(seen.size).toBeGreaterThan(8);
  });

  it('does so with the plates moved apart', () => {
    const offsets: Offsets = offsetsApart(sideboard, solidsOfMaster(sideboard, clip));
    const { wrong, decided } = compare(
      eyeFrom(0.56, 0.4),
      pictureFrom(sideboard, 0.56, 0.4, 1),
      platesOf(sideboard, offsets),
    );
    expect(wrong).toEqual([]);
    expect(decided).toBeGreaterThan(350);
  });

  it('is caught by the rays when it shows another view', () => {
    const { wrong } = compare(eyeFrom(0.66, 0.4), pictureFrom(sideboard, 0.56, 0.4));
    expect(wrong.length).toBeGreaterThan(10);
  });

  it('passes two crossing plates through each other’s slots', () => {
    // A stands across, slotted from above; B runs to the rear, slotted from below; both laps bottom at z = 100.
    const across = plate('A', 18, { origin: [0, 159, 0], u: '+X', v: '+Z', n: '-Y' }, [
      [0, 0],
      [300, 0],
      [300, 200],
      [159, 200],
      [159, 100],
      [141, 100],
      [141, 200],
      [0, 200],
    ]);
    const rearward = plate('B', 18, { origin: [141, 0, 0], u: '+Y', v: '+Z', n: '+X' }, [
      [0, 0],
      [141, 0],
      [141, 100],
      [159, 100],
      [159, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ]);
    const piece = pieceOf(across, rearward);
    const plates = platesOf(piece);
    const eye = eyeFrom(0.6, 0.5);
    const svg = pictureFrom(piece, 0.6, 0.5);
    const areas = painted(svg);
    const { toPx } = placing(plates, eye, areas);
    const paintedAt = (x: V3) => {
      const [px, py] = toPx([dot(x, eye.right), dot(x, eye.up)]);
      return [...areas].filter(([, a]) => a.some((l) => holds(l, px, py))).map(([id]) => id);
    };
    // By hand: the ray from (50, 141, z) to the eye passes x = 159 at y = 141 − 109 / tan 0.6 < 0, in front of B,
    // and that from (100, 141, z) at y = 55, and 57 mm higher than it started: within B below z = 143.
    expect(paintedAt([50, 141, 120])).toEqual(['A']);
    expect(paintedAt([100, 141, 50])).toEqual(['B']);
    expect(paintedAt([100, 141, 190])).toEqual(['A']);
    // Right of the crossing A's face is free; where B passes through A's slot, B is seen; behind A, it is not.
    expect(paintedAt([250, 141, 50])).toEqual(['A']);
    expect(paintedAt([150, 150, 200])).toEqual(['B']);
    expect(paintedAt([100, 150, 200])).toEqual(['A']);
    expect(paintedAt([159, 200, 20])).toEqual(['A']);
    const { wrong, decided } = compare(eye, svg, plates);
    expect(wrong).toEqual([]);
    expect(decided).toBeGreaterThan(350);
  });
});
