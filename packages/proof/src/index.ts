export { type AsCutBoard, type AsCutItem, type AsCutLevel, linesCutting } from './as-cut-board.js';
export { type BoardChoice, bestBoard } from './best-board.js';
export { judgeJoints } from './joints/judge-joints.js';
export type { PlacedItem, Proved, ProveInput } from './prove-input.js';
export { proveProgram } from './prove-program.js';
export type { Level } from './sweep/level.js';
export type { Stretch } from './sweep/stretch.js';
export { type TimedStretch, type TimelineInput, timeline } from './timeline.js';
