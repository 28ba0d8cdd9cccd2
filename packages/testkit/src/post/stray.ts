import type { Place } from '@haunch/model';
import type { NcMotion } from '@haunch/nc/read';
import type { Travel } from './post-trial.js';

/** The place after a share (0 to 1) of a wanted move. */
function wantedPlace(from: Place, m: Travel, share: number): Place {
  const z = from.z + (m.to.z - from.z) * share;
  if (m.kind !== 'circular')
    return { x: from.x + (m.to.x - from.x) * share, y: from.y + (m.to.y - from.y) * share, z };
  const { centre: c } = m;
  const start = Math.atan2(from.y - c.y, from.x - c.x);
  const end = Math.atan2(m.to.y - c.y, m.to.x - c.x);
  const r = Math.hypot(from.x - c.x, from.y - c.y);
  const turn = m.turn === 'ccw' ? 1 : -1;
  const full = 2 * Math.PI;
  const whole = from.x === m.to.x && from.y === m.to.y;
  const sweep = whole ? full : ((((end - start) * turn) % full) + full) % full;
  const a = start + sweep * turn * share;
  return { x: c.x + r * Math.cos(a), y: c.y + r * Math.sin(a), z };
}

function readPlace(m: NcMotion, share: number): Place {
  const z = m.from.z + (m.to.z - m.from.z) * share;
  if (m.kind !== 'arc')
    return {
      x: m.from.x + (m.to.x - m.from.x) * share,
      y: m.from.y + (m.to.y - m.from.y) * share,
      z,
    };
  const { centre: c } = m;
  const a = Math.atan2(m.from.y - c.y, m.from.x - c.x) + m.sweep * share;
  const r = Math.hypot(m.from.x - c.x, m.from.y - c.y);
  return { x: c.x + r * Math.cos(a), y: c.y + r * Math.sin(a), z };
}

function length(m: NcMotion): number {
  const flat =
    m.kind === 'arc'
      ? Math.abs(m.sweep) * Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y)
      : Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y);
  return Math.hypot(flat, m.to.z - m.from.z);
}

/** How far motions that were read stray from the move that they stand for, mm, at equal shares of the way. */
export function stray(from: Place, wanted: Travel, read: readonly NcMotion[]): number {
  const total = read.reduce((sum, m) => sum + length(m), 0);
  let worst = 0;
  let done = 0;
  for (const m of read) {
    const l = length(m);
    for (let k = 0; k <= 8; k++) {
      const p = readPlace(m, k / 8);
      const q = wantedPlace(from, wanted, total === 0 ? 1 : (done + (l * k) / 8) / total);
      worst = Math.max(worst, Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z));
    }
    done += l;
  }
  return worst;
}
