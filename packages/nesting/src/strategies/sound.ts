import { ringProblems } from '@haunch/geometry';
import type { NestingItem } from '@haunch/model';

/** Whether an item has an outline, and holes, that say what is inside: others are left unplaced, so that the rest can be laid. */
export const isSound = ({ outline, holes = [] }: NestingItem): boolean =>
  [outline, ...holes].every((r) => ringProblems(r).length === 0);
