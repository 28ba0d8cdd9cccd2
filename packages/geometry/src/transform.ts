import type { Point } from './point.js';
import { type Ring, reverseRing } from './ring.js';

/**
 * A rigid motion of the plane: first mirrored in x (x → −x) when `mirror`, then turned by `turn` radians
 * counter-clockwise about the origin, then moved by (dx, dy) mm.
 */
export interface Motion {
  readonly mirror: boolean;
  readonly turn: number;
  readonly dx: number;
  readonly dy: number;
}

/** The motion that changes nothing. */
export const STAY: Motion = { mirror: false, turn: 0, dx: 0, dy: 0 };

/** Cosine and sine of an angle, exact at the quarter turns so that axis-parallel edges stay so. */
export function cosSin(turn: number): readonly [number, number] {
  const quarters = turn / (Math.PI / 2);
  const q = Math.round(quarters);
  if (Math.abs(quarters - q) < 1e-12) {
    const k = ((q % 4) + 4) % 4;
    return k === 0 ? [1, 0] : k === 1 ? [0, 1] : k === 2 ? [-1, 0] : [0, -1];
  }
  return [Math.cos(turn), Math.sin(turn)];
}

/** Where a motion takes a point. */
export function movePoint(m: Motion, p: Point): Point {
  const [c, s] = cosSin(m.turn);
  const x = m.mirror ? -p.x : p.x;
  return { x: c * x - s * p.y + m.dx + 0, y: s * x + c * p.y + m.dy + 0 };
}

/** Where a motion takes a ring; a mirrored ring is reversed as well, so that its orientation stays. */
export function moveRing(m: Motion, r: Ring): Ring {
  const moved: Ring = {
    vertices: r.vertices.map((v) => {
      const p = movePoint(m, v);
      return { ...v, x: p.x, y: p.y, bulge: m.mirror && v.bulge !== 0 ? -v.bulge : v.bulge };
    }),
  };
  return m.mirror ? reverseRing(moved) : moved;
}
