export * from './format-master.js';
export * from './parts-of-master.js';
export * from './read-master.js';
export * from './refit-master.js';
