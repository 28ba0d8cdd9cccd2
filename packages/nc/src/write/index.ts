export * from './commanded-toolpath.js';
export * from './define-dialect.js';
export * from './format-number.js';
export * from './post-choices.js';
export * from './post-fault.js';
export * from './write-program.js';
