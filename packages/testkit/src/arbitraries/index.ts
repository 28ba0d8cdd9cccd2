export { type LayoutPuzzleLimits, layoutPuzzles } from './layout-puzzles.js';
