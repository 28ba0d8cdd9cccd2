import type { Point } from '@haunch/geometry';

/** One reading of a sheet's thickness as it was taken. mm. */
export interface ThicknessReading {
  readonly thickness: number;
  /** Where, in the board's coordinates; left out where it was not noted. */
  readonly at?: Point;
  /** Standard deviation of a repeated reading with this instrument. */
  readonly repeatability?: number;
}

/** With what, and in which air, a sheet was measured: kept with its map, for the person and the day book. */
export interface MeasuringNote {
  readonly instrument?: string;
  /** Standard deviation of a repeated reading, mm. */
  readonly repeatability?: number;
  /** °C. */
  readonly temperature?: number;
  /** Relative humidity, per cent. */
  readonly humidity?: number;
}
