/**
 * What is expected of a sheet before it is measured. All mm; common practice, no source, except where said:
 * good birch plywood varies 0.1 to 0.25 inside a sheet, imported veneer-core 0.3 to 0.6, fibreboard 0.05 to 0.2.
 */
export interface SheetExpectation {
  /** Standard deviation of the change from the middle to the edge, along each direction. */
  readonly slope: number;
  /** Standard deviation of the bow from the middle to the edge, along each direction and across. */
  readonly bow: number;
  /** The usual standard deviation from spot to spot about a smooth surface. */
  readonly local: number;
  /** How surely that is known: one standard deviation of its natural logarithm. */
  readonly localDoubt: number;
}

/** Expectation for sheets of unknown make. */
export const USUAL_SHEET: SheetExpectation = { slope: 0.1, bow: 0.05, local: 0.025, localDoubt: 0.5 };

/** The instrument when nothing is said: a workshop calliper, standard deviation of a repeated reading. mm. */
export const USUAL_REPEATABILITY = 0.015;

/** More than this between a board's readings is warned of. mm; common practice, no source. */
export const SPREAD_WARNED = 0.25;

/** A reading so far from what the others lead to expect has less than this chance, all readings together. */
export const OUTLIER_CHANCE = 0.005;

/** More readings than this of one board say nothing more of a low-order surface, and take long to weigh. */
export const MOST_READINGS = 500;

/** A reading at the machine further than this from the map stops the work. mm; common practice, no source. */
export const LOAD_LIMIT = 0.1;
