import { distance, type Point, type Segment } from '@haunch/geometry';

/** Stretches that follow each other, in the direction of travel. mm. */
export type Path = readonly Segment[];

export const segmentLength = (s: Segment): number =>
  s.kind === 'line' ? distance(s.from, s.to) : s.radius * Math.abs(s.sweep);

export const pathLength = (p: Path): number => p.reduce((sum, s) => sum + segmentLength(s), 0);

const angleAt = (s: Extract<Segment, { kind: 'arc' }>, t: number): number =>
  Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep * t;

/** The point `along` mm from a segment's start. */
export function pointAlong(s: Segment, along: number): Point {
  const length = segmentLength(s);
  if (along <= 0 || length === 0) return s.from;
  if (along >= length) return s.to;
  const t = along / length;
  if (s.kind === 'line')
    return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
  const a = angleAt(s, t);
  return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
}

/** The unit direction of travel `along` mm from a segment's start. */
export function directionAlong(s: Segment, along: number): Point {
  const length = segmentLength(s);
  if (s.kind === 'line') return { x: (s.to.x - s.from.x) / length, y: (s.to.y - s.from.y) / length };
  const a = angleAt(s, Math.min(1, Math.max(0, along / length)));
  const side = s.sweep > 0 ? 1 : -1;
  return { x: -Math.sin(a) * side, y: Math.cos(a) * side };
}

export function reverseSegment(s: Segment): Segment {
  return s.kind === 'line'
    ? { ...s, from: s.to, to: s.from }
    : { ...s, from: s.to, to: s.from, sweep: -s.sweep };
}

export const reversePath = (p: Path): Path => [...p].reverse().map(reverseSegment);

/** The stretch of a segment between two distances from its start. */
export function sliceSegment(s: Segment, a: number, b: number): Segment {
  const length = segmentLength(s);
  if (a <= 0 && b >= length) return s;
  const from = pointAlong(s, a);
  const to = pointAlong(s, b);
  return s.kind === 'line'
    ? { ...s, from, to }
    : { ...s, from, to, sweep: (s.sweep * (Math.min(b, length) - Math.max(a, 0))) / length };
}

/** The stretch of an open path between two distances from its start; empty where a ≥ b. */
export function slicePath(p: Path, a: number, b: number): Path {
  const out: Segment[] = [];
  let before = 0;
  for (const s of p) {
    const length = segmentLength(s);
    const from = Math.max(0, a - before);
    const to = Math.min(length, b - before);
    if (to - from > 1e-9) out.push(sliceSegment(s, from, to));
    before += length;
  }
  return out;
}

/** A closed path that starts and ends `along` mm into its segment `index`. */
export function startAt(p: Path, index: number, along: number): Path {
  const s = p[index];
  if (s === undefined) throw new RangeError(`startAt: the path has no segment ${index}`);
  const length = segmentLength(s);
  const head = along < length - 1e-6 ? [sliceSegment(s, along, length)] : [];
  const tail = along > 1e-6 ? [sliceSegment(s, 0, along)] : [];
  return [...head, ...p.slice(index + 1), ...p.slice(0, index), ...tail];
}

export const line = (from: Point, to: Point): Segment => ({ kind: 'line', from, to });

/** The quarter circle from `from` to `to` that reaches or leaves the line through `centre` square. */
export function quarter(from: Point, to: Point, centre: Point, turn: 'cw' | 'ccw'): Segment {
  return {
    kind: 'arc',
    from,
    to,
    centre,
    radius: distance(centre, to),
    sweep: ((turn === 'ccw' ? 1 : -1) * Math.PI) / 2,
  };
}

/** `p` moved by `by` mm along `direction`. */
export const moved = (p: Point, direction: Point, by: number): Point => ({
  x: p.x + direction.x * by,
  y: p.y + direction.y * by,
});

/** The direction that points left of travel. */
export const leftOf = (t: Point): Point => ({ x: -t.y, y: t.x });
