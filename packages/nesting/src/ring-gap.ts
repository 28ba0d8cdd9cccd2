import {
  type ArcSegment,
  angleInSweep,
  type Box,
  counterClockwise,
  directionAt,
  fractionAlong,
  nearestOnSegment,
  type Point,
  pointAlong,
  pointInRing,
  pointRingDistance,
  type Ring,
  ringBounds,
  ringSegments,
  type Segment,
  segmentBounds,
  segmentIntersections,
} from '@haunch/geometry';

/** The least distance between two curves, and where. mm */
export interface Gap {
  readonly distance: number;
  /** The middle of the shortest way. */
  readonly at: Point;
}

const onArc = (s: ArcSegment, angle: number): Point[] =>
  angleInSweep(angle, Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x), s.sweep)
    ? [{ x: s.centre.x + s.radius * Math.cos(angle), y: s.centre.y + s.radius * Math.sin(angle) }]
    : [];

/** Points of `a` one of which is nearest to `b`, for segments that do not meet: ends, and where both have one normal. */
function candidates(a: Segment, b: Segment): Point[] {
  const out: Point[] = [a.from, a.to];
  if (b.kind === 'line') {
    if (a.kind === 'line') return out;
    const normal = Math.atan2(b.to.x - b.from.x, b.from.y - b.to.y);
    return [...out, ...onArc(a, normal), ...onArc(a, normal + Math.PI)];
  }
  if (a.kind === 'line') return [...out, nearestOnSegment(a, b.centre)];
  const way = Math.atan2(b.centre.y - a.centre.y, b.centre.x - a.centre.x);
  return [...out, ...onArc(a, way), ...onArc(a, way + Math.PI)];
}

/** The gap between two segments, exact for lines and arcs. */
function segmentGap(a: Segment, b: Segment): Gap {
  const meet = segmentIntersections(a, b)[0];
  if (meet) return { distance: 0, at: meet };
  let best: Gap = { distance: Infinity, at: a.from };
  const consider = (p: Point, other: Segment): void => {
    const q = nearestOnSegment(other, p);
    const distance = Math.hypot(q.x - p.x, q.y - p.y);
    if (distance < best.distance) best = { distance, at: { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 } };
  };
  for (const p of candidates(a, b)) consider(p, b);
  for (const p of candidates(b, a)) consider(p, a);
  return best;
}

/** So many segments in a row have a box together, by which all of them are passed over at once. */
const RUN = 16;

/** The segments of a ring and their boxes. */
interface Curve {
  readonly segments: readonly Segment[];
  readonly boxes: readonly Box[];
  /** The box of each run of segments. */
  readonly runs: readonly Box[];
  readonly box: Box;
}

const boxRound = (boxes: readonly Box[]): Box =>
  boxes.reduce((a, b) => ({
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  }));

/** Curves of rings that were asked about: each is held against many others. */
const curves = new WeakMap<Ring, Curve>();

function curveOf(r: Ring): Curve {
  let c = curves.get(r);
  if (!c) {
    const segments = ringSegments(r);
    const boxes = segments.map(segmentBounds);
    const runs = Array.from({ length: Math.ceil(boxes.length / RUN) }, (_, k) =>
      boxRound(boxes.slice(k * RUN, (k + 1) * RUN)),
    );
    c = { segments, boxes, runs, box: boxRound(runs) };
    curves.set(r, c);
  }
  return c;
}

function boxGap(p: Box, q: Box): number {
  const dx = Math.max(0, p.minX - q.maxX, q.minX - p.maxX);
  const dy = Math.max(0, p.minY - q.maxY, q.minY - p.maxY);
  return dx === 0 ? dy : dy === 0 ? dx : Math.hypot(dx, dy);
}

/** Visits, in their order, the segments of `c` whose boxes are nearer to `box` than `within()`. */
function visitNear(box: Box, c: Curve, within: () => number, visit: (k: number) => void): void {
  if (boxGap(box, c.box) >= within()) return;
  for (let r = 0; r < c.runs.length; r++) {
    if (boxGap(box, c.runs[r]!) >= within()) continue;
    const end = Math.min(c.boxes.length, (r + 1) * RUN);
    for (let k = r * RUN; k < end; k++) if (boxGap(box, c.boxes[k]!) < within()) visit(k);
  }
}

/**
 * The least distance between the curves of two rings, whichever side they are on; 0 where they meet. Exact for
 * arcs; the first of equal places is given.
 */
export function ringGap(a: Ring, b: Ring): Gap {
  let best: Gap = { distance: Infinity, at: a.vertices[0]! };
  const p = curveOf(a);
  const q = curveOf(b);
  const within = (): number => best.distance;
  // No gap is less than none.
  for (let i = 0; i < p.segments.length && best.distance > 0; i++)
    visitNear(p.boxes[i]!, q, within, (k) => {
      const gap = segmentGap(p.segments[i]!, q.segments[k]!);
      if (gap.distance < best.distance) best = gap;
    });
  return best;
}

/** Boxes nearer than this touch: the least number above 0. */
const TOUCHING = Number.MIN_VALUE;

/** Corners of a ring, and the middles of its stretches between the places where it meets another. */
function probes(a: Ring, b: Ring): { readonly at: Point; readonly inward: Point }[] {
  const other = curveOf(b);
  return ringSegments(counterClockwise(a)).flatMap((s) => {
    const cuts: number[] = [];
    visitNear(
      segmentBounds(s),
      other,
      () => TOUCHING,
      (k) => {
        for (const p of segmentIntersections(s, other.segments[k]!)) cuts.push(fractionAlong(s, p));
      },
    );
    cuts.sort((x, y) => x - y);
    const ends = [0, ...cuts, 1];
    const places = [0, ...ends.slice(1).flatMap((f, i) => (f > ends[i]! ? [(f + ends[i]!) / 2] : []))];
    return places.map((f) => {
      const at = pointAlong(s, f);
      const d = directionAt(s, at);
      return { at, inward: { x: at.x - d.y * NUDGE, y: at.y + d.x * NUDGE } };
    });
  });
}

/** How far inward of an edge that two rings share one looks for their insides, mm: two grid steps. */
const NUDGE = 0.0002;

function depthIn(r: Ring, p: Point): number {
  const { box } = curveOf(r);
  if (p.x <= box.minX || p.y <= box.minY || p.x >= box.maxX || p.y >= box.maxY) return 0;
  return pointInRing(r, p) === 'inside' ? pointRingDistance(r, p) : 0;
}

/**
 * How deep two rings lie in each other, and the deepest place: the greatest depth of a corner, or of the middle
 * of a stretch between crossings; 0 when they only touch. Seen from half a grid step (0.00005 mm) on. Where
 * they share edges with both insides on one side, the lesser side of what their boxes share.
 */
export function overlapDepth(a: Ring, b: Ring): Gap {
  let best: Gap = { distance: 0, at: a.vertices[0]! };
  const p = ringBounds(a);
  const q = ringBounds(b);
  const shared = Math.min(
    Math.min(p.maxX, q.maxX) - Math.max(p.minX, q.minX),
    Math.min(p.maxY, q.maxY) - Math.max(p.minY, q.minY),
  );
  if (shared <= 0) return best;
  // Curves that do not meet: one ring lies in the other when any of its corners does.
  const apart = ringGap(a, b).distance > 0;
  if (apart && pointInRing(a, b.vertices[0]!) !== 'inside' && pointInRing(b, a.vertices[0]!) !== 'inside')
    return best;
  let common: Point | undefined;
  for (const [r, other] of [
    [a, b],
    [b, a],
  ] as const)
    for (const { at, inward } of probes(r, other)) {
      const depth = depthIn(other, at);
      if (depth > best.distance) best = { distance: depth, at };
      if (
        depth === 0 &&
        depthIn(other, inward) > 0 &&
        depthIn(r, inward) > 0 &&
        pointInRing(other, at) === 'on'
      )
        common ??= inward;
    }
  return best.distance === 0 && common ? { distance: shared, at: common } : best;
}

/** How far `inner` reaches out of `outer`, mm, and where; 0 when it lies within, touching allowed. */
export function reachOutside(inner: Ring, outer: Ring): Gap {
  let best: Gap = { distance: 0, at: inner.vertices[0]! };
  const apart = ringGap(inner, outer).distance > 0;
  if (apart && pointInRing(outer, inner.vertices[0]!) === 'inside') return best;
  for (const { at } of probes(inner, outer)) {
    if (pointInRing(outer, at) !== 'outside') continue;
    const distance = pointRingDistance(outer, at);
    if (distance > best.distance) best = { distance, at };
  }
  return best;
}
