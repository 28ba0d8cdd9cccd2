export type { KitCase, KitReport, KitRule, KitVerdict } from './kit.js';
export { checkPost, POST_RULES, postCases } from './post/check-post.js';
