export type { KitCase, KitReport, KitRule, KitVerdict } from './kit.js';
export { checkPost, POST_RULES, postCases } from './post/check-post.js';
export type { PostTrial, TriedPost } from './post/post-trial.js';
export type { SampleToolpath } from './post/sample-toolpaths.js';
export { checkStrategy, strategyCases } from './strategy/check-strategy.js';
export type { SampleInstance } from './strategy/sample-instances.js';
export { STRATEGY_RULES } from './strategy/strategy-rules.js';
export type { StrategyTrial, TriedStrategy } from './strategy/strategy-trial.js';
