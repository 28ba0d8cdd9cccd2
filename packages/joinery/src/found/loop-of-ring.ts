import { distance, type Ring, ringSegments, snap } from '@haunch/geometry';
import type { MasterLoop, MasterSegment } from '@haunch/model';

/** A centre this near to a thousandth is meant to be there, mm. */
const NEAR_THOUSANDTH = 3.5e-4;
/** How far a centre's distances to both ends may differ, mm; a master allows a thousandth. */
const SAME_RADIUS = 5e-4;

/** A closed curve as a master's loop, on the grid of 0.0001 mm. */
export function loopOfRing(r: Ring): MasterLoop {
  const segments = ringSegments(r);
  const start = segments[0]!.from;
  return {
    start: [snap(start.x), snap(start.y)],
    segments: segments.map((s): MasterSegment => {
      const to: [number, number] = [snap(s.to.x), snap(s.to.y)];
      if (s.kind === 'line') return { to };
      const clean = (v: number): number => {
        const thousandth = Math.round(v * 1000) / 1000;
        return Math.abs(v - thousandth) <= NEAR_THOUSANDTH ? thousandth : snap(v);
      };
      const tidy = { x: clean(s.centre.x), y: clean(s.centre.y) };
      const exact = { x: snap(s.centre.x), y: snap(s.centre.y) };
      const even = Math.abs(distance(tidy, s.from) - distance(tidy, s.to)) <= SAME_RADIUS;
      const { x, y } = even ? tidy : exact;
      return { to, centre: [x, y], dir: s.sweep > 0 ? 'ccw' : 'cw' };
    }),
  };
}
