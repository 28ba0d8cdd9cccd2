import type { Diagnostic } from '@haunch/model';
import { cross, dot, type Frame, length } from '../frame.js';
import { leaningSlot, leansAt } from './diagnostics.js';
import { fitBands } from './fit-bands.js';
import {
  angleOfSlot,
  clearanceAtEnds,
  type SlotRow,
  slotRowsOf,
  type TenonRow,
  tenonRowsOf,
  widestFor,
} from './lean.js';
import type { Plate } from './plate-layers.js';

/** A plate that stands, by its part's id. */
export interface NotedPlate {
  readonly id: string;
  readonly plate: Plate;
  /** Null where it stands nowhere. */
  readonly frame: Frame | null;
}

/** How much wider than a sheet a slot must be to be one for a plate that leans. mm */
const LEAST_WIDER = 0.8;
const DEGREES = 180 / Math.PI;

/** Slots for a plate that leans, and how much of their width is clearance by what stands open at their ends. mm */
export interface LeaningRow {
  readonly slots: SlotRow;
  readonly clearance: number;
  /** The tenons that fit them. */
  readonly tenons: TenonRow;
}

/** Slots for plates of a thickness that lean, of a plate. mm */
export const leaningSlotsOf = (p: Plate, passing: number): SlotRow[] =>
  slotRowsOf(p, passing + LEAST_WIDER, widestFor(p.part.thickness, passing));

/** Slots in which tenons would fit if their plate leaned, with the first that do. */
export const rowsWith = (rows: readonly SlotRow[], tenons: readonly TenonRow[]): LeaningRow[] =>
  rows.flatMap((slots): LeaningRow[] => {
    for (const t of tenons) {
      const [fit] = fitBands(slots.material, t.material, 2 * t.material.length);
      if (fit) return [{ slots, clearance: clearanceAtEnds(slots, t, fit), tenons: t }];
    }
    return [];
  });

/** Slots of one plate in which tenons of the other would fit if it leaned. */
function rowsFor(p: Plate, q: Plate): LeaningRow[] {
  const rows = leaningSlotsOf(p, q.part.thickness);
  return rows.length === 0 ? [] : rowsWith(rows, tenonRowsOf(q, p.part.thickness / 2));
}

const sameRow = (a: SlotRow, b: SlotRow): boolean =>
  Math.abs(a.middle - b.middle) < 1e-6 &&
  Math.abs(a.width - b.width) < 1e-6 &&
  Math.abs(a.d.x - b.d.x) < 1e-6;

/**
 * What is to be said of plates that lean: of each that was found the angle that its slot tells or somebody has said, and of
 * each slot in which nothing was found the angle that a plate with such tenons would need.
 */
export function leaningNotes(
  all: readonly NotedPlate[],
  joined: (a: string, b: string) => boolean,
): Diagnostic[] {
  const out: Diagnostic[] = [];
  for (const p of all)
    for (const q of all) {
      if (p === q) continue;
      const rows = rowsFor(p.plate, q.plate);
      if (rows.length === 0) continue;
      const { slots: row, clearance } = rows[0]!;
      const wider = row.width - q.plate.part.thickness;
      if (joined(p.id, q.id)) {
        const [a, b] = [p.frame!.n, q.frame!.n];
        const sine = length(cross(a, b));
        if (sine < 1 - 1e-6)
          out.push(
            leansAt(
              q.id,
              p.id,
              Math.atan2(sine, Math.abs(dot(a, b))) * DEGREES,
              wider,
              q.plate.part.lean !== undefined,
            ),
          );
        continue;
      }
      const angle = angleOfSlot(row.width - clearance, p.plate.part.thickness, q.plate.part.thickness);
      const served = all.some(
        (o) => o !== q && joined(p.id, o.id) && rowsFor(p.plate, o.plate).some((r) => sameRow(r.slots, row)),
      );
      if (angle !== null && !served) out.push(leaningSlot(p.id, q.id, angle * DEGREES, wider));
    }
  return out;
}
