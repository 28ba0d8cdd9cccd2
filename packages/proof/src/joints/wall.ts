import { distance, type Point, ringSegments, type Segment } from '@haunch/geometry';
import { REACH, type TrackIndex } from '../sweep/track-index.js';
import { intoAir, type WantedContour } from '../wanted/wanted-contour.js';

/** A wanted edge of a contour that is measured as cut: a stretch of it where it is plain wall. */
export interface Wall {
  readonly contour: WantedContour;
  readonly segment: Segment;
  /** Unit vector along it, and into the air (in its middle). */
  readonly along: Point;
  readonly air: Point;
  readonly length: number;
  /** What is left of it, from its start, without reliefs and corner fillets. mm */
  readonly window: readonly [number, number];
}

/** Left out at the end of a wall beside a relief or another edge that turns away, mm. */
const BESIDE = 0.5;
/** A wall is looked for from this far out in the air, mm: less material than this before it is part of it. */
const OUT = 0.5;
/** Greatest distance between two places that are measured, mm; between the cutter's turns a wall is plain. */
const STEP = 4;

const lengthOf = (s: Segment): number =>
  s.kind === 'line' ? distance(s.from, s.to) : Math.abs(s.sweep) * s.radius;

const direction = (s: Segment, end: 'from' | 'to'): Point => {
  if (s.kind === 'line') {
    const l = distance(s.from, s.to);
    return { x: (s.to.x - s.from.x) / l, y: (s.to.y - s.from.y) / l };
  }
  const p = s[end];
  const turn = Math.sign(s.sweep) / s.radius;
  return { x: -(p.y - s.centre.y) * turn, y: (p.x - s.centre.x) * turn };
};

/**
 * How much of a wall the fillet takes that a round cutter leaves in the corner with the neighbouring edge:
 * r·cot(θ/2), θ the corner's angle on the air's side (reference value C14's tangent length).
 */
function fillet(contour: WantedContour, before: Segment, after: Segment, radius: number): number {
  const d = direction(before, 'to');
  const e = direction(after, 'from');
  const turn = Math.atan2(d.x * e.y - d.y * e.x, d.x * e.x + d.y * e.y);
  const airTurn = contour.kind === 'outline' ? -turn : turn;
  return airTurn <= 1e-6 ? 0 : radius * Math.tan(Math.min(airTurn, Math.PI - 0.1) / 2);
}

/** The straight walls of a contour that carry an edge id. `radius` is that of the cutter. */
export function wallsOf(contour: WantedContour, tag: string, radius: number): Wall[] {
  const segments = contour.segments;
  return segments.flatMap((segment, i): Wall[] => {
    if (segment.tag !== tag || segment.kind !== 'line') return [];
    const length = lengthOf(segment);
    const before = segments[(i + segments.length - 1) % segments.length]!;
    const after = segments[(i + 1) % segments.length]!;
    const least = length / 4;
    const start = Math.min(least, Math.max(BESIDE, fillet(contour, before, segment, radius) + 0.01));
    const end = Math.min(least, Math.max(BESIDE, fillet(contour, segment, after, radius) + 0.01));
    return [
      {
        contour,
        segment,
        along: direction(segment, 'from'),
        air: intoAir(contour, segment, segment.from),
        length,
        window: [start, length - end],
      },
    ];
  });
}

/** The place on a wall at a distance from its start. */
export const onWall = (w: Wall, s: number): Point => ({
  x: w.segment.from.x + w.along.x * s,
  y: w.segment.from.y + w.along.y * s,
});

/** Where a wall was really cut at one place. */
export interface WallCut {
  /** How far into the material it lies from where it is wanted (negative: material stands out of it). mm */
  readonly off: number;
  /** The place, on the edge as cut. */
  readonly at: Point;
}

/**
 * Looks from the air at a wanted wall and finds the edge as cut, exactly, within 2 mm on both sides. Material that
 * fills the air as far as that answers −2 mm; no material as far as that, 2 mm.
 */
export function wallCut(removed: TrackIndex, p: Point, air: Point): WallCut {
  const open = removed.along(p, air).find(([, high]) => high >= OUT);
  const at = open === undefined ? REACH : open[0];
  return { off: -at, at: { x: p.x + air.x * at, y: p.y + air.y * at } };
}

/** Places along a wall where its cut edge may turn: ends of the cutter's ways, the middles between, and every mm. */
export function measuringPlaces(
  w: Wall,
  removed: TrackIndex,
  [from, to]: readonly [number, number],
): number[] {
  const found = new Set<number>([from, to]);
  const n = Math.max(1, Math.ceil((to - from) / STEP));
  for (let i = 1; i < n; i++) found.add(from + ((to - from) * i) / n);
  const seen = new Set<unknown>();
  for (const s of [...found])
    for (const t of removed.near(onWall(w, s))) {
      if (seen.has(t)) continue;
      seen.add(t);
      for (const p of t.kind === 'arc' ? [t.a, t.b, t.centre] : [t.a, t.b]) {
        const dx = p.x - w.segment.from.x;
        const dy = p.y - w.segment.from.y;
        const along = dx * w.along.x + dy * w.along.y;
        if (along > from && along < to && Math.abs(dx * w.air.x + dy * w.air.y) < t.radius + REACH)
          found.add(along);
      }
    }
  const sorted = [...found].sort((a, b) => a - b);
  return sorted.flatMap((s, i) => {
    const next = sorted[i + 1];
    return next === undefined || next - s < 0.01 ? [s] : [s, (s + next) / 2];
  });
}

/** All edge ids of a contour without reliefs in order, with their segments. */
export const bareEdges = (contour: WantedContour): Segment[] => ringSegments(contour.bare);
