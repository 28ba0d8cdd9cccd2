import type { SheetMaterial } from '@haunch/model';
import { SPECIFIC_ENERGY } from '../forces/cutting-force.js';

/** How well a figure is founded. */
export type Standing = 'published' | 'from memory' | 'common practice';

/** Chip loads of a router of this diameter, mm a tooth: least and most, by material. */
export interface ChipLoadRow {
  readonly diameter: number;
  readonly bands: Readonly<Record<SheetMaterial, readonly [number, number]>>;
}

/** The tables that speeds are judged by; copy and change what your own experience says. */
export interface FeedTables {
  /** Rows by rising diameter; between them straight, beyond them the outermost. */
  readonly chipLoads: readonly ChipLoadRow[];
  readonly chipLoadsFrom: { readonly standing: Standing; readonly source: string };
  /** Share of the table's least chip load that a light machine may go down to. */
  readonly lightest: number;
  /** Specific cutting energy, N/mm²: low, usual, high. */
  readonly energy: Readonly<Record<SheetMaterial, readonly [number, number, number]>>;
  readonly energyFrom: { readonly standing: Standing; readonly source: string };
  /** What a cutter may bend at its tip, mm. */
  readonly deflection: number;
  /** Share of a cutter's diameter that its flutes leave as a core. */
  readonly core: number;
}

const INCH = 25.4;

const row = (
  diameter: number,
  hardwood: readonly [number, number],
  softwood: readonly [number, number],
  board: readonly [number, number],
): ChipLoadRow => {
  const mm = ([a, b]: readonly [number, number]): readonly [number, number] => [a * INCH, b * INCH];
  return {
    diameter: diameter * INCH,
    bands: {
      'birch plywood': mm(hardwood),
      'softwood plywood': mm(softwood),
      fibreboard: mm(board),
      particleboard: mm(board),
    },
  };
};

/**
 * What is used where the job says nothing else. Chip loads of hardwood stand for birch plywood. All chip loads, the share for light
 * machines, the bend and the core: common practice, no source.
 */
export const FEED_TABLES: FeedTables = {
  chipLoads: [
    row(0.125, [0.003, 0.005], [0.004, 0.006], [0.004, 0.007]),
    row(0.25, [0.009, 0.011], [0.011, 0.013], [0.013, 0.016]),
    row(0.375, [0.015, 0.018], [0.017, 0.02], [0.02, 0.023]),
    row(0.5, [0.019, 0.021], [0.021, 0.023], [0.025, 0.027]),
  ],
  chipLoadsFrom: {
    standing: 'common practice',
    source: 'charts for stiff machines, in inches a tooth; light machines run at a third to a half of them',
  },
  lightest: 1 / 3,
  energy: SPECIFIC_ENERGY,
  energyFrom: {
    standing: 'from memory',
    source:
      'particleboard 32.0 to 37.6: B. Pałubicki, Materials 14, 2021, 2208 (published); the others from memory',
  },
  deflection: 0.05,
  core: 0.8,
};

/** The band of chip loads at a diameter, mm a tooth. */
export function chipLoadBand(
  tables: FeedTables,
  material: SheetMaterial,
  diameter: number,
): readonly [number, number] {
  const rows = tables.chipLoads;
  if (rows.length === 0) throw new RangeError('chipLoadBand: the table has no rows');
  const k = rows.findIndex((r) => r.diameter >= diameter);
  const [below, above] = k < 0 ? [rows.at(-1)!, rows.at(-1)!] : [rows[Math.max(0, k - 1)]!, rows[k]!];
  const span = above.diameter - below.diameter;
  const t = span > 0 ? Math.min(1, Math.max(0, (diameter - below.diameter) / span)) : 0;
  const [a, b] = [below.bands[material], above.bands[material]];
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}
