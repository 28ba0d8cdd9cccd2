import {
  type Box,
  distance,
  type Point,
  pointInRing,
  type Ring,
  ringBounds,
  ringSegments,
  type Segment,
  segmentBounds,
  segmentIntersections,
} from '@haunch/geometry';
import type { MasterPart } from '@haunch/model';
import { edgesOf, ringOfEdges } from './loop.js';
import { tangentAt } from './meet.js';
import { SAME_PLACE } from './tolerances.js';

/** A closed curve of a part, by the id of its contour. */
export interface Cut {
  readonly id: string;
  readonly ring: Ring;
}

/** The curves of a master's part as rings, in the master's order and sense. */
export const cutsOfPart = (
  part: MasterPart,
): { readonly outline: Cut; readonly through: readonly Cut[]; readonly pockets: readonly Cut[] } => {
  const cut = (id: string, loop: MasterPart['outline']): Cut => ({
    id,
    ring: ringOfEdges(edgesOf(loop), id),
  });
  return {
    outline: cut(`${part.id}.outline`, part.outline),
    through: part.through.map((c) => cut(c.id, c.loop)),
    pockets: part.pockets.map((c) => cut(c.id, c.loop)),
  };
};

const apart = (a: Box, b: Box): boolean =>
  a.maxX < b.minX - SAME_PLACE ||
  b.maxX < a.minX - SAME_PLACE ||
  a.maxY < b.minY - SAME_PLACE ||
  b.maxY < a.minY - SAME_PLACE;

/** How far from their common corner two tangent neighbours may still seem to touch, given coordinates on a grid. mm */
function touchLength(s: Segment, t: Segment, corner: Point): number {
  if (!tangentAt(s, t, corner)) return SAME_PLACE;
  const radius = Math.max(s.kind === 'arc' ? s.radius : 0, t.kind === 'arc' ? t.radius : 0);
  return SAME_PLACE + Math.sqrt(2 * radius * SAME_PLACE);
}

/** Where a ring meets itself away from the corners of its neighbours; nothing when it bounds one plain area. */
export function selfMeeting(r: Ring): { readonly problem: string; readonly at: Point } | undefined {
  const segments = ringSegments(r);
  const boxes = segments.map(segmentBounds);
  const n = segments.length;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) {
      if (apart(boxes[i]!, boxes[j]!)) continue;
      const s = segments[i]!;
      const t = segments[j]!;
      const corners = [...(j === i + 1 ? [s.to] : []), ...((j + 1) % n === i ? [s.from] : [])];
      for (const p of segmentIntersections(s, t))
        if (!corners.some((c) => distance(c, p) <= touchLength(s, t, c)))
          return { problem: `edges ${short(s)} and ${short(t)} meet`, at: p };
    }
  return undefined;
}

const short = (s: Segment): string => s.tag?.slice(s.tag.lastIndexOf('/') + 1) ?? 'unnamed';

/** Where two rings touch or cross, or a corner of the first. */
export function ringsMeeting(a: Ring, b: Ring): Point | undefined {
  if (apart(ringBounds(a), ringBounds(b))) return undefined;
  const theirs = ringSegments(b).map((segment) => ({ segment, box: segmentBounds(segment) }));
  for (const s of ringSegments(a)) {
    const box = segmentBounds(s);
    for (const t of theirs) {
      if (apart(box, t.box)) continue;
      const [p] = segmentIntersections(s, t.segment);
      if (p) return p;
    }
  }
  return undefined;
}

/** Every through cut that is not inside the outline and apart from the others, with a place where it is not. */
export function meetingCuts(
  outline: Cut,
  through: readonly Cut[],
): { readonly cut: string; readonly other: string; readonly at: Point }[] {
  return through.flatMap((cut, i) => {
    const corner = cut.ring.vertices[0]!;
    const at = (p: Point): Point => ({ x: p.x, y: p.y });
    const edge = ringsMeeting(cut.ring, outline.ring);
    if (edge || pointInRing(outline.ring, corner) !== 'inside')
      return [{ cut: cut.id, other: outline.id, at: at(edge ?? corner) }];
    const other = through.slice(i + 1).flatMap((o) => {
      const p = ringsMeeting(cut.ring, o.ring);
      if (p) return [{ cut: cut.id, other: o.id, at: at(p) }];
      const inside =
        pointInRing(o.ring, corner) === 'inside' || pointInRing(cut.ring, o.ring.vertices[0]!) === 'inside';
      return inside ? [{ cut: cut.id, other: o.id, at: at(corner) }] : [];
    });
    return other;
  });
}
