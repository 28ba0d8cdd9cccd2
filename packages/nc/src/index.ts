export * from './read/index.js';
export * from './write/index.js';
