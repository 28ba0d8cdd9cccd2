export * from './commanded-toolpath.js';
export * from './format-number.js';
export * from './write-program.js';
