import type { Point } from './point.js';
import { rayCrossings } from './ray-crossings.js';
import { type Region, type Ring, ringSegments, type Segment } from './ring.js';
import { type Box, segmentBounds } from './ring-bounds.js';
import { arcHolds } from './segment-course.js';
import { nearestOnSegment, pointSegmentDistance } from './segment-distance.js';

/** A circle, mm. */
export interface Circle {
  readonly centre: Point;
  readonly radius: number;
}

/** The search ends where no circle can be larger than the one found by this much, mm. */
const WITHIN = 2e-5;

/** Squares are halved no further than this, as a share of the whole box: rounding has the last word then. */
const SMALLEST = 2 ** -40;

/**
 * The largest circle in a simple ring or a region, its radius within 0.00002 mm below the largest there is;
 * undefined where none has room. Arcs are exact; which way rings run does not matter.
 *
 * Squares of the box round the ring are halved, best first, as long as a larger circle may be centred in them.
 * How large is bounded by planes over the distances to single segments (distance to a line is such a plane
 * itself, so that a channel is settled in whole squares); the place where the planes let most room is tried as
 * a centre. Best-first halving is usual for this problem; the planes are our own addition.
 */
export function inscribedCircle(of: Ring | Region): Circle | undefined {
  const rings = 'outer' in of ? [of.outer, ...of.holes] : [of];
  const segments = rings.flatMap(ringSegments);
  if (segments.length === 0) return undefined;
  const boxes = segments.map(segmentBounds);
  const bounds = boxes.reduce((a, b) => ({
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  }));
  const width = bounds.maxX - bounds.minX;
  const height = bounds.maxY - bounds.minY;
  const half = Math.min(width, height) / 2;
  if (!(half > 0)) return undefined;
  let best: Circle | undefined;
  let least = 0;
  const all = segments.map((_, i) => i);
  const heap: Square[] = [];
  const columns = Math.ceil(width / (2 * half));
  const rows = Math.ceil(height / (2 * half));
  const look = (x: number, y: number, h: number, candidates: readonly number[], limit: number): void => {
    const square = lookAt(segments, boxes, x, y, h, candidates);
    if (square.room > least) {
      least = square.room;
      best = { centre: { x, y }, radius: least };
    }
    let most = Math.min(limit, square.most);
    if (most <= least + WITHIN || h < half * SMALLEST) return;
    if (square.room > 0) {
      const { value, at } = roomUnderPlanes(segments, x, y, h, square.near, square.distances);
      most = Math.min(most, value);
      if (most <= least + WITHIN) return;
      const p = { x: x + at.x, y: y + at.y };
      const room = roomAt(segments, boxes, p, square.near);
      if (room > least) {
        least = room;
        best = { centre: p, radius: room };
      }
      if (most <= least + WITHIN) return;
    }
    push(heap, { x, y, h, most, near: square.near });
  };
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++)
      look(
        bounds.minX + (width * (i + 0.5)) / columns,
        bounds.minY + (height * (j + 0.5)) / rows,
        half,
        all,
        half + WITHIN,
      );
  for (let next = pop(heap); next && next.most > least + WITHIN; next = pop(heap)) {
    const h = next.h / 2;
    for (const [sx, sy] of QUARTERS) look(next.x + sx * h, next.y + sy * h, h, next.near, next.most);
  }
  return best;
}

const QUARTERS = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
] as const;

/** A square by its middle and half its side, and the most room that a circle centred in it may have. */
interface Square {
  readonly x: number;
  readonly y: number;
  readonly h: number;
  readonly most: number;
  /** The segments that can be the nearest to a place in it. */
  readonly near: readonly number[];
}

interface Look {
  /** The distance to the nearest segment, negative outside. */
  readonly room: number;
  readonly most: number;
  readonly near: number[];
  readonly distances: number[];
}

function lookAt(
  segments: readonly Segment[],
  boxes: readonly Box[],
  x: number,
  y: number,
  h: number,
  candidates: readonly number[],
): Look {
  const p = { x, y };
  const reach = h * Math.SQRT2;
  const measured: number[] = [];
  let nearest = Infinity;
  for (const i of candidates) {
    const b = boxes[i]!;
    const dx = Math.max(0, b.minX - x, x - b.maxX);
    const dy = Math.max(0, b.minY - y, y - b.maxY);
    const limit = nearest + 2 * reach;
    const d = dx * dx + dy * dy > limit * limit ? Infinity : pointSegmentDistance(segments[i]!, p);
    measured.push(d);
    if (d < nearest) nearest = d;
  }
  const near: number[] = [];
  const distances: number[] = [];
  for (let k = 0; k < candidates.length; k++)
    if (measured[k]! <= nearest + 2 * reach) {
      near.push(candidates[k]!);
      distances.push(measured[k]!);
    }
  const room = isInside(segments, boxes, p) ? nearest : -nearest;
  return { room, most: room + reach, near, distances };
}

/** Whether rings wind round a point, holes taken as passing it twice: inside one ring but no hole of it. */
function isInside(segments: readonly Segment[], boxes: readonly Box[], p: Point): boolean {
  let passes = 0;
  for (let i = 0; i < segments.length; i++) {
    const b = boxes[i]!;
    if (p.y < b.minY || p.y > b.maxY || p.x > b.maxX) continue;
    passes += rayCrossings(segments[i]!, p);
  }
  // Each ring counts ±1 or 0 whichever way it runs, so that odd means within an odd number of them.
  return passes % 2 !== 0;
}

function roomAt(
  segments: readonly Segment[],
  boxes: readonly Box[],
  p: Point,
  near: readonly number[],
): number {
  let nearest = Infinity;
  for (const i of near) nearest = Math.min(nearest, pointSegmentDistance(segments[i]!, p));
  return isInside(segments, boxes, p) ? nearest : -nearest;
}

/** a + g·δ: what a distance is at most, at δ from the middle of a square, all over the square. */
interface Plane {
  readonly a: number;
  readonly x: number;
  readonly y: number;
}

/**
 * The most that all distances can be in a square: the highest place under planes over them. Only planes that cut
 * off the highest place found so far are taken in, one after the other; leaving one out never gives less.
 */
function roomUnderPlanes(
  segments: readonly Segment[],
  x: number,
  y: number,
  h: number,
  near: readonly number[],
  distances: readonly number[],
): { value: number; at: Point } {
  const planes = near.map((i, k) => planeOver(segments[i]!, { x, y }, distances[k]!, h));
  const taken: Plane[] = [];
  let top = { value: Infinity, at: { x: 0, y: 0 } };
  for (let round = 0; round < 12; round++) {
    let lowest: Plane | undefined;
    let height = Infinity;
    for (const p of planes) {
      const v = p.a + p.x * top.at.x + p.y * top.at.y;
      if (v < height) {
        height = v;
        lowest = p;
      }
    }
    if (!lowest || height >= top.value - WITHIN / 8 || taken.includes(lowest)) break;
    taken.push(lowest);
    top = highest(taken, h);
  }
  return top;
}

function planeOver(s: Segment, c: Point, d: number, h: number): Plane {
  const reach = h * Math.SQRT2;
  const steep = { a: d + reach, x: 0, y: 0 };
  if (d <= reach) return steep;
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const l = Math.sqrt(dx * dx + dy * dy);
    const along = ((c.x - s.from.x) * dx + (c.y - s.from.y) * dy) / l;
    const side = (dx * (c.y - s.from.y) - dy * (c.x - s.from.x)) / l;
    // Square above the line all over, the distance is a plane.
    if (along >= reach && along <= l - reach)
      return { a: d, x: (-dy / l) * Math.sign(side), y: (dx / l) * Math.sign(side) };
  } else {
    const rx = c.x - s.centre.x;
    const ry = c.y - s.centre.y;
    const r = Math.sqrt(rx * rx + ry * ry);
    if (r < s.radius && r > 0 && seesSquare(s, c, h)) {
      // Inside its circle the distance to an arc bends down: below its tangent plane everywhere.
      return { a: d, x: -rx / r, y: -ry / r };
    }
    if (r > s.radius && r > reach && arcHolds(s, c.x, c.y)) {
      // Outside it bends up like the distance to the centre. Beyond an end the distance is greater than to the
      // circle, so that the place of the arc that is nearest to the middle has to do there.
      if (seesSquare(s, c, h)) return { a: d + bend(r, h), x: rx / r, y: ry / r };
    }
  }
  const q = nearestOnSegment(s, c);
  return { a: d + bend(d, h), x: (c.x - q.x) / d, y: (c.y - q.y) / d };
}

/** By how much the distance to a point `d` away rises over its tangent plane at most, all over a square. */
const bend = (d: number, h: number): number => (h * h) / (d - h * Math.SQRT2);

/** Whether all four corners of a square, and so all of it, lie within the opening of an arc. */
function seesSquare(s: { centre: Point } & Extract<Segment, { kind: 'arc' }>, c: Point, h: number): boolean {
  for (const [sx, sy] of QUARTERS) if (!arcHolds(s, c.x + sx * h, c.y + sy * h)) return false;
  // An opening of more than half a turn is not convex, and the centre itself is in no opening.
  if (Math.abs(s.sweep) >= 2 * Math.PI) return true;
  const inside = Math.abs(c.x - s.centre.x) <= h && Math.abs(c.y - s.centre.y) <= h;
  return !inside && Math.abs(s.sweep) <= Math.PI;
}

/**
 * The highest place under planes in a square of half side `h`. By duality it is where one plane rises to a corner,
 * two meet on an edge or lean against each other, or three hold it.
 */
function highest(planes: readonly Plane[], h: number): { value: number; at: Point } {
  let best = { value: Infinity, at: { x: 0, y: 0 } };
  const n = planes.length;
  // A mean of planes with weights that add up to 1 is over the least of them; its own top is at a corner.
  const offer = (value: number, at: () => Point): void => {
    if (value < best.value) best = { value, at: at() };
  };
  for (let i = 0; i < n; i++) {
    const p = planes[i]!;
    offer(p.a + h * (Math.abs(p.x) + Math.abs(p.y)), () => ({
      x: h * Math.sign(p.x),
      y: h * Math.sign(p.y),
    }));
    for (let j = 0; j < i; j++) {
      const q = planes[j]!;
      for (const w of [weight(p.x, q.x), weight(p.y, q.y)]) {
        if (!(w > 0 && w < 1)) continue;
        const gx = w * p.x + (1 - w) * q.x;
        const gy = w * p.y + (1 - w) * q.y;
        const value = w * p.a + (1 - w) * q.a + h * (Math.abs(gx) + Math.abs(gy));
        offer(value, () => meeting(p, q, gx, gy, h));
      }
      for (let k = 0; k < j; k++) {
        const r = planes[k]!;
        // Weights that make the mean level.
        const u = q.x * r.y - q.y * r.x;
        const v = r.x * p.y - r.y * p.x;
        const w = p.x * q.y - p.y * q.x;
        const sum = u + v + w;
        if (sum === 0 || !(u / sum > 0 && v / sum > 0 && w / sum > 0)) continue;
        offer((u * p.a + v * q.a + w * r.a) / sum, () => meetingOfThree(p, q, r, h));
      }
    }
  }
  return best;
}

/** The weight of the first of two slopes that makes their mean level. */
const weight = (a: number, b: number): number => (a === b ? Number.NaN : -b / (a - b));

const clamp = (v: number, h: number): number => Math.max(-h, Math.min(h, v));

/** Where two planes are level with each other, as far up their mean slope as the square goes. */
function meeting(p: Plane, q: Plane, gx: number, gy: number, h: number): Point {
  const dx = p.x - q.x;
  const dy = p.y - q.y;
  const da = q.a - p.a;
  const flat = 1e-12;
  if (Math.abs(gx) <= flat && Math.abs(gy) > flat && dx !== 0) {
    const y = h * Math.sign(gy);
    return { x: clamp((da - dy * y) / dx, h), y };
  }
  if (Math.abs(gy) <= flat && Math.abs(gx) > flat && dy !== 0) {
    const x = h * Math.sign(gx);
    return { x, y: clamp((da - dx * x) / dy, h) };
  }
  const k = da / (dx * dx + dy * dy);
  return { x: clamp(dx * k, h), y: clamp(dy * k, h) };
}

function meetingOfThree(p: Plane, q: Plane, r: Plane, h: number): Point {
  const [ax, ay, a] = [p.x - q.x, p.y - q.y, q.a - p.a];
  const [bx, by, b] = [p.x - r.x, p.y - r.y, r.a - p.a];
  const det = ax * by - ay * bx;
  if (det === 0) return { x: 0, y: 0 };
  return { x: clamp((a * by - ay * b) / det, h), y: clamp((ax * b - a * bx) / det, h) };
}

/** Puts a square into the heap, the one with the most room on top. */
function push(heap: Square[], s: Square): void {
  let i = heap.push(s) - 1;
  while (i > 0) {
    const up = (i - 1) >> 1;
    if (heap[up]!.most >= s.most) break;
    heap[i] = heap[up]!;
    i = up;
  }
  heap[i] = s;
}

function pop(heap: Square[]): Square | undefined {
  const top = heap[0];
  const last = heap.pop();
  if (top === undefined || last === undefined || heap.length === 0) return top;
  let i = 0;
  for (;;) {
    let down = 2 * i + 1;
    if (down >= heap.length) break;
    if (down + 1 < heap.length && heap[down + 1]!.most > heap[down]!.most) down++;
    if (heap[down]!.most <= last.most) break;
    heap[i] = heap[down]!;
    i = down;
  }
  heap[i] = last;
  return top;
}
