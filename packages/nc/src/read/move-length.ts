import type { NcMotion } from './nc-reading.js';

/** The length of a motion's path, mm: the chord of a straight move, the true length of an arc or helix (N11.4). */
export function moveLength(m: NcMotion): number {
  const dx = m.to.x - m.from.x;
  const dy = m.to.y - m.from.y;
  const dz = m.to.z - m.from.z;
  if (m.kind !== 'arc') return Math.hypot(dx, dy, dz);
  const [a, b, across] =
    m.plane === 'xy'
      ? [m.from.x, m.from.y, dz]
      : m.plane === 'zx'
        ? [m.from.z, m.from.x, dy]
        : [m.from.y, m.from.z, dx];
  return Math.hypot(Math.hypot(a - m.centre.x, b - m.centre.y) * m.sweep, across);
}
