import { moveRing, polygonRing, rectangleRing } from '@haunch/geometry';
import type { Frame } from '../src/frame.js';
import type { FlatPart } from '../src/index.js';

/** Numbers in [0, 1) that a seed decides. */
export function dice(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (s + 0x6d2b79f5) >>> 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** The parts renamed, shuffled, turned, moved and some seen from the other face; `names` leads back. */
export function scrambled(
  parts: readonly FlatPart[],
  seed: number,
): { parts: FlatPart[]; names: Map<string, string> } {
  const roll = dice(seed);
  const names = new Map<string, string>();
  const out = parts.map((p, k): FlatPart => {
    const motion = { mirror: roll() < 0.5, turn: roll() * 2 * Math.PI, dx: roll() * 900, dy: roll() * 900 };
    const id = `p${k}x`;
    names.set(id, p.id);
    return {
      id,
      thickness: p.thickness,
      outline: moveRing(motion, p.outline),
      through: p.through.map((r) => moveRing(motion, r)),
      pockets: p.pockets.map(({ ring, depth, face }) => ({
        ring: moveRing(motion, ring),
        depth,
        face: ((face ?? 'n+') === 'n+') === motion.mirror ? 'n-' : 'n+',
      })),
    };
  });
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(roll() * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return { parts: out, names };
}

/** Where the middle of a plate's corners stands in the world. */
export function middle(part: FlatPart, frame: Frame): [number, number, number] {
  const n = part.outline.vertices.length;
  const x = part.outline.vertices.reduce((a, v) => a + v.x, 0) / n;
  const y = part.outline.vertices.reduce((a, v) => a + v.y, 0) / n;
  const w = part.thickness / 2;
  return [0, 1, 2].map((k) => frame.origin[k]! + x * frame.u[k]! + y * frame.v[k]! + w * frame.n[k]!) as [
    number,
    number,
    number,
  ];
}

/** A strip with `slots` open slots, 100 mm apart and half its 100 mm deep. mm */
export function strip(id: string, slots: number, thickness: number, clearance = 0.2): FlatPart {
  const corners = [
    { x: 0, y: 0 },
    { x: 100 * (slots + 1), y: 0 },
    { x: 100 * (slots + 1), y: 100 },
  ];
  const half = (thickness + clearance) / 2;
  for (let k = slots; k > 0; k--)
    corners.push(
      { x: 100 * k + half, y: 100 },
      { x: 100 * k + half, y: 50 },
      { x: 100 * k - half, y: 50 },
      { x: 100 * k - half, y: 100 },
    );
  return { id, thickness, outline: polygonRing([...corners, { x: 0, y: 100 }]), through: [], pockets: [] };
}

/** An egg-crate of `n` strips each way. */
export const crate = (n: number, thickness: number): FlatPart[] =>
  Array.from({ length: 2 * n }, (_, k) => strip(`strip${k}`, n, thickness));

/**
 * A row of uprights with two shelves between each two, each shelf with two through tenons at each end; no two
 * bays of up to 26 have their shelves at one height or equally far apart. 3·bays + 1 parts. mm
 */
export function bays(count: number, t: number, clearance = 0.2): FlatPart[] {
  const c = clearance / 2;
  const uprights = Array.from({ length: count + 1 }, (_, k): FlatPart => {
    const heights = [
      ...(k > 0 ? [0, 1] : []).map((i) => [k - 1, i]),
      ...(k < count ? [0, 1] : []).map((i) => [k, i]),
    ];
    return {
      id: `upright${k}`,
      thickness: t,
      outline: rectangleRing(0, 0, 300, 1100),
      through: heights.flatMap(([bay, i]) => {
        const z = 40 + 13 * ((bay! * 11) % 26) + (370 + 9 * bay!) * i!;
        return [50, 190].map((x) => rectangleRing(x - c, z - c, x + 50 + (x === 50 ? 0 : 20) + c, z + t + c));
      }),
      pockets: [],
    };
  });
  const shelves = Array.from({ length: 2 * count }, (_, k): FlatPart => {
    const w = 400;
    return {
      id: `shelf${k}`,
      thickness: t,
      outline: polygonRing(
        [
          [0, 0],
          [w, 0],
          [w, 50],
          [w + t, 50],
          [w + t, 100],
          [w, 100],
          [w, 190],
          [w + t, 190],
          [w + t, 260],
          [w, 260],
          [w, 300],
          [0, 300],
          [0, 260],
          [-t, 260],
          [-t, 190],
          [0, 190],
          [0, 100],
          [-t, 100],
          [-t, 50],
          [0, 50],
        ].map(([x, y]) => ({ x: x!, y: y! })),
      ),
      through: [],
      pockets: [],
    };
  });
  return [...uprights, ...shelves];
}
