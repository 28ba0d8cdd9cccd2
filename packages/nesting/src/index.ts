export {
  checkLayout,
  DISTANCE_TOLERANCE,
  type RefereeReport,
  TURN_TOLERANCE,
  type Violation,
  type ViolationKind,
} from './check-layout.js';
export { bestResult, type Explorers, explorerSeed, heardBy, runExplorers } from './explorers.js';
export { instanceProblems } from './instance-problems.js';
export { evenMeetings, type Meetings, type Met } from './meetings.js';
export { missingOf } from './missing-of.js';
export {
  type AlikePair,
  alikeTerm,
  measureTerms,
  type ObjectiveTerm,
  type TermFigure,
} from './objective-term.js';
export { type Rearranged, rearrange } from './rearrange.js';
export { type NestingResult, nestingSteps, runNesting } from './run-nesting.js';
export { compareScores, largestEmptyRectangle, type Score, scoreLayout } from './score-layout.js';
export { seededRandom } from './seeded-random.js';
export { type BottomLeftFillOptions, constructive } from './strategies/bottom-left-fill.js';
export { evaluations } from './strategies/overlap/field.js';
export { type OverlapOptions, overlapMinimising } from './strategies/overlap-minimising.js';
export { seededRun, ticks } from './ticks.js';
