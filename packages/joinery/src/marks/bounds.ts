import { type Point, pointInRing, ringBounds } from '@haunch/geometry';
import type { MarkReason, MasterPart } from '@haunch/model';
import { along, dot, inPlate, toWorld, type Vec } from '../frame.js';
import type { Plate, PlateEdge, PlateSide } from '../plate.js';
import { SAME_DIRECTION, SAME_PLACE } from '../tolerances.js';
import { edgeOnEdge, edgeOnSide } from '../touch.js';
import { leaningBound } from './leaning-bounds.js';
import { axisOf, moves, type PlaneFollows, sameAxis, sameFollowing, shifted } from './plane-follows.js';

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

/** The axis to which an edge is square, and on which side of it its plate lies not. */
export const planeOf = (e: PlateEdge): { readonly axis: Vec; readonly sense: 1 | -1 } => axisOf(e.normal);

/** Where an edge begins on its plate's face n−, at which marks are measured. */
export const footOf = (own: Standing, e: PlateEdge): Vec => toWorld(own.plate.frame, e.from, 0);

/** Whether what an edge follows moves it in its plate: by its shares, or by leaning to a plate whose own face n− moves. */
export function movesIn(own: Standing, f: PlaneFollows): boolean {
  if (moves(f)) return true;
  const lower = own.sides.find((s) => s.side.tag === 'n-');
  return (
    lower !== undefined && moves(lower.follows) && Math.abs(dot(f.axis, own.plate.frame.n)) > SAME_DIRECTION
  );
}

/** The directions in which the edges of a plate look: X, Y, Z first, then as they come. */
function axesOf(own: Standing): Vec[] {
  const out: Vec[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (const e of own.plate.edges) {
    const { axis } = planeOf(e);
    if (!out.some((a) => sameAxis(a, axis))) out.push(axis);
  }
  return out;
}

const edgesAlong = (own: Standing, axis: Vec): PlateEdge[] =>
  own.plate.edges.filter((e) => sameAxis(planeOf(e).axis, axis));

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
  const foot = footOf(own, edge);
  const out: Bound[] = [];
  const bind = (f: PlaneFollows, reason: MarkReason, other: Standing): void => {
    const follows = shifted(f, foot);
    out.push({ follows, reason: movesIn(own, follows) ? reason : 'held', with: other.part.id });
  };
  for (const other of others) {
    if (other === own) continue;
    for (const { side, follows } of other.sides) {
      const floor = side.tag.endsWith('/floor');
      if (!sameAxis(follows.axis, plane.axis)) {
        const leaning = leaningBound(own.plate, edge, other.plate, side, follows, {
          flush: () => inOpening(other.plate, middle(edge)),
          gap: CONSTANT_GAP,
        });
        if (leaning) bind({ ...follows, terms: leaning.terms }, leaning.reason, other);
        continue;
      }
      if (edgeOnSide(edge, other.plate, side).length > 0) bind(follows, floor ? 'floor' : 'face', other);
      if (floor) continue;
      const same = dot(side.normal, edge.normal) > 0;
      const gap = (follows.at - dot(follows.axis, foot)) * Math.sign(dot(follows.axis, edge.normal));
      if (same && Math.abs(gap) <= SAME_PLACE && inOpening(other.plate, middle(edge)))
        bind(follows, 'flush', other);
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
    const { axis } = planeOf(edge);
    for (const { edge: partner, other } of touching.get(edge.tag) ?? []) {
      const theirs = bound.get(partner.tag);
      if (!theirs || !moves(theirs.follows) || !sameAxis(theirs.follows.axis, axis)) continue;
      bound.set(edge.tag, {
        follows: shifted(theirs.follows, footOf(own, edge)),
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
  for (const axis of axesOf(own)) {
    const edges = edgesAlong(own, axis);
    const known = edges.flatMap((e) => bound.get(e.tag) ?? []);
    const [first] = known.filter((b) => movesIn(own, b.follows));
    if (!first || known.some((b) => !sameFollowing(b.follows, first.follows))) continue;
    if (locatedBothWays(edges, touching, bound)) continue;
    for (const e of edges) {
      if (bound.has(e.tag)) continue;
      const follows = shifted(first.follows, footOf(own, e));
      bound.set(e.tag, { follows, reason: 'kept', with: first.with });
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
      ways.set(other.part.id, set.add(planeOf(e).sense));
    }
  return [...ways.values()].some((s) => s.size === 2);
}

/** Along which axes a plate as a whole goes along, and with what. */
export function wholeMoves(own: Standing, bound: ReadonlyMap<string, Bound>): PlaneFollows[] {
  return axesOf(own).flatMap((axis) => {
    const edges = edgesAlong(own, axis);
    const all = edges.map((e) => bound.get(e.tag));
    const [first] = all;
    return edges.length > 1 &&
      first &&
      movesIn(own, first.follows) &&
      all.every((b) => b && sameFollowing(b.follows, first.follows))
      ? [first.follows]
      : [];
  });
}
