import type { Axis } from '@haunch/model';
import type { Vec } from './frame.js';

/** The six directions along the axes of the world, by name. */
export const AXIS_NAMES: readonly (readonly [Axis & string, Vec])[] = [
  ['+X', [1, 0, 0]],
  ['-X', [-1, 0, 0]],
  ['+Y', [0, 1, 0]],
  ['-Y', [0, -1, 0]],
  ['+Z', [0, 0, 1]],
  ['-Z', [0, 0, -1]],
];
