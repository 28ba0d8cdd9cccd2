import type { Feature, Part } from '@haunch/model';
import { END_SLACK } from '../mates/fit-bands.js';
import { flatPartOf } from '../mates/flat-part.js';
import { angleOfSlot, type SlotRow, type TenonRow, tenonRowsOf, tenonThrough } from '../mates/lean.js';
import { leaningSlotsOf, rowsWith } from '../mates/leaning-notes.js';
import { type Plate, plateOf } from '../mates/plate-layers.js';

/** Slots of a part that a plate which leans would need as wide as they are. */
export interface LeaningSuspect {
  readonly part: string;
  /** The part whose tenons fit the slots' lengths. */
  readonly entering: string;
  /** mm */
  readonly width: number;
  /** Between the two plates, degrees. */
  readonly degrees: number;
}

/** A single opening may be a handle or a way for a cable that is as long as a tenon by chance; two that fit two tenons are none. */
const isRow = ({ material }: SlotRow): boolean => material.length > 2;

/** How long the slots of rows are, mm. */
const lengthsOf = (rows: readonly SlotRow[]): number[] =>
  rows.flatMap(({ material }) => material.slice(1).map((m, k) => m[0] - material[k]![1]));

/** Whether a part has two edges about as long as slots, as tenons' ends are, which is soon seen. */
function mayEnter({ outline }: Part, lengths: readonly number[]): boolean {
  const { vertices } = outline.bare;
  let ends = 0;
  for (let k = 0; k < vertices.length && ends < 2; k++) {
    const [v, w] = [vertices[k]!, vertices[(k + 1) % vertices.length]!];
    const length = Math.hypot(w.x - v.x, w.y - v.y);
    if (lengths.some((l) => Math.abs(l - length) <= 2 * END_SLACK)) ends++;
  }
  return ends === 2;
}

/**
 * Closed slots that no feature carries, wider than the sheet by what a plate that leans through them needs, two or more in a row and as long as tenons of another
 * part: they follow thickness too, but by an angle that no table of widths holds. Parts without a thickness have the one given. mm
 */
export function leaningSuspects(
  parts: readonly Part[],
  thickness: number,
  features: readonly Feature[],
): LeaningSuspect[] {
  const carried = new Set(features.flatMap((f) => (f.follows ? [f.contour] : [])));
  const free = (p: Part): Part['through'] => p.through.filter((c) => !carried.has(c.id));
  const slotted = parts.filter((p) => p.pockets.length === 0 && free(p).length > 1);
  if (slotted.length === 0) return [];
  const plate = (p: Part, through: Part['through']): Plate =>
    plateOf(flatPartOf({ ...p, through, thickness: p.thickness ?? thickness }), 0);
  const known = new Map<Part, { readonly thickness: number; readonly tenons: readonly TenonRow[] }>();
  const tenonsOf = (q: Part) => {
    let mine = known.get(q);
    if (!mine) {
      const own = plate(q, []);
      const rows = tenonRowsOf(own, thickness).filter((t) => t.material.length > 1);
      mine = { thickness: own.part.thickness, tenons: rows };
      known.set(q, mine);
    }
    return mine;
  };
  const fitting = (p: Part, own: Plate, slots: readonly SlotRow[]): Omit<LeaningSuspect, 'part'> | null => {
    const t = own.part.thickness;
    const lengths = lengthsOf(slots);
    for (const q of parts) {
      if (q === p || !mayEnter(q, lengths)) continue;
      const { thickness: passing, tenons } = tenonsOf(q);
      for (const row of rowsWith(slots, tenons)) {
        const angle = angleOfSlot(row.slots.width - row.clearance, t, passing);
        if (angle !== null && row.tenons.length >= tenonThrough(t, angle))
          return { entering: q.id, width: row.slots.width, degrees: (angle * 180) / Math.PI };
      }
    }
    return null;
  };
  // Copies of a part have the same slots, and need not be looked at again.
  const seen = new Map<string, Omit<LeaningSuspect, 'part'> | null>();
  return slotted.flatMap((p) => {
    const own = plate(p, free(p));
    const slots = leaningSlotsOf(own, thickness).filter(isRow);
    if (slots.length === 0) return [];
    const key = [own.part.thickness, ...slots.map((s) => s.width), ...lengthsOf(slots)]
      .map((v) => v.toFixed(2))
      .join(' ');
    const found = seen.has(key) ? seen.get(key)! : fitting(p, own, slots);
    seen.set(key, found);
    return found === null ? [] : [{ part: p.id, ...found }];
  });
}
