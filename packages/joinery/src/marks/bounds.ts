import { type Point, pointInRing, ringBounds } from '@haunch/geometry';
import type { MarkReason, MasterPart } from '@haunch/model';
import { along, inPlate, type Vec } from '../frame.js';
import type { Plate, PlateEdge, PlateSide } from '../plate.js';
import { SAME_PLACE } from '../tolerances.js';
import { edgeOnEdge, edgeOnSide } from '../touch.js';
import { type AxisIndex, axisOf, moves, type PlaneFollows, sameFollowing, shifted } from './plane-follows.js';

/** A gap up to this before a face is meant as a clearance that stays, mm. Common practice, no source. */
const CONSTANT_GAP = 3;

/** What binds an edge: what it follows, why, and the plate on which that rests. */
export interface Bound {
  readonly follows: PlaneFollows;
  readonly reason: MarkReason | 'held';
  readonly with: string;
}

/** A plate with the planes in which its faces and floors lie. */
export interface Standing {
  readonly part: MasterPart;
  readonly plate: Plate;
  readonly sides: readonly { readonly side: PlateSide; readonly follows: PlaneFollows }[];
}

/** The edge carried along its own normal. */
const carried = (e: PlateEdge, by: number): PlateEdge => ({
  ...e,
  corners: e.corners.map((c) => along(c, by, e.normal)) as unknown as PlateEdge['corners'],
});

/** The plane of an edge that is square to an axis. */
export function planeOf(
  e: PlateEdge,
): { readonly axis: AxisIndex; readonly at: number; readonly sense: 1 | -1 } | undefined {
  const across = axisOf(e.normal);
  return across && { ...across, at: e.corners[0][across.axis] };
}

/** Whether a point of the world lies in an opening of a plate: in a through cut, or in a notch inside its box. */
function inOpening(plate: Plate, at: Vec): boolean {
  const p: Point = inPlate(plate.frame, at);
  if (plate.part.through.some((c) => pointInRing(c.bare, p) === 'inside')) return true;
  const { minX, minY, maxX, maxY } = ringBounds(plate.part.outline.bare);
  return (
    p.x > minX &&
    p.x < maxX &&
    p.y > minY &&
    p.y < maxY &&
    pointInRing(plate.part.outline.bare, p) === 'outside'
  );
}

const middle = (e: PlateEdge): Vec =>
  [0, 1, 2].map((k) => e.corners.reduce((sum, c) => sum + c[k]!, 0) / 4) as unknown as Vec;

/** What single edges lie on: faces and floors by contact, far faces by passing through, faces across a small gap. */
export function boundByFaces(own: Standing, others: readonly Standing[], edge: PlateEdge): Bound[] {
  const plane = planeOf(edge);
  if (!plane) return [];
  const out: Bound[] = [];
  const bind = (follows: PlaneFollows, reason: MarkReason, other: Standing): void =>
    void out.push({
      follows: shifted(follows, plane.at),
      reason: moves(follows) ? reason : 'held',
      with: other.part.id,
    } as Bound);
  for (const other of others) {
    if (other === own) continue;
    for (const { side, follows } of other.sides) {
      if (follows.axis !== plane.axis) continue;
      const floor = side.tag.endsWith('/floor');
      if (edgeOnSide(edge, other.plate, side).length > 0) bind(follows, floor ? 'floor' : 'face', other);
      if (floor) continue;
      const same = side.normal[plane.axis] * plane.sense > 0;
      if (same && Math.abs(follows.at - plane.at) <= SAME_PLACE && inOpening(other.plate, middle(edge)))
        bind(follows, 'flush', other);
      const gap = (follows.at - plane.at) * plane.sense;
      if (
        !same &&
        gap > SAME_PLACE &&
        gap <= CONSTANT_GAP &&
        edgeOnSide(carried(edge, gap), other.plate, side).length > 0
      )
        bind(follows, 'gap', other);
    }
  }
  return out;
}

/** Reasons, the strongest first. */
export const RANK: readonly Bound['reason'][] = [
  'by hand',
  'face',
  'floor',
  'flush',
  'gap',
  'seat',
  'kept',
  'corner',
  'held',
];

/** Edges that lie against each other, by tag: which plate's edge seats on which. */
export function touchingEdges(
  all: readonly Standing[],
): Map<string, { readonly edge: PlateEdge; readonly other: Standing }[]> {
  const out = new Map<string, { edge: PlateEdge; other: Standing }[]>();
  for (const a of all)
    for (const b of all) {
      if (a === b) continue;
      for (const e of a.plate.edges)
        for (const f of b.plate.edges)
          if (edgeOnEdge(e, f)) out.set(e.tag, [...(out.get(e.tag) ?? []), { edge: f, other: b }]);
    }
  return out;
}

/** Edges that seat on an edge that follows go along. */
export function bindSeats(
  own: Standing,
  touching: ReturnType<typeof touchingEdges>,
  bound: Map<string, Bound>,
): boolean {
  let changed = false;
  for (const edge of own.plate.edges) {
    if (bound.has(edge.tag)) continue;
    const plane = planeOf(edge);
    for (const { edge: partner, other } of touching.get(edge.tag) ?? []) {
      const theirs = bound.get(partner.tag);
      if (!plane || !theirs || !moves(theirs.follows) || theirs.follows.axis !== plane.axis) continue;
      bound.set(edge.tag, {
        follows: shifted(theirs.follows, plane.at),
        reason: 'seat',
        with: other.part.id,
      });
      changed = true;
      break;
    }
  }
  return changed;
}

/** A plate that one moving plane alone locates along an axis goes along whole. */
export function bindKept(
  own: Standing,
  touching: ReturnType<typeof touchingEdges>,
  bound: Map<string, Bound>,
): boolean {
  let changed = false;
  for (const axis of [0, 1, 2] as const) {
    const edges = own.plate.edges.filter((e) => planeOf(e)?.axis === axis);
    const known = edges.flatMap((e) => bound.get(e.tag) ?? []);
    const [first] = known.filter((b) => moves(b.follows));
    if (!first || known.some((b) => !sameFollowing(b.follows, first.follows))) continue;
    if (locatedBothWays(edges, touching, bound)) continue;
    for (const e of edges) {
      if (bound.has(e.tag)) continue;
      bound.set(e.tag, { follows: shifted(first.follows, planeOf(e)!.at), reason: 'kept', with: first.with });
      changed = true;
    }
  }
  return changed;
}

/** Whether edges of one other plate, not moving themselves, stop these both ways. */
function locatedBothWays(
  edges: readonly PlateEdge[],
  touching: ReturnType<typeof touchingEdges>,
  bound: ReadonlyMap<string, Bound>,
): boolean {
  const ways = new Map<string, Set<number>>();
  for (const e of edges)
    for (const { edge, other } of touching.get(e.tag) ?? []) {
      const theirs = bound.get(edge.tag);
      if (theirs && moves(theirs.follows)) continue;
      const set = ways.get(other.part.id) ?? new Set();
      ways.set(other.part.id, set.add(planeOf(e)!.sense));
    }
  return [...ways.values()].some((s) => s.size === 2);
}

/** Along which axes a plate as a whole goes along, and with what. */
export function wholeMoves(own: Standing, bound: ReadonlyMap<string, Bound>): PlaneFollows[] {
  return ([0, 1, 2] as const).flatMap((axis) => {
    const edges = own.plate.edges.filter((e) => planeOf(e)?.axis === axis);
    const all = edges.map((e) => bound.get(e.tag));
    const [first] = all;
    return edges.length > 1 &&
      first &&
      moves(first.follows) &&
      all.every((b) => b && sameFollowing(b.follows, first.follows))
      ? [first.follows]
      : [];
  });
}
