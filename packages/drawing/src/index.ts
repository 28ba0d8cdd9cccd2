export * from './drawing.js';
export * from './find-parts.js';
export * from './read-dxf.js';
