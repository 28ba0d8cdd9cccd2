import {
  type Affine,
  type ArcSegment,
  affinePoint,
  affineSegment,
  inverseAffine,
  type Segment,
  snap,
  sweepAround,
} from '@haunch/geometry';
import type { Distortion, Move, Place, Toolpath } from '@haunch/model';

/** The ellipse that an arc becomes is followed within this, mm. */
const ELLIPSE_TOLERANCE = 0.001;

const lengthOf = (s: Segment): number =>
  s.kind === 'line' ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : s.radius * Math.abs(s.sweep);

const onGrid = ({ x, y, z }: Place): Place => ({ x: snap(x), y: snap(y), z: snap(z) });

/**
 * The toolpath that a distorted machine must be given so that it cuts this one: every place carried by the inverse of its map, arcs by
 * arcs that follow the ellipse within 0.001 mm (an ellipse is no arc). mm, on the grid of 0.0001 mm. Rapids, heights and
 * everything that is no motion stay.
 */
export function commandedToolpath(toolpath: Toolpath, distortion: Distortion): Toolpath {
  const map: Affine = inverseAffine({
    a: 1 + distortion.scaleX,
    b: distortion.shear,
    c: 0,
    d: 1 + distortion.scaleY,
  });
  const carried = (p: Place): Place => onGrid({ ...affinePoint(map, p), z: p.z });
  const moves: Move[] = [];
  let at: Place | undefined;
  for (const m of toolpath.moves) {
    if (!('to' in m)) moves.push(m);
    else if (m.kind !== 'circular' || !at) moves.push({ ...m, to: carried(m.to) });
    else moves.push(...arcMoves(m, at, map));
    if ('to' in m) at = m.to;
  }
  return { ...toolpath, moves };
}

function arcMoves(m: Extract<Move, { kind: 'circular' }>, from: Place, map: Affine): Move[] {
  const arc: ArcSegment = {
    kind: 'arc',
    from,
    to: m.to,
    centre: m.centre,
    radius: Math.hypot(from.x - m.centre.x, from.y - m.centre.y),
    sweep: sweepAround(m.centre, from, m.to, m.turn),
  };
  const pieces = affineSegment(map, arc, { tolerance: ELLIPSE_TOLERANCE });
  const total = pieces.reduce((sum, p) => sum + lengthOf(p), 0);
  let way = 0;
  return pieces.map((p, i): Move => {
    way += lengthOf(p);
    const z = i === pieces.length - 1 ? m.to.z : from.z + ((m.to.z - from.z) * way) / total;
    const to = onGrid({ ...p.to, z });
    return p.kind === 'arc'
      ? {
          kind: 'circular',
          to,
          centre: p.centre,
          turn: p.sweep > 0 ? 'ccw' : 'cw',
          feed: m.feed,
          from: m.from,
        }
      : { kind: 'linear', to, feed: m.feed, from: m.from };
  });
}
