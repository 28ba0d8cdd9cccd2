import { type Point, pointInRing, ringBounds } from '@haunch/geometry';
import type { Diagnostic, Mark, Master, MasterLoop, MasterPart, MasterSegment } from '@haunch/model';
import { along, frameOf, inPlate, toWorld, type Vec } from '../frame.js';
import { type Edge, edgesOf } from '../loop.js';
import { type Plate, type PlateEdge, type PlateSide, plateOf } from '../plate.js';
import { SAME_PLACE } from '../tolerances.js';
import { edgeOnEdge, edgeOnSide } from '../touch.js';
import { markDoubtful } from './diagnostics.js';
import {
  type AxisIndex,
  axisOf,
  markOf,
  moves,
  type PlaneFollows,
  sameFollowing,
  shifted,
  sideFollows,
} from './plane-follows.js';

/**
 * Why an edge follows: it lies on another plate's face; on the floor of a recess; flush with the far face of the plate that it passes
 * through; a small gap before a face; it seats on an edge that follows; its plate keeps its width or its place to what moves; a
 * round corner goes along with the edge beside it.
 */
export type MarkReason = 'face' | 'floor' | 'flush' | 'gap' | 'seat' | 'kept' | 'corner';

/** A mark that was found, for one edge (`EL.m1/e0`), centre or plate, with its reason and the plate on which it rests. */
export interface FoundMark {
  readonly part: string;
  readonly edge: string;
  readonly mark: string;
  readonly reason: MarkReason;
  readonly with: string;
}

/** A master with the marks that were found, and why. */
export interface FoundMarks {
  readonly kind: 'found-marks';
  readonly master: Master;
  readonly found: readonly FoundMark[];
  /** Edges for which two answers are possible: the first was taken, and this asks. */
  readonly questions: readonly Diagnostic[];
}

/** A gap up to this before a face is meant as a clearance that stays, mm. Common practice, no source. */
const CONSTANT_GAP = 3;

interface Bound {
  readonly follows: PlaneFollows;
  readonly reason: MarkReason | 'held';
  readonly with: string;
}

interface Standing {
  readonly part: MasterPart;
  readonly plate: Plate;
  readonly sides: readonly { readonly side: PlateSide; readonly follows: PlaneFollows }[];
}

const byTag = (plate: Plate): Map<string, PlateEdge> => new Map(plate.edges.map((e) => [e.tag, e]));

/** The edge carried along its own normal. */
const carried = (e: PlateEdge, by: number): PlateEdge => ({
  ...e,
  corners: e.corners.map((c) => along(c, by, e.normal)) as unknown as PlateEdge['corners'],
});

/** The plane of an edge that is square to an axis. */
function planeOf(
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
function boundByFaces(own: Standing, others: readonly Standing[], edge: PlateEdge): Bound[] {
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

const RANK: readonly Bound['reason'][] = ['face', 'floor', 'flush', 'gap', 'seat', 'kept', 'corner', 'held'];

/** Edges that lie against each other, by tag: which plate's edge seats on which. */
function touchingEdges(
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

/**
 * Marks found by contact in space. Frames and holds are known; which edges follow which plate's thickness is not, or is looked for anew:
 * marks of the master are left aside. In this order: an edge on another plate's face or on a recess's floor; a tenon's end flush with the
 * far face of the plate that it passes through; an edge before a face with a gap of at most 3 mm; then, until nothing changes, an edge that
 * seats on one that follows, and all of a plate that is located along an axis by one moving plane alone (it keeps its width and goes
 * along whole); at last round corners beside edges that follow. Coplanar without contact is no contact. Plates must stand along the
 * world's axes to bear marks; others keep none. Pure; the same master gives the same marks.
 */
export function findMarks(master: Master): FoundMarks {
  const all = master.parts.map((part): Standing => {
    const plate = plateOf(part);
    const sides = [...plate.faces, ...plate.floors].flatMap((side) => {
      const follows = sideFollows(part, plate, side);
      return follows ? [{ side, follows }] : [];
    });
    return { part, plate, sides };
  });
  const questions: Diagnostic[] = [];
  const bound = new Map<string, Bound>();
  for (const own of all)
    for (const edge of own.plate.edges) {
      const found = boundByFaces(own, all, edge).sort(
        (a, b) => RANK.indexOf(a.reason) - RANK.indexOf(b.reason),
      );
      const [first] = found;
      if (!first) continue;
      const other = found.find((b) => b.reason === first.reason && !sameFollowing(b.follows, first.follows));
      if (other) questions.push(markDoubtful(own.part.id, edge.tag, first.with, other.with));
      bound.set(edge.tag, first);
    }
  const touching = touchingEdges(all);
  for (let again = true; again; ) {
    again = false;
    for (const own of all) again = bindSeats(own, touching, bound) || bindKept(own, touching, bound) || again;
  }
  return withMarks(master, all, bound, questions);
}

/** Edges that seat on an edge that follows go along. */
function bindSeats(
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
function bindKept(
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
function wholeMoves(own: Standing, bound: ReadonlyMap<string, Bound>): PlaneFollows[] {
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

function withMarks(
  master: Master,
  all: readonly Standing[],
  bound: ReadonlyMap<string, Bound>,
  questions: readonly Diagnostic[],
): FoundMarks {
  const thicknesses = new Map(master.parts.map((p) => [p.id, p.thickness]));
  const marks = new Map<string, Mark>();
  const found: FoundMark[] = [];
  const use = (f: PlaneFollows): string => {
    const mark = markOf(f, thicknesses);
    if (!marks.has(mark.id)) marks.set(mark.id, mark);
    return mark.id;
  };
  const parts = all.map((own): MasterPart => {
    const { part, plate } = own;
    const edgeOf = byTag(plate);
    const frame = frameOf(part);
    const whole = wholeMoves(own, bound);
    const loop = (id: string, l: MasterLoop): MasterLoop => {
      const edges = edgesOf(l);
      return { ...l, segments: l.segments.map((s, k) => segment(id, s, k, edges)) };
    };
    const segment = (id: string, s: MasterSegment, k: number, edges: readonly Edge[]): MasterSegment => {
      const { on: _, ...bare } = s;
      const tag = `${id}/e${k}`;
      const names: string[] = [];
      const note = (f: PlaneFollows, reason: MarkReason, other: string): void => {
        const mark = use(f);
        if (names.includes(mark)) return;
        names.push(mark);
        found.push({ part: part.id, edge: tag, mark, reason, with: other });
      };
      const b = bound.get(tag);
      if (b && edgeOf.has(tag)) {
        if (moves(b.follows) && b.reason !== 'held') note(b.follows, b.reason, b.with);
      } else if (s.centre) {
        const centre = { x: s.centre[0], y: s.centre[1] };
        const there = toWorld(frame, centre, 0);
        for (const f of whole) note(shifted(f, there[f.axis]), 'kept', part.id);
        for (const near of [k - 1, k + 1]) {
          const i = (near + edges.length) % edges.length;
          const beside = bound.get(`${id}/e${i}`);
          if (!beside || !moves(beside.follows) || !tangent(edges, k, i, near > k)) continue;
          note(shifted(beside.follows, there[beside.follows.axis]), 'corner', beside.with);
        }
      }
      return names.length === 0 ? bare : { ...bare, on: names.length === 1 ? names[0]! : names };
    };
    return {
      ...part,
      frame: placed(part, own, use, found),
      outline: loop(`${part.id}.outline`, part.outline),
      through: part.through.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
      pockets: part.pockets.map((c) => ({ ...c, loop: loop(c.id, c.loop) })),
      holes: part.holes.map(({ on: _, ...h }) => {
        const there = toWorld(frame, { x: h.centre[0], y: h.centre[1] }, 0);
        const names = whole.map((f) => use(shifted(f, there[f.axis])));
        return names.length === 0 ? h : { ...h, on: names };
      }),
    };
  });
  const sorted = [...marks.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  return { kind: 'found-marks', master: { ...master, marks: sorted, parts }, found, questions };
}

/** The plate's own place: its face n− follows what does not hold. */
function placed(
  part: MasterPart,
  own: Standing,
  use: (f: PlaneFollows) => string,
  found: FoundMark[],
): MasterPart['frame'] {
  const { on: _, ...bare } = part.frame;
  const lower = own.sides.find((s) => s.side.tag === 'n-')?.follows;
  if (!lower || !moves(lower)) return bare;
  const mark = use(lower);
  found.push({ part: part.id, edge: 'frame', mark, reason: 'face', with: part.id });
  return { ...bare, on: mark };
}

/** Whether an arc runs on from, or into, the straight edge beside it without a corner. */
function tangent(edges: readonly Edge[], arc: number, beside: number, after: boolean): boolean {
  const [a, b] = [edges[arc]!, edges[beside]!];
  if (!a.centre || b.centre) return false;
  const at = after ? a.to : a.from;
  const l = Math.hypot(b.to.x - b.from.x, b.to.y - b.from.y);
  const r = Math.hypot(at.x - a.centre.x, at.y - a.centre.y);
  const cosine =
    ((b.to.x - b.from.x) * (at.x - a.centre.x) + (b.to.y - b.from.y) * (at.y - a.centre.y)) / (l * r);
  return Math.abs(cosine) < 1e-4;
}
