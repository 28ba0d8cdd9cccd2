export { offsetsStepByStep } from './assembly-picture/apart.js';
export {
  type AssemblyPictureOptions,
  assemblyPairSvg,
  assemblySvg,
} from './assembly-picture/assembly-svg.js';
export { type Arris, type Solid, type SolidFace, solidsOfMaster } from './assembly-picture/plate-solid.js';
export type { Standpoint } from './assembly-picture/view.js';
export * from './board-for-job.js';
export { checkedAt } from './board-outline.js';
export { copiesOf } from './boards-of-job.js';
export { CAUTIONS } from './cautions.js';
export * from './cutter-runs.js';
export * from './describe-file.js';
export { jointNotWanted, notProved } from './diagnostics.js';
export { type BoardDrawings, type Drawings, type DrawnReplay, drawingsOf } from './drawings.js';
export { sayingsOf } from './drawn-thickness.js';
export { type FeltJob, feelLadder } from './feel-ladder.js';
export * from './find-master-file.js';
export * from './fit-table.js';
export * from './fit-table-schema.js';
export { type FittedParts, fittedParts } from './fitted-parts.js';
export { forecastJob } from './forecast.js';
export * from './improve-layout.js';
export type { LayoutStep } from './improve-stocks.js';
export * from './job.js';
export {
  type AllowanceBasis,
  allowancesOf,
  type JointAim,
  jointAims,
  type MaterialOf,
} from './job-allowances.js';
export * from './job-calibration-schema.js';
export * from './job-ladder-schema.js';
export * from './job-paper-schema.js';
export * from './job-schema.js';
export type { FeltLadder, JobLadder, WithoutLadder } from './ladder-of-job.js';
export {
  type LaidBoard,
  type LaidJob,
  type LayoutQuestion,
  type LayWatch,
  layJob,
  layoutQuestion,
  type PlacedItem,
} from './lay-job.js';
export * from './length-schema.js';
export { loadPieces, type Pieces } from './load-pieces.js';
export { type MachineEffect, machineEffects } from './machine-effects.js';
export * from './make.js';
export * from './make-ladder.js';
export { mapPicture } from './map-picture.js';
export * from './merge-pieces.js';
export { type OffCutLeft, offCutsLeft } from './off-cuts-left.js';
export { OFF_CUTS_PATH, type Outputs, outputsOf, UNPROVED_LINE } from './outputs.js';
export { motionOfPlacement, placementOfMotion } from './placed-by-hand.js';
export * from './posts.js';
export { programFile } from './program-file.js';
export { fileOf } from './programs/prove-programs.js';
export { type ProvenTexts, proveSeveralAgainstJob, type SeveralPrograms } from './programs/prove-several.js';
export type { Prover } from './programs/prover.js';
export {
  listReEntries,
  type ReEntry,
  type Resumed,
  type ResumeRequest,
  resumeBoard,
} from './programs/resume.js';
export { type MadeProgram, writePrograms } from './programs/write-programs.js';
export { type ProgramText, proveAgainstJob } from './prove-against.js';
export { proveAgainstDrawing, proveAgainstMaster } from './prove-alone.js';
export * from './prove-facts.js';
export * from './prove-on-board.js';
export { placesRead, placesThatMatter, readingsToTake } from './readings-to-take.js';
export * from './refit-by-two.js';
export * from './refit-drawing.js';
export * from './refit-file.js';
export type { KeptBoards } from './remake/candidates.js';
export type { RemadeFit } from './remake/recorded-fit.js';
export * from './remake/remake-part.js';
export { type ReplayData, type ReplayInput, replayHtml } from './replay/replay-html.js';
export type { ReplayMove } from './replay/replay-moves.js';
export { replaySeveralHtml, type SeveralReplayInput } from './replay/replay-several.js';
export * from './report.js';
export { type ReportPictures, reportHtml } from './report-html.js';
export * from './report-schema.js';
export type { SourceReader } from './source-reader.js';
