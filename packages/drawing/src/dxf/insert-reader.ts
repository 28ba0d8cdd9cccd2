import type { Entity } from '../drawing.js';
import type { PlaneMap } from '../entity-map.js';
import { type Affine, compose, IDENTITY, scaling, translation } from '../svg-read/affine.js';
import { lieOf, placeOf } from './entity-place.js';
import { decodeEscapes } from './plain-text.js';
import type { EntityReader, RawEntity } from './raw-entity.js';
import type { Tags } from './tags.js';

const DEGREE = Math.PI / 180;
const QUARTERS = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
] as const;

/** A turn about the origin; quarter turns exactly, so that what is drawn upright stays upright. */
function rotation(degrees: number): Affine {
  const turn = ((degrees % 360) + 360) % 360;
  const [c, s] = QUARTERS[turn / 90] ?? [Math.cos(turn * DEGREE), Math.sin(turn * DEGREE)];
  return { ...IDENTITY, a: c, b: s, c: -s, d: c };
}

/**
 * INSERT with its attributes: P′ = insertion + R·(S·P + place in the array), all in its own plane (DXF reference;
 * columns 70 by 44, rows 71 by 45). The block's base point is taken off by whoever knows the block.
 */
export const insertReader =
  (readAttribute: (t: Tags) => RawEntity): EntityReader =>
  (t, following) => {
    const attributes: Entity[] = [];
    while (following.peek() === 'ATTRIB') {
      const text = readAttribute(following.take());
      if (typeof text === 'object' && 'kind' in text && text.kind !== 'insert') attributes.push(text);
    }
    if (following.peek() === 'SEQEND') following.take();
    const lie = lieOf(t);
    if (lie === 'tilted') return 'not flat';
    const [sx, sy, sz] = [t.numberOr(41, 1), t.numberOr(42, 1), t.numberOr(43, 1)];
    if (sx === 0 || sy === 0) return 'no size';
    const columns = Math.max(1, t.integerOr(70, 1));
    const rows = Math.max(1, t.integerOr(71, 1));
    const [dx, dy] = [t.numberOr(44, 0), t.numberOr(45, 0)];
    const at = { x: t.number(10), y: t.number(20), z: t.numberOr(30, 0) };
    const mirrored = lie === 'mirrored';
    const side = mirrored ? -1 : 1;
    const own = compose(scaling(side, 1), compose(translation(at.x, at.y), rotation(t.numberOr(50, 0))));
    const mapOf = (k: number): PlaneMap => ({
      flat: compose(
        own,
        compose(translation((k % columns) * dx, Math.floor(k / columns) * dy), scaling(sx, sy)),
      ),
      rise: side * sz,
      lift: side * at.z,
    });
    return {
      kind: 'insert',
      block: decodeEscapes(t.text(2)).trim(),
      place: placeOf(t, 0, mirrored),
      count: columns * rows,
      mapOf,
      attributes,
    };
  };
