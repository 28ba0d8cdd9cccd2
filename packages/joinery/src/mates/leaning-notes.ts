import type { Diagnostic } from '@haunch/model';
import { cross, dot, type Frame, length } from '../frame.js';
import { leaningSlot, leansAt } from './diagnostics.js';
import { fitBands } from './fit-bands.js';
import { angleOfSlot, type SlotRow, slotRowsOf, tenonRowsOf, widestFor } from './lean.js';
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

/** Slots of one plate in which tenons of the other would fit if it leaned. */
function rowsFor(p: Plate, q: Plate): SlotRow[] {
  const [t1, t2] = [p.part.thickness, q.part.thickness];
  const rows = slotRowsOf(p, t2 + LEAST_WIDER, widestFor(t1, t2));
  if (rows.length === 0) return [];
  const tenons = tenonRowsOf(q, t1 / 2);
  return rows.filter((row) =>
    tenons.some((t) => fitBands(row.material, t.material, 2 * t.material.length).length > 0),
  );
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
      const row = rows[0]!;
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
      const angle = angleOfSlot(row.width, p.plate.part.thickness, q.plate.part.thickness);
      const served = all.some(
        (o) => o !== q && joined(p.id, o.id) && rowsFor(p.plate, o.plate).some((r) => sameRow(r, row)),
      );
      if (angle !== null && !served) out.push(leaningSlot(p.id, q.id, angle * DEGREES, wider));
    }
  return out;
}
