import { type Affine, type ArcSegment, affinePoint, affineSegment, type Segment } from '@haunch/geometry';
import type { Distortion, Place } from '@haunch/model';
import type { Stretch } from './stretch.js';

/** An ellipse that an arc becomes is followed within this, mm. */
const ELLIPSE_TOLERANCE = 0.0005;

/** What the machine makes of the program's places, as a linear map. */
const mapOf = ({ scaleX, scaleY, shear }: Distortion): Affine => ({
  a: 1 + scaleX,
  b: shear,
  c: 0,
  d: 1 + scaleY,
});

const lengthOf = (s: Segment): number =>
  s.kind === 'line' ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : s.radius * Math.abs(s.sweep);

/** The arc of a stretch as a segment. */
const arcOf = (s: Stretch): ArcSegment => ({
  kind: 'arc',
  from: s.from,
  to: s.to,
  centre: s.centre!,
  radius: Math.hypot(s.from.x - s.centre!.x, s.from.y - s.centre!.y),
  sweep: s.sweep,
});

/**
 * Stretches where the machine really cuts them: places are carried by its scales and its shear, arcs become the arcs that follow
 * their ellipses, heights stay (a helix climbs in proportion to the way). mm.
 */
export function asMachined(stretches: readonly Stretch[], distortion: Distortion): Stretch[] {
  const map = mapOf(distortion);
  const carried = (p: Place): Place => ({ ...affinePoint(map, p), z: p.z });
  const out: Stretch[] = [];
  for (const s of stretches) {
    if (s.kind !== 'arc' || s.centre === null) {
      out.push({ ...s, index: out.length, from: carried(s.from), to: carried(s.to) });
      continue;
    }
    const pieces = affineSegment(map, arcOf(s), { tolerance: ELLIPSE_TOLERANCE });
    const total = pieces.reduce((sum, p) => sum + lengthOf(p), 0);
    let [way, from] = [0, carried(s.from)];
    pieces.forEach((piece, i) => {
      way += lengthOf(piece);
      const z = i === pieces.length - 1 ? s.to.z : s.from.z + ((s.to.z - s.from.z) * way) / total;
      const to = { ...piece.to, z };
      out.push({
        ...s,
        index: out.length,
        kind: piece.kind === 'arc' ? 'arc' : 'linear',
        from,
        to,
        centre: piece.kind === 'arc' ? piece.centre : null,
        sweep: piece.kind === 'arc' ? piece.sweep : 0,
      });
      from = to;
    });
  }
  return out;
}
