import type { Move, Place } from '@haunch/model';
import type { NcMotion } from '../src/read/nc-reading.js';

type Cut = Extract<Move, { to: Place }>;

/** The wanted place after a part (0–1) of a move that starts at `from`. */
export function placeAlong(from: Place, m: Cut, part: number): Place {
  const z = from.z + (m.to.z - from.z) * part;
  if (m.kind !== 'circular')
    return { x: from.x + (m.to.x - from.x) * part, y: from.y + (m.to.y - from.y) * part, z };
  const { centre: c } = m;
  const a0 = Math.atan2(from.y - c.y, from.x - c.x);
  const a1 = Math.atan2(m.to.y - c.y, m.to.x - c.x);
  const r0 = Math.hypot(from.x - c.x, from.y - c.y);
  const r1 = Math.hypot(m.to.x - c.x, m.to.y - c.y);
  const turn = m.turn === 'ccw' ? 1 : -1;
  const full = 2 * Math.PI;
  const same = from.x === m.to.x && from.y === m.to.y;
  const sweep = same ? full : ((((a1 - a0) * turn) % full) + full) % full;
  const a = a0 + sweep * turn * part;
  const r = r0 + (r1 - r0) * part;
  return { x: c.x + r * Math.cos(a), y: c.y + r * Math.sin(a), z };
}

/** The place on a motion that has been read, after a part of it. */
function readPlace(m: NcMotion, part: number): Place {
  const z = m.from.z + (m.to.z - m.from.z) * part;
  if (m.kind !== 'arc')
    return { x: m.from.x + (m.to.x - m.from.x) * part, y: m.from.y + (m.to.y - m.from.y) * part, z };
  const a = Math.atan2(m.from.y - m.centre.y, m.from.x - m.centre.x) + m.sweep * part;
  const r = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  return { x: m.centre.x + r * Math.cos(a), y: m.centre.y + r * Math.sin(a), z };
}

const length = (m: NcMotion): number => {
  const flat =
    m.kind === 'arc'
      ? Math.abs(m.sweep) * Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y)
      : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
  return Math.hypot(flat, m.to.z - m.from.z);
};

/** How far the motions that were read stray from the wanted move: the greatest distance at equal parts of the way. */
export function stray(from: Place, wanted: Cut, read: readonly NcMotion[]): number {
  const total = read.reduce((sum, m) => sum + length(m), 0);
  let worst = 0;
  let done = 0;
  for (const m of read) {
    const l = length(m);
    for (let k = 0; k <= 8; k++) {
      const p = readPlace(m, k / 8);
      const q = placeAlong(from, wanted, total === 0 ? 1 : (done + (l * k) / 8) / total);
      worst = Math.max(worst, Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z));
    }
    done += l;
  }
  return worst;
}
