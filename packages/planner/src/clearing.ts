import { offsetRing, pointInRing, type Ring, ringSegments } from '@haunch/geometry';
import { type Path, reversePath } from './path.js';
import { STEP_OVER } from './practice.js';

/** A closed path of a cavity and those that must be cut before it, nearer to the middle. */
export interface ClearingNode {
  readonly path: Path;
  readonly children: readonly ClearingNode[];
}

/**
 * How many rings clear a cavity inside its contour's path, and how far apart they lie, mm. The innermost leaves
 * no more than 0.9 of the cutter's radius to the middle, and neighbours are at most `STEP_OVER` apart, so that
 * no wood stands between two passes whatever the corners.
 */
export function clearingSteps(
  width: number,
  radius: number,
): { readonly count: number; readonly step: number } {
  const left = width / 2 - 1.9 * radius;
  // A cutter that already reaches the middle needs no ring of its own there.
  if (left <= 0.05 * radius) return { count: 0, step: 0 };
  const count = Math.ceil(left / (2 * radius * STEP_OVER) - 1e-9);
  return { count, step: left / count };
}

interface Level {
  readonly ring: Ring;
  readonly node: { path: Path; children: ClearingNode[] };
}

/** The rings inside a cavity's contour as a tree under it; `clockwise` says how they are travelled. */
export function clearingTree(
  bare: Ring,
  contour: Path,
  width: number,
  radius: number,
  clockwise: boolean,
): ClearingNode {
  const root = { path: contour, children: [] as ClearingNode[] };
  const { count, step } = clearingSteps(width, radius);
  let above: Level[] = [{ ring: bare, node: root }];
  for (let k = 1; k <= count; k++) {
    const here: Level[] = [];
    for (const ring of offsetRing(bare, { by: -(radius + k * step) })) {
      const parent = above.find((l) => pointInRing(l.ring, ring.vertices[0]!) === 'inside');
      if (parent === undefined) continue;
      const path = ringSegments(ring);
      const node = { path: clockwise ? reversePath(path) : path, children: [] };
      parent.node.children.push(node);
      here.push({ ring, node });
    }
    above = here;
  }
  return root;
}
