import type { EntityPlace } from '../drawing.js';
import { layOf } from './ocs.js';
import type { Tags } from './tags.js';

/** Two heights further apart than this many drawing units do not lie in one plane. */
export const FLAT = 0.01;

/** The height of an entity in its own coordinate system: z of its first point, up to release 10 also group 38. */
export const heightOf = (t: Tags): number => t.numberOr(30, t.numberOr(38, 0));

/** A length along the normal, seen from the drawing plane. */
export const upward = (length: number, mirrored: boolean): number => (mirrored ? -length + 0 : length);

const BY_LAYER = 256;

/** The colour number that an entity has of its own (group 62), null where it takes its layer's or block's. */
function ownColour(t: Tags): number | null {
  if (!t.has(62)) return null;
  const colour = Math.abs(t.integerOr(62, BY_LAYER));
  return colour > 0 && colour < BY_LAYER ? colour : null;
}

/** The same entity with its own colour, if it has one. */
export function coloured<E extends EntityPlace>(t: Tags, e: E): E {
  const colour = ownColour(t);
  return colour === null ? e : { ...e, colour };
}

/** Layer, handle, line, elevation and depth of an entity whose z is given in its own coordinate system. */
export const placeOf = (t: Tags, z: number, mirrored: boolean): EntityPlace =>
  coloured(t, {
    layer: t.layer,
    handle: t.handle,
    line: t.line,
    elevation: upward(z, mirrored),
    depth: upward(t.numberOr(39, 0), mirrored),
  });

/** How the entity's own plane lies, from its extrusion direction (groups 210, 220, 230). */
export const lieOf = (t: Tags): 'up' | 'mirrored' | 'tilted' =>
  t.has(230) || t.has(210) || t.has(220)
    ? layOf({ x: t.numberOr(210, 0), y: t.numberOr(220, 0), z: t.numberOr(230, 0) })
    : 'up';
