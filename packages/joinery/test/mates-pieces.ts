import { moveRing } from '@haunch/geometry';
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
