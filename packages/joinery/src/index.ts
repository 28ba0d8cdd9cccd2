export * from './allowances.js';
export * from './find-joints.js';
export * from './format-master.js';
export * from './joinery.js';
export * from './parts-of-master.js';
export * from './read-master.js';
export * from './refit-master.js';
