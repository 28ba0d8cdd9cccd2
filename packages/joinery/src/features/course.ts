import {
  type ArcSegment,
  distance,
  type LineSegment,
  type Point,
  type Ring,
  reverseRing,
  ringArea,
  type Segment,
  segmentOfBulge,
  type Vertex,
} from '@haunch/geometry';
import type { Contour, Part } from '@haunch/model';

/** Side of a counter-clockwise contour on which the air is: right of an outline (−1), left of a cut (1). */
export type AirSide = -1 | 1;

/** A contour made ready for questions: walked counter-clockwise, without segments of no length. mm */
export interface Course {
  readonly part: string;
  readonly contour: string;
  readonly air: AirSide;
  /** True where the contour itself runs clockwise; `vertices` are then those of its reverse. */
  readonly reversed: boolean;
  readonly vertices: readonly Vertex[];
  readonly segments: readonly Segment[];
  /** For each vertex the segment that starts at it, or at the next vertex of the same place. */
  readonly segmentAt: readonly number[];
  /** The vertex at which each segment starts. */
  readonly vertexAt: readonly number[];
  /** What each segment is called: its tag, or `<contour>/#k` where tags are missing or not its own. */
  readonly names: readonly string[];
}

/** A straight stretch of one or more collinear segments, or an arc of one or more. `segments` follow each other. */
export interface Stretch {
  readonly segments: readonly number[];
  readonly line: LineSegment | null;
  readonly arc: ArcSegment | null;
  readonly length: number;
}

/** Segments of one wall may be drawn this far off its line, mm: what chaining at 0.01 mm can leave. */
const STRAIGHT = 0.005;
/** And turn by this sine at most, unless they are shorter than `CRUMB`. */
const BENT = 0.01;
const CRUMB = 0.05;

/** The contour as a course. */
export function courseOf(part: string, contour: Contour, air: AirSide, ring: Ring = contour.ring): Course {
  const reversed = ringArea(ring) < 0;
  const { vertices } = reversed ? reverseRing(ring) : ring;
  const n = vertices.length;
  const segments: Segment[] = [];
  const vertexAt: number[] = [];
  const own: number[] = [];
  vertices.forEach((v, i) => {
    const w = vertices[(i + 1) % n]!;
    if (v.x === w.x && v.y === w.y) return;
    own[i] = segments.length;
    vertexAt.push(i);
    segments.push(segmentOfBulge(v, w, v.bulge, v.tag));
  });
  const segmentAt: number[] = [];
  let next = 0;
  for (let k = 2 * n - 1; k >= 0; k--) {
    next = own[k % n] ?? next;
    segmentAt[k % n] = next;
  }
  const count = new Map<string, number>();
  for (const s of segments) if (s.tag !== undefined) count.set(s.tag, (count.get(s.tag) ?? 0) + 1);
  const names = segments.map((s, i) =>
    s.tag !== undefined && count.get(s.tag) === 1 ? s.tag : `${contour.id}/#${vertexAt[i]}`,
  );
  return { part, contour: contour.id, air, reversed, vertices, segments, segmentAt, vertexAt, names };
}

/** All contours of a part that can bear a feature: outline, through cuts, pockets, in this order. */
export const coursesOf = (part: Part): { readonly contour: Contour; readonly air: AirSide }[] => [
  { contour: part.outline, air: -1 },
  ...part.through.map((contour) => ({ contour, air: 1 as const })),
  ...part.pockets.map((contour) => ({ contour, air: 1 as const })),
];

/** The sine of the turn from one direction to another. */
const sine = (a: LineSegment, b: LineSegment): number => {
  const [ax, ay, bx, by] = [a.to.x - a.from.x, a.to.y - a.from.y, b.to.x - b.from.x, b.to.y - b.from.y];
  return (ax * by - ay * bx) / (Math.hypot(ax, ay) * Math.hypot(bx, by));
};

const offLine = (p: Point, a: Point, b: Point): number =>
  Math.abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / distance(a, b);

/** Whether segment `s` goes on with the straight stretch `run` that ends where it begins. */
function goesOn(run: readonly LineSegment[], s: LineSegment): boolean {
  const first = run[0]!;
  const last = run.at(-1)!;
  const forward =
    (s.to.x - s.from.x) * (last.to.x - last.from.x) + (s.to.y - s.from.y) * (last.to.y - last.from.y) > 0;
  if (!forward) return false;
  const crumb = Math.min(distance(s.from, s.to), distance(last.from, last.to)) < CRUMB;
  if (!crumb && Math.abs(sine(last, s)) > BENT) return false;
  return run.every((r) => offLine(r.to, first.from, s.to) <= STRAIGHT);
}

/** Arcs that follow each other on one circle, the same way round, for less than a full turn together. */
const oneCircle = (a: ArcSegment, b: ArcSegment): boolean =>
  distance(a.centre, b.centre) <= STRAIGHT &&
  Math.abs(a.radius - b.radius) <= STRAIGHT &&
  a.sweep * b.sweep > 0 &&
  Math.abs(a.sweep + b.sweep) < 1.9 * Math.PI;

const joined = (last: Stretch, a: ArcSegment, b: ArcSegment, i: number): Stretch => ({
  segments: [...last.segments, i],
  line: null,
  arc: { ...a, to: b.to, sweep: a.sweep + b.sweep },
  length: last.length + b.radius * Math.abs(b.sweep),
});

/** The course as stretches, each run on one line or circle in one; starts at a corner, so the first vertex does not matter. */
export function stretchesOf(course: Course): Stretch[] {
  const { segments } = course;
  const n = segments.length;
  if (n === 0) return [];
  const corner = (i: number): boolean => {
    const [a, b] = [segments[(i + n - 1) % n]!, segments[i]!];
    if (a.kind === 'arc' && b.kind === 'arc') return !oneCircle(a, b);
    return a.kind !== 'line' || b.kind !== 'line' || !goesOn([a], b);
  };
  let start = 0;
  while (start < n && !corner(start)) start++;
  const out: Stretch[] = [];
  let run: LineSegment[] = [];
  let numbers: number[] = [];
  const close = (): void => {
    if (run.length === 0) return;
    const line: LineSegment = { kind: 'line', from: run[0]!.from, to: run.at(-1)!.to };
    out.push({ segments: numbers, line, arc: null, length: distance(line.from, line.to) });
    run = [];
    numbers = [];
  };
  for (let k = 0; k < n; k++) {
    const i = (start + k) % n;
    const s = segments[i]!;
    if (s.kind === 'arc') {
      close();
      const last = out.at(-1);
      if (last?.arc && oneCircle(last.arc, s) && k > 0 && last.segments.at(-1) === (i + n - 1) % n)
        out[out.length - 1] = joined(last, last.arc, s, i);
      else out.push({ segments: [i], line: null, arc: s, length: s.radius * Math.abs(s.sweep) });
      continue;
    }
    if (run.length > 0 && !goesOn(run, s)) close();
    run.push(s);
    numbers.push(i);
  }
  close();
  return out;
}
