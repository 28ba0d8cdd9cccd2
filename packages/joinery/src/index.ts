export * from './allowances.js';
export type { BuilderRelief, BuiltJoint, BuiltSide, Entry } from './builders/built-joint.js';
export * from './builders/built-mate.js';
export * from './builders/cross-lap.js';
export * from './builders/finger-run.js';
export * from './builders/housing.js';
export * from './builders/mortise.js';
export {
  type AssemblyPlan,
  assemblyOrder,
  type CaptivePart,
  type Engagement,
  type PlannedStep,
} from './dryfit/assembly-order.js';
export { checkOverlaps } from './dryfit/check-overlaps.js';
export { type DryAssembly, type DryOptions, dryAssemble, type TriedStep } from './dryfit/dry-assemble.js';
export { type DryPiece, dryPieceOf, type StandingPart } from './dryfit/dry-piece.js';
export type { DryRun } from './dryfit/dry-run.js';
export type { DirectionClearance, JointClearance, PlaceClearance } from './dryfit/judge-joint.js';
export type { PairInterference } from './dryfit/judge-piece.js';
export * from './features/confirm-thickness.js';
export * from './features/find-thickness.js';
export * from './features/learn-from-two.js';
export * from './features/read-feature-table.js';
export { type RecogniseOptions, recogniseFeatures } from './features/recognise-features.js';
export * from './features/refit-features.js';
export * from './features/refit-notes.js';
export type { Saying } from './features/stated-thickness.js';
export * from './find-joints.js';
export * from './fit-parts.js';
export * from './format-master.js';
export {
  type FindMasterOptions,
  type FoundMaster,
  findMaster,
  findMasterAgain,
} from './found/find-master.js';
export type { Hold } from './found/holds.js';
export type { MasterQuestion } from './found/questions.js';
export * from './joinery.js';
export * from './joint-gaps.js';
export * from './local-thickness.js';
export * from './lost-contacts.js';
export {
  type FindMarksOptions,
  type FoundMark,
  type FoundMarks,
  findMarks,
  type MarkQuestion,
} from './marks/find-marks.js';
export * from './mates/find-mates.js';
export * from './mates/flat-part.js';
export * from './parts-of-master.js';
export * from './read-master.js';
export * from './refit-master.js';
export type { ReliefOptions } from './relieve-part.js';
