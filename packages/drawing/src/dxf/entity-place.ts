import type { EntityPlace } from '../drawing.js';
import { layOf } from './ocs.js';
import type { Tags } from './tags.js';

/** Two heights further apart than this many drawing units do not lie in one plane. */
export const FLAT = 0.01;

/** Layer, handle, line, elevation and depth of an entity whose z is given in its own coordinate system. */
export function placeOf(t: Tags, z: number, mirrored: boolean): EntityPlace {
  const depth = t.numberOr(39, 0);
  return {
    layer: t.layer,
    handle: t.handle,
    line: t.line,
    elevation: mirrored ? -z + 0 : z,
    depth: mirrored ? -depth + 0 : depth,
  };
}

/** How the entity's own plane lies, from its extrusion direction (groups 210, 220, 230). */
export const lieOf = (t: Tags): 'up' | 'mirrored' | 'tilted' =>
  t.has(230) || t.has(210) || t.has(220)
    ? layOf({ x: t.numberOr(210, 0), y: t.numberOr(220, 0), z: t.numberOr(230, 0) })
    : 'up';
