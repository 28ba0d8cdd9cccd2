export * from './drawing.js';
export * from './drawn-sheet.js';
export * from './find-parts.js';
export * from './format-dxf.js';
export * from './read-dxf.js';
export * from './sheet-of-parts.js';
