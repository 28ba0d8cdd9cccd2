import { snap } from '@haunch/geometry';
import type { MasterPart } from '@haunch/model';
import { cross, type Vec } from '../frame.js';
import { atFrame } from './standing.js';
import { boxOf, boxRound } from './world.js';

/** The greatest gap on each side of a part that lies loose between two others, mm. Common practice, no source. */
const WIDEST_GAP = 3;
/** So many places are offered for one part. */
const MOST = 6;
/** Shares of the room at which a place is tried. */
const TRIED = [0.5, 0.25, 0.75, 0, 1];

/** Between which two parts a loose one may lie, with how much air on each side, and where. mm */
export interface LoosePlace {
  readonly between: readonly [string, string];
  readonly gap: number;
  readonly part: MasterPart;
}

const UNITS: readonly Vec[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const axisOfPlate = (p: MasterPart): number => {
  const { low, high } = boxOf(p);
  return [0, 1, 2].reduce((best, k) =>
    Math.abs(high[k]! - low[k]! - p.thickness) < Math.abs(high[best]! - low[best]! - p.thickness) ? k : best,
  );
};

type Box = ReturnType<typeof boxOf>;
const apart = (a: Box, b: Box): boolean =>
  [0, 1, 2].some((k) => a.low[k]! >= b.high[k]! - 1e-6 || b.low[k]! >= a.high[k]! - 1e-6);

/** The part standing with its length `across` along one axis and its own normal along another, its box at `low`. */
function stood(p: MasterPart, along: 'u' | 'v', axis: number, normal: number, low: Vec): MasterPart {
  const [main, n] = [UNITS[axis]!, UNITS[normal]!];
  const u = along === 'u' ? main : cross(main, n);
  const v = cross(n, u);
  const placed = atFrame(p, { origin: [0, 0, 0], u, v, n });
  const box = boxOf(placed);
  return atFrame(p, {
    origin: [0, 1, 2].map((k) => snap(low[k]! - box.low[k]!)) as unknown as Vec,
    u,
    v,
    n,
  });
}

/**
 * Places for a part that makes no joint: between the facing sides of two plates that stand as far apart as it is long
 * or wide, with up to 3 mm of air on each side, where no other plate's box is in its way. The first free place of each
 * pair of plates, at most six, the least air first. Pure.
 */
export function loosePlaces(part: MasterPart, standing: readonly MasterPart[]): LoosePlace[] {
  if (standing.length === 0) return [];
  const own = boxOf(part);
  const boxes = standing.map(boxOf);
  const round = boxRound(standing);
  const out: LoosePlace[] = [];
  for (const [i, a] of standing.entries())
    for (const [k, b] of standing.entries()) {
      const axis = axisOfPlate(a);
      if (i === k || axisOfPlate(b) !== axis) continue;
      const [from, to] = [boxes[i]!.high[axis]!, boxes[k]!.low[axis]!];
      for (const along of ['u', 'v'] as const) {
        const gap = (to - from - (along === 'u' ? own.high[0] - own.low[0] : own.high[1] - own.low[1])) / 2;
        if (!(gap > 0.001 && gap <= WIDEST_GAP)) continue;
        const place = freePlace(part, along, axis, from + gap, [boxes[i]!, boxes[k]!], boxes, round);
        if (place) out.push({ between: [a.id, b.id], gap: Number(gap.toFixed(4)), part: place });
        if (place) break;
      }
    }
  return out.sort((x, y) => x.gap - y.gap).slice(0, MOST);
}

function freePlace(
  part: MasterPart,
  along: 'u' | 'v',
  axis: number,
  from: number,
  [a, b]: readonly [Box, Box],
  boxes: readonly Box[],
  round: Box,
): MasterPart | null {
  const others = [0, 1, 2].filter((k) => k !== axis);
  // Lying flat before standing on edge, where Z is up.
  for (const normal of [...others].reverse()) {
    const size = boxOf(stood(part, along, axis, normal, [0, 0, 0]));
    const room = others.map((k) => {
      const low = Math.max(a.low[k]!, b.low[k]!, round.low[k]!);
      const high = Math.min(a.high[k]!, b.high[k]!, round.high[k]!);
      return { k, low, room: high - low - (size.high[k]! - size.low[k]!) };
    });
    if (room.some((r) => r.room < 0)) continue;
    for (const s of TRIED)
      for (const t of TRIED) {
        const low: [number, number, number] = [0, 0, 0];
        low[axis] = from;
        room.forEach((r, j) => {
          low[r.k] = r.low + r.room * (j === 0 ? s : t);
        });
        const there = stood(part, along, axis, normal, low);
        const box = boxOf(there);
        if (boxes.every((o) => apart(box, o))) return there;
      }
  }
  return null;
}
