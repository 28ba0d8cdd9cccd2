export { type Published, published } from './best-known.js';
export { type LowerBound, lengthTallerThan, lowerBound } from './bounds.js';
export { type Chart, type ChartLine, drawChart } from './chart.js';
export { commonArea } from './common-area.js';
export {
  budgetText,
  type CaseSummary,
  type Comparison,
  compareTrials,
  type Duel,
  meanCurve,
  timeToTarget,
  withPublished,
} from './compare.js';
export {
  type CurvePoint,
  figureAt,
  performanceProfiles,
  type Step,
  secondsTo,
  shareSteps,
} from './curve.js';
export { type DissectOptions, dissect } from './generate/dissect.js';
export {
  boardJigsaw,
  type GeneratedProblem,
  type JigsawOptions,
  jigsaw,
  nestedJigsaw,
  spacedJigsaw,
} from './generate/jigsaw.js';
export { type LatticeOptions, lattice } from './generate/lattice.js';
export type { Whole, WholePolygon } from './generate/whole-polygon.js';
export {
  GOAL_REFERENCES,
  GOAL_SOURCE,
  type GoalReached,
  type GoalReference,
  goalTable,
  LAYOUT_GOALS,
  type LayoutGoal,
  reachedGoals,
} from './goals.js';
export { drawLayout } from './layout-picture.js';
export {
  boardProblem,
  type KnownBest,
  type LayoutProblem,
  type ProblemBoard,
  type ProblemFacts,
  type ProblemItem,
  stripProblem,
} from './problem.js';
export { readProblemXml } from './read-problem-xml.js';
export { readProblems, SAMPLED_TURNS } from './read-problems.js';
export { type ReportedTrial, type ReportFacts, reportPage } from './report.js';
export { holm, type SignedRank, signedRank } from './signed-rank.js';
export { quantile, type Spread, spreadOf } from './spread.js';
export { caseTable, duelTable, figureText, sourceLines } from './tables.js';
export {
  type Contender,
  figureOf,
  measureLayout,
  runTrial,
  type TrialBudget,
  type TrialDone,
  type TrialResult,
  type TrialSetting,
  trialSteps,
} from './trial.js';
