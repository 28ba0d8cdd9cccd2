/** A place or direction in space. */
export interface Vector3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

const cross = (a: Vector3, b: Vector3): Vector3 => ({
  x: a.y * b.z - a.z * b.y,
  y: a.z * b.x - a.x * b.z,
  z: a.x * b.y - a.y * b.x,
});
const unit = (a: Vector3): Vector3 => {
  const l = Math.hypot(a.x, a.y, a.z);
  return { x: a.x / l, y: a.y / l, z: a.z / l };
};

/**
 * Takes a point from an entity's own coordinate system to the world's, by the arbitrary axis algorithm: with
 * |Nx| and |Ny| below 1/64 the x axis is Wy × N, else Wz × N (DXF reference, "arbitrary axis algorithm").
 * @throws RangeError when the normal has no length.
 */
export function ocsToWorld(normal: Vector3, p: Vector3): Vector3 {
  if (!(Math.hypot(normal.x, normal.y, normal.z) > 0))
    throw new RangeError('ocsToWorld: the normal has no length');
  const n = unit(normal);
  const pole = Math.abs(n.x) < 1 / 64 && Math.abs(n.y) < 1 / 64 ? { x: 0, y: 1, z: 0 } : { x: 0, y: 0, z: 1 };
  const ax = unit(cross(pole, n));
  const ay = unit(cross(n, ax));
  return {
    x: ax.x * p.x + ay.x * p.y + n.x * p.z + 0,
    y: ax.y * p.x + ay.y * p.y + n.y * p.z + 0,
    z: ax.z * p.x + ay.z * p.y + n.z * p.z + 0,
  };
}

/** How a flat entity lies: as drawn, seen from behind (x mirrored), or tilted out of the drawing plane. */
export function layOf(normal: Vector3): 'up' | 'mirrored' | 'tilted' {
  const l = Math.hypot(normal.x, normal.y, normal.z);
  // An extrusion direction of no length means nothing; the default (0, 0, 1) is taken.
  if (l === 0) return 'up';
  if (Math.hypot(normal.x, normal.y) / l > 1e-6) return 'tilted';
  return normal.z > 0 ? 'up' : 'mirrored';
}
