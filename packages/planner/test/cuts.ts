import { type Point, type Segment, segmentPoints, sweepAround } from '@haunch/geometry';
import type { Move, Place, Toolpath } from '@haunch/model';

/** A motion that cuts, in sheet coordinates, with the step that it belongs to. */
export interface Cut {
  readonly from: Place;
  readonly move: Extract<Move, { kind: 'linear' | 'circular' }>;
  readonly segment: Segment;
}

/** All feed motions with where they start; z lowered by `lift` so that 0 is the sheet's top. */
export function cutsOf(toolpath: Toolpath, lift = 0): Cut[] {
  const out: Cut[] = [];
  let at: Place | undefined;
  for (const m of toolpath.moves) {
    if (m.kind !== 'rapid' && m.kind !== 'linear' && m.kind !== 'circular') continue;
    const to = { ...m.to, z: m.to.z - lift };
    if (at !== undefined && m.kind !== 'rapid') {
      const segment: Segment =
        m.kind === 'linear'
          ? { kind: 'line', from: at, to }
          : {
              kind: 'arc',
              from: at,
              to,
              centre: m.centre,
              radius: Math.hypot(to.x - m.centre.x, to.y - m.centre.y),
              sweep: sweepAround(m.centre, at, to, m.turn),
            };
      out.push({ from: at, move: { ...m, to }, segment });
    }
    at = to;
  }
  return out;
}

/** The polyline of a cut within 0.0005 mm. */
export const polylineOf = (c: Cut): Point[] => [
  ...segmentPoints(c.segment, 0.0005),
  { x: c.segment.to.x, y: c.segment.to.y },
];
