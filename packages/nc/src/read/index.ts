export * from './move-length.js';
export * from './nc-reading.js';
export * from './read-program.js';
