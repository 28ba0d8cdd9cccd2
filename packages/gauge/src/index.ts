export { cutterAsDeclared } from './cutter/as-declared.js';
export * from './cutter/cutter-history.js';
export * from './cutter/effective-diameter.js';
export { COMMON_BIAS_LIMIT, DRIFT_LIMIT, USUAL_WEAR } from './cutter/practice.js';
export * from './day-book/boards-of-book.js';
export { type BookDefect, defectsOnOffCut } from './day-book/book-defects.js';
export * from './day-book/cutter-history-of.js';
export * from './day-book/day-book-entry.js';
export * from './day-book/exchange-day-book.js';
export { inOrderOfTime, instantOf } from './day-book/instant.js';
export { overlappingOffCuts } from './day-book/overlapping-off-cuts.js';
export { type ProposedClearance, proposeDefaults } from './day-book/propose-defaults.js';
export { DAY_BOOK_VERSION, type DayBook, dayBookAppendix, readDayBook } from './day-book/read-day-book.js';
export * from './ladder/felt.js';
export * from './ladder/ladder-parts.js';
export * from './ladder/read-ladder.js';
export * from './ladder/rungs.js';
export {
  cornerStands,
  housingOff,
  ladderNoRoom,
  otherLadder,
  otherThickness,
  plugUnplaced,
  sheetMoved,
} from './ladder-diagnostics.js';
export * from './machine/calibration.js';
export * from './machine/machine-map.js';
export * from './map/check-load.js';
export * from './map/fit-thickness-map.js';
export * from './map/inherit-map.js';
export { asDeviation, type MapDoubt, mapDoubt } from './map/map-doubt.js';
export * from './map/next-readings.js';
export * from './map/off-cut.js';
export type { SheetExpectation } from './map/practice.js';
export { LOAD_LIMIT, SPREAD_WARNED, USUAL_REPEATABILITY, USUAL_SHEET } from './map/practice.js';
export * from './map/sheet-standard.js';
export * from './map/swapped-readings.js';
export * from './map/thickness-interval.js';
export * from './map/thickness-reading.js';
export * from './prediction/predict-fits.js';
export * from './prediction/predicted-fit.js';
export * from './prediction/working-ways.js';
export * from './statistics/combined-uncertainty.js';
export { normalCdf, normalQuantile } from './statistics/normal.js';
export { standardNormal } from './statistics/standard-normal.js';
export { coverageFactor, studentCdf, studentQuantile } from './statistics/student.js';
export { howeToleranceFactor, toleranceFactor } from './statistics/tolerance-factor.js';
