import { along, cross, type Frame, type Vec } from '../frame.js';
import { fitBands } from './fit-bands.js';
import {
  clearanceAtEnds,
  LOOSE,
  leanIn,
  type SlotRow,
  slotRowsOf,
  slotWidthFor,
  type TenonRow,
  tenonRowsOf,
  tenonThrough,
  widestFor,
} from './lean.js';
import type { Plate } from './plate-layers.js';

/** A way in which a leaning plate may pass through another: its frame in the other's, and how many ends meet. */
export interface LeaningPose {
  readonly frame: Frame;
  readonly ends: number;
  readonly angle: number;
}

/** How much narrower than the angle that is said would need a slot may be. mm */
const TIGHT = 0.15;

/**
 * The frame of a plate that leans: its mid-plane meets the slotted plate's in the middle of the slot, and its shoulders
 * bear with their lower arris on the face that it enters.
 */
function frameOfLean(
  row: SlotRow,
  slotted: number,
  tenons: TenonRow,
  passing: number,
  angle: number,
  { turned, shift }: { readonly turned: boolean; readonly shift: number },
  side: 1 | -1,
  to: 1 | -1,
): Frame {
  const [s, c] = [Math.sin(angle), Math.cos(angle)];
  const way = turned ? -1 : 1;
  const d: Vec = [way * row.d.x, way * row.d.y, 0];
  const up: Vec = [to * c * row.m.x, to * c * row.m.y, side * s];
  const m: Vec = [tenons.body * up[0], tenons.body * up[1], tenons.body * up[2]];
  const n = cross(d, m);
  const on: Vec = [
    row.middle * row.m.x + shift * row.d.x,
    row.middle * row.m.y + shift * row.d.y,
    slotted / 2,
  ];
  const shoulder = along(on, (slotted + passing * c) / (2 * s), up);
  return {
    origin: along(along(shoulder, -tenons.shoulder, m), -passing / 2, n),
    u: along(along([0, 0, 0], tenons.d.x, d), tenons.m.x, m),
    v: along(along([0, 0, 0], tenons.d.y, d), tenons.m.y, m),
    n,
  };
}

/** Every way in which `q` may lean through closed slots of `p` that are wider than it is thick by what its angle needs. */
export function leaningPosesOf(p: Plate, q: Plate): LeaningPose[] {
  const [t1, t2] = [p.part.thickness, q.part.thickness];
  const rows = slotRowsOf(p, t2, widestFor(t1, t2));
  const out: LeaningPose[] = [];
  if (rows.length === 0) return out;
  const tenons = tenonRowsOf(q, t1);
  for (const row of rows) {
    if (leanIn(row, p, q, 0) === null) continue;
    const said = saidOf(row, p, q);
    for (const t of tenons) {
      for (const fit of fitBands(row.material, t.material, 2 * t.material.length)) {
        const angle = said ?? leanIn(row, p, q, clearanceAtEnds(row, t, fit));
        if (angle === null || t.length < tenonThrough(t1, angle)) continue;
        for (const side of [1, -1] as const)
          for (const to of [1, -1] as const)
            out.push({ frame: frameOfLean(row, t1, t, t2, angle, fit, side, to), ends: fit.ends, angle });
      }
    }
  }
  return out;
}

/** The angle that is said of the passing plate, where the slot has the width for it; else nothing. */
function saidOf(row: SlotRow, slotted: Plate, passing: Plate): number | null {
  const said = passing.part.lean;
  if (said === undefined) return null;
  const wider = row.width - slotWidthFor(slotted.part.thickness, passing.part.thickness, said);
  return wider >= -TIGHT && wider <= LOOSE / Math.sin(said) ? said : null;
}
