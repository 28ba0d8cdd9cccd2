import type { Point, Vertex } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import type { Contact } from './joinery.js';

/** A corner of a contour into which a square arris of another part must go. (u, v), mm. */
export interface ReachedCorner {
  /** The place of the corner in `bare.vertices`. */
  readonly index: number;
  readonly at: Point;
  /** The edges before and after it. */
  readonly edges: readonly [string, string];
  /** The angle of the air in the corner, radians. */
  readonly opening: number;
}

/** A bend of less than this is no corner, radians: straight edges that run on, or nearly. */
const NO_BEND = 0.01;

/**
 * The inside corners of a contour (hollow in the material) both of whose straight edges lie against another
 * part up to within `reach` of the corner, mm, as `contacts` of the part have it, in the order of the contour.
 * `reach` is how far the cutter's round would extend along an edge of a square corner.
 */
export function reachedCorners(
  c: Contour,
  bounds: 'material' | 'air',
  contacts: readonly Contact[],
  reach: number,
): ReachedCorner[] {
  const corners = c.bare.vertices;
  const n = corners.length;
  const byEdge = new Map<string, Contact[]>();
  for (const contact of contacts) byEdge.set(contact.edge, [...(byEdge.get(contact.edge) ?? []), contact]);
  const reachesEnd = (from: Vertex, to: Vertex, end: 'from' | 'to'): boolean => {
    if (from.bulge !== 0 || from.tag === undefined) return false;
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    return (byEdge.get(from.tag) ?? []).some(({ stretch }) =>
      end === 'from' ? stretch[0] <= reach : stretch[1] >= length - reach,
    );
  };
  return corners.flatMap((at, index) => {
    const before = corners[(index + n - 1) % n]!;
    const after = corners[(index + 1) % n]!;
    if (!reachesEnd(before, at, 'to') || !reachesEnd(at, after, 'from')) return [];
    const [ax, ay] = [at.x - before.x, at.y - before.y];
    const [bx, by] = [after.x - at.x, after.y - at.y];
    const bend = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    // Counter-clockwise round material a hollow corner turns right, round air it turns left.
    const hollow = bounds === 'material' ? -bend : bend;
    if (hollow < NO_BEND) return [];
    return [
      { index, at: { x: at.x, y: at.y }, edges: [before.tag!, at.tag!] as const, opening: Math.PI - hollow },
    ];
  });
}

/**
 * How far a square arris stands off the corner that it should reach when the cutter's round of `radius` stays
 * in it, mm. The arris goes along one wall at a distance of `clearance` until it touches the round:
 * r − √(r² − (r − c)²) for a square corner, 3.0 at r = 3 and c = 0, 2.45 at c = 0.05.
 */
export function standsProud(radius: number, opening: number, clearance: number): number {
  const c = Math.max(0, clearance);
  if (c >= radius) return 0;
  const tangent = radius / Math.tan(opening / 2);
  const corner = c / Math.tan(opening);
  return Math.max(0, tangent - Math.sqrt(radius ** 2 - (radius - c) ** 2) - corner);
}
