import { type Point, type Ring, ringSegments } from '@haunch/geometry';
import { inPlate, toWorld, type Vec } from '../frame.js';
import { isSlotFor } from './bands.js';
import type { Piece } from './piece.js';
import { type Plate, sectionOf } from './plate-layers.js';
import type { Standing } from './standing-plate.js';

/** A slot or groove as wide as some plate is thick in which no plate stands: of which part, and its middle in the plate's plane. */
export interface EmptySlot {
  readonly plate: number;
  readonly at: Point;
}

/** The middle of a slot, its length as a vector, and its width across its longest straight wall. */
function slotOf(r: Ring): { at: Point; along: Point; width: number } | null {
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
  const [first, last] = [Math.min(...alongs), Math.max(...alongs)];
  const a = (first + last) / 2;
  const m = (low + high) / 2;
  return {
    at: { x: a * d.x - m * d.y, y: a * d.y + m * d.x },
    along: { x: (last - first) * d.x, y: (last - first) * d.y },
    width: high - low,
  };
}

/** Where along a slot it is looked whether a plate stands in it: two may share one, with a seam between them. */
const LOOKED = [0.22, 0.5, 0.81];

/** The slots and grooves of a piece that no plate fills, though one of all plates that there are is as thick as they are wide. */
export function emptySlots(piece: Piece, plates: readonly Plate[]): EmptySlot[] {
  const all = [...piece.standing].sort((a, b) => a[0] - b[0]);
  const thicknesses = new Set(plates.map((p) => p.part.thickness));
  const out: EmptySlot[] = [];
  for (const [plate, s] of all)
    for (const { at, along, height } of slotsOf(s.plate, thicknesses)) {
      const filled = LOOKED.some((k) => {
        const x = toWorld(s.frame, { x: at.x + (k - 0.5) * along.x, y: at.y + (k - 0.5) * along.y }, height);
        return all.some(([, o]) => o !== s && holds(o, x));
      });
      if (!filled) out.push({ plate, at });
    }
  return out;
}

/** True where a place lies in the material of a standing plate. */
function holds({ frame, plate, low, high }: Standing, x: Vec): boolean {
  if (x.some((c, k) => c < low[k]! || c > high[k]!)) return false;
  const p = inPlate(frame, x);
  const layer = plate.layers.find((l) => l.low <= p.w && p.w <= l.high);
  if (layer === undefined) return false;
  const cut = sectionOf(layer, { x: 1, y: 0 }, { x: 0, y: 1 }, p.y);
  return cut.some(([from, to]) => from < p.x && p.x < to);
}

interface Slot {
  /** Its middle, in the plate's plane. */
  readonly at: Point;
  /** From end to end. */
  readonly along: Point;
  /** Half-way up its walls, above the plate's face n−. */
  readonly height: number;
}

const known = new WeakMap<Plate, Map<string, readonly Slot[]>>();

/** The slots and grooves of a plate that are drawn for one of these thicknesses. */
function slotsOf(plate: Plate, thicknesses: ReadonlySet<number>): readonly Slot[] {
  const key = [...thicknesses].join(' ');
  let mine = known.get(plate);
  if (mine === undefined) {
    mine = new Map();
    known.set(plate, mine);
  }
  let found = mine.get(key);
  if (found === undefined) {
    const { thickness, through, pockets } = plate.part;
    found = [
      ...through.map((ring) => ({ ring, height: thickness / 2 })),
      ...pockets.map(({ ring, depth, face }) => ({
        ring,
        height: face === 'n-' ? depth / 2 : thickness - depth / 2,
      })),
    ].flatMap(({ ring, height }): Slot[] => {
      const slot = slotOf(ring);
      return slot !== null && [...thicknesses].some((t) => isSlotFor(slot.width, t))
        ? [{ at: slot.at, along: slot.along, height }]
        : [];
    });
    mine.set(key, found);
  }
  return found;
}

/** How much a slot that stays empty speaks against a piece: as much as a tenon in it would speak for one, at least. */
const EMPTY = 2;

const counted = new WeakMap<Piece, number>();

/** What speaks for a piece as it was grown, less what its empty slots speak against it. */
export function scoreWithSlots(piece: Piece, plates: readonly Plate[]): number {
  let empty = counted.get(piece);
  if (empty === undefined) {
    empty = emptySlots(piece, plates).length;
    counted.set(piece, empty);
  }
  return piece.score - EMPTY * empty;
}
