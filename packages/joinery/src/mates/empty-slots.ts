import { type Point, type Ring, ringSegments } from '@haunch/geometry';
import { inPlate, toWorld } from '../frame.js';
import { isSlotFor } from './bands.js';
import type { Piece } from './piece.js';
import { sectionOf } from './plate-layers.js';

/** A slot as wide as some plate is thick in which no plate stands: of which part, and its middle in the plate's plane. */
export interface EmptySlot {
  readonly plate: number;
  readonly at: Point;
}

/** The middle and the width of a slot across its longest straight wall. */
function slotOf(r: Ring): { at: Point; width: number } | null {
  let longest = 0;
  let d = { x: 1, y: 0 };
  for (const s of ringSegments(r)) {
    const l = Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y);
    if (s.kind !== 'line' || l <= longest) continue;
    longest = l;
    d = { x: (s.to.x - s.from.x) / l, y: (s.to.y - s.from.y) / l };
  }
  if (longest === 0) return null;
  const walls = ringSegments(r).filter(
    (s) => s.kind === 'line' && Math.abs((s.to.x - s.from.x) * d.y - (s.to.y - s.from.y) * d.x) < 1e-3,
  );
  const across = walls.map((s) => s.from.y * d.x - s.from.x * d.y);
  const alongs = walls.flatMap((s) => [s.from, s.to].map((p) => p.x * d.x + p.y * d.y));
  const low = Math.min(...across);
  const high = Math.max(...across);
  const a = (Math.min(...alongs) + Math.max(...alongs)) / 2;
  const m = (low + high) / 2;
  return { at: { x: a * d.x - m * d.y, y: a * d.y + m * d.x }, width: high - low };
}

/** The through slots of a piece that no plate fills, though one of its plates is as thick as they are wide. */
export function emptySlots(piece: Piece): EmptySlot[] {
  const all = [...piece.standing].sort((a, b) => a[0] - b[0]);
  const thicknesses = all.map(([, s]) => s.plate.part.thickness);
  const out: EmptySlot[] = [];
  for (const [plate, s] of all)
    for (const r of s.plate.part.through) {
      const slot = slotOf(r);
      if (slot === null) continue;
      const { at, width } = slot;
      if (!thicknesses.some((t) => isSlotFor(width, t))) continue;
      const x = toWorld(s.frame, at, s.plate.part.thickness / 2);
      const filled = all.some(([, o]) => {
        if (o === s) return false;
        const p = inPlate(o.frame, x);
        if (p.w < 0 || p.w > o.plate.part.thickness) return false;
        const cut = sectionOf(o.plate.layers[0]!, { x: 1, y: 0 }, { x: 0, y: 1 }, p.y);
        return cut.some(([from, to]) => from < p.x && p.x < to);
      });
      if (!filled) out.push({ plate, at });
    }
  return out;
}
