import type { Ring } from '@haunch/geometry';
import type { Axis, Part } from '@haunch/model';
import type { DryPiece } from '../src/index.js';

/** A vector in the world. */
export type V = [number, number, number];
const NAMED: Record<string, V> = {
  '+X': [1, 0, 0],
  '-X': [-1, 0, 0],
  '+Y': [0, 1, 0],
  '-Y': [0, -1, 0],
  '+Z': [0, 0, 1],
  '-Z': [0, 0, -1],
};

/** The whole piece turned about an axis through the origin (Rodrigues' formula) and moved away. */
export function turnedPiece(piece: DryPiece, axis: V, by: number): DryPiece {
  const l = Math.hypot(...axis);
  const [x, y, z] = axis.map((k) => k / l) as V;
  const [c, s] = [Math.cos(by), Math.sin(by)];
  const turn = ([a, b, d]: readonly [number, number, number]): V => {
    const k = (x * a + y * b + z * d) * (1 - c);
    return [
      a * c + (y * d - z * b) * s + x * k,
      b * c + (z * a - x * d) * s + y * k,
      d * c + (x * b - y * a) * s + z * k,
    ];
  };
  const dir = (a: Axis): Axis => turn(typeof a === 'string' ? NAMED[a]! : a);
  return {
    ...piece,
    parts: piece.parts.map((p) => {
      const o = turn(p.frame.origin);
      return {
        ...p,
        frame: {
          ...p.frame,
          origin: [o[0] + 1234.5, o[1] - 77, o[2] + 3] as V,
          u: dir(p.frame.u),
          v: dir(p.frame.v),
          n: dir(p.frame.n),
        },
      };
    }),
    mates: (piece.mates ?? []).map((m) => ({
      ...m,
      enteringMoves: dir(m.enteringMoves),
      locates: m.locates.map(dir),
      ...(m.stopsOn === undefined ? {} : { stopsOn: dir(m.stopsOn) }),
    })),
    assembly: (piece.assembly ?? []).map((a) => ({ ...a, move: dir(a.move) })),
  };
}

/** A contour without reliefs. */
export const contour = (id: string, ring: Ring) => ({ id, ring, bare: ring, reliefs: [] });
/** A flat part of an outline alone. */
export const flatPart = (id: string, ring: Ring, thickness: number): Part => ({
  kind: 'part',
  id,
  name: id,
  thickness,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour(`${id}.outline`, ring),
  through: [],
  pockets: [],
  holes: [],
  from: [id],
});
