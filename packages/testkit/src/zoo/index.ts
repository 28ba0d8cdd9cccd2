export { BROKEN_POSTS, type BrokenPost, soundPost } from './broken-posts.js';
