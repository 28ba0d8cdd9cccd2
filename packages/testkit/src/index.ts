export type { KitCase, KitReport, KitRule, KitVerdict } from './kit.js';
export { judgedOf } from './mutation/judged-of.js';
export {
  MUTATION_KINDS,
  type Mutation,
  type MutationKind,
  mutateProgram,
} from './mutation/mutate-program.js';
export {
  type Judged,
  type MutationTally,
  type MutationTrial,
  type Survivor,
  tryMutations,
} from './mutation/mutation-trial.js';
export { type PlainMotion, type PlainProgram, plainMotion } from './mutation/plain-motion.js';
export {
  meaningOfStyle,
  type RewriteStyle,
  rewriteProgram,
  someStyle,
} from './mutation/rewrite-program.js';
export { type Testimony, type WitnessInput, wallWitness } from './mutation/wall-witness.js';
export { checkPost, POST_RULES, postCases } from './post/check-post.js';
export type { PostTrial, TriedPost } from './post/post-trial.js';
export type { SampleToolpath } from './post/sample-toolpaths.js';
export { checkStrategy, strategyCases } from './strategy/check-strategy.js';
export type { SampleInstance } from './strategy/sample-instances.js';
export { STRATEGY_RULES } from './strategy/strategy-rules.js';
export type { StrategyTrial, TriedStrategy } from './strategy/strategy-trial.js';
