export type { SheetMaterial } from '@haunch/model';
export { type AirProblem, airProblem } from './air-problem.js';
export { type DepthPasses, depthPasses } from './depth-passes.js';
export * from './feeds/cut-directions.js';
export * from './feeds/feed-tables.js';
export * from './forces/cutting-force.js';
export * from './forces/hold-down.js';
export { cornerSpeed, type Travel, travelSeconds } from './motion-time.js';
export { planBoard } from './plan-board.js';
export type { CutDirection, PlacedPart, Plan, PlanInput } from './plan-input.js';
export { type Speeds, speedsOf } from './speeds.js';
export { splitToolpath, stepsOfChanges, withoutChanges } from './split/split-toolpath.js';
export { type PlannedPause, withPauses } from './split/with-pauses.js';
export { GLYPHS, type StrokedText, strokedText } from './tickets/glyphs.js';
export { placeTickets } from './tickets/place-tickets.js';
export { type Engraving, type Ticket, ticketPockets } from './tickets/ticket.js';
export { choicePathBound } from './tour/path-bound.js';
export { type SequencedTour, sequenceTour, sequenceWithChoice, type TourRun } from './tour/sequence-tour.js';
export {
  type ChoiceProblem,
  choicePathCost,
  isChoicePath,
  isPath,
  pathCost,
  precedenceClosure,
  type SequencingProblem,
} from './tour/sequencing-problem.js';
