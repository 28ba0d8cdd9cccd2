export { BROKEN_POSTS, type BrokenPost, soundPost } from './broken-posts.js';
export { BROKEN_STRATEGIES, type BrokenStrategy, soundStrategy } from './broken-strategies.js';
