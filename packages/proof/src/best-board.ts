import { pointInRing, pointRingDistance, type Ring, ringBounds, ringSegments } from '@haunch/geometry';
import type { Board } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import type { PlacedItem } from './prove-input.js';

/** A board with what is meant to be cut from it. */
export interface BoardChoice {
  readonly board: Board;
  readonly items: readonly PlacedItem[];
}

/** A cutting place counts for a curve when it lies within this of it, mm: half of a thick cutter and a little. */
const NEAR = 8;
/** The share of curves that must be run along before a board is believed. */
const ENOUGH = 0.5;

const curvesOf = (items: readonly PlacedItem[]): Ring[] =>
  items.flatMap(({ part }) => [part.outline.ring, ...part.through.map((c) => c.ring)]);

/**
 * Which of several boards a program cuts, by where it cuts deepest: the board of whose outlines and through cuts
 * the greatest share have a deep cutting place beside each of their edges' ends, with few deep places away from
 * all of them. Null when no board fits even by half. Of equal boards the first. mm
 */
export function bestBoard(reading: NcReading, boards: readonly BoardChoice[]): string | null {
  const deep: { x: number; y: number }[] = [];
  let lowest = Infinity;
  let highest = -Infinity;
  for (const m of reading.moves)
    if (m.kind === 'linear' || m.kind === 'arc') {
      lowest = Math.min(lowest, m.to.z);
      highest = Math.max(highest, m.to.z);
    }
  const depth = lowest + (highest - lowest) * 0.1;
  for (const m of reading.moves)
    if ((m.kind === 'linear' || m.kind === 'arc') && Math.min(m.from.z, m.to.z) <= depth) {
      deep.push(m.to);
      if (m.kind === 'linear') deep.push({ x: (m.from.x + m.to.x) / 2, y: (m.from.y + m.to.y) / 2 });
    }
  if (deep.length === 0) return null;
  let best: { id: string; score: number } | null = null;
  for (const { board, items } of boards) {
    const curves = curvesOf(items).map((r) => ({ r, box: ringBounds(r) }));
    if (curves.length === 0) continue;
    const met = curves.filter(({ r, box }) => {
      const close = deep.filter(
        (p) =>
          p.x >= box.minX - NEAR &&
          p.x <= box.maxX + NEAR &&
          p.y >= box.minY - NEAR &&
          p.y <= box.maxY + NEAR,
      );
      const ends = ringSegments(r).map((s) => s.from);
      const reached = ends.filter((e) => close.some((p) => Math.hypot(p.x - e.x, p.y - e.y) <= NEAR));
      return reached.length * 2 >= ends.length;
    }).length;
    const stray = deep.filter(
      (p) =>
        !items.some(
          ({ part }) =>
            pointInRing(part.outline.ring, p) === 'inside' || pointRingDistance(part.outline.ring, p) <= NEAR,
        ),
    ).length;
    const share = met / curves.length;
    const score = share - stray / deep.length;
    if (share >= ENOUGH && (best === null || score > best.score + 1e-12)) best = { id: board.id, score };
  }
  return best?.id ?? null;
}
