import { type Motion, movePoint, type Point, type Ring, ringArea, ringBounds } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import { intoAir, type WantedContour, wantedContours } from '../wanted/wanted-contour.js';

/** A place on a part's through contour: unit vectors into the air and along, with the material on the left. */
export interface Sample {
  readonly p: Point;
  readonly air: Point;
  readonly along: Point;
  /** The length of contour that it speaks for, mm; less on arcs, which a program may follow by chords. */
  readonly weight: number;
  /** The straight edge that it lies on; −1 on an arc. */
  readonly edge: number;
}

/** A straight edge of an outline. */
export interface Edge {
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
}

/** What a part is known by: its outline and through cuts, the rest by depth. mm */
export interface PartShape {
  readonly part: Part;
  readonly contours: readonly WantedContour[];
  readonly samples: readonly Sample[];
  /** A few of the samples, spread over all. */
  readonly few: readonly Sample[];
  /** The longest straight edges of the outline, longest first. */
  readonly edges: readonly Edge[];
  /** Area that stays at the underside. */
  readonly area: number;
  /** The middle of the outline's box. */
  readonly middle: Point;
}

/** Samples of a part in all, about; and of those that are tried first. */
const SAMPLES = 220;
const FEW = 32;
const EDGES = 10;
/** Chords stand off an arc, so arcs speak more softly than straight edges. */
const ARC = 0.2;

function samplesOf(contours: readonly WantedContour[]): Sample[] {
  const lengthOf = (s: WantedContour['segments'][number]): number =>
    s.kind === 'line' ? Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) : s.radius * Math.abs(s.sweep);
  const all = contours.flatMap((c) => c.segments.map((s) => ({ c, s, length: lengthOf(s) })));
  const step = all.reduce((sum, a) => sum + a.length, 0) / SAMPLES;
  return all.flatMap(({ c, s, length }, edge) => {
    if (length < 0.5) return [];
    const n = Math.max(2, Math.min(40, Math.ceil(length / step)));
    return Array.from({ length: n }, (_, i): Sample => {
      const t = (i + 0.5) / n;
      let p: Point;
      if (s.kind === 'line')
        p = { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
      else {
        const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x) + s.sweep * t;
        p = { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
      }
      const air = intoAir(c, s, p);
      const line = s.kind === 'line';
      return {
        p,
        air,
        along: { x: -air.y, y: air.x },
        weight: (length / n) * (line ? 1 : ARC),
        edge: line ? edge : -1,
      };
    });
  });
}

function edgesOf(contour: WantedContour): Edge[] {
  return contour.segments
    .flatMap((s): Edge[] =>
      s.kind === 'line'
        ? [{ from: s.from, to: s.to, length: Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y) }]
        : [],
    )
    .sort((a, b) => b.length - a.length || a.from.x - b.from.x || a.from.y - b.from.y)
    .slice(0, EDGES);
}

/** What a part is known by. */
export function shapeOf(part: Part): PartShape {
  const contours = wantedContours(part, 0).filter((c) => c.floor === null);
  const samples = samplesOf(contours);
  const every = Math.max(1, samples.length / FEW);
  const few = Array.from(
    { length: Math.min(FEW, samples.length) },
    (_, i) => samples[Math.floor(i * every)]!,
  );
  const b = ringBounds(part.outline.ring);
  const inner = contours.slice(1).reduce((sum, c) => sum + Math.abs(ringArea(c.ring)), 0);
  return {
    part,
    contours,
    samples,
    few,
    edges: edgesOf(contours[0]!),
    area: Math.abs(ringArea(part.outline.ring)) - inner,
    middle: { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 },
  };
}

const curve = (r: Ring, o: Point): string =>
  r.vertices
    .map((v) => `${(v.x - o.x).toFixed(3)},${(v.y - o.y).toFixed(3)},${Math.round((v.bulge ?? 0) * 1e6) + 0}`)
    .join(' ');

/** A name that parts share which are alike, moved without turning; the same for all that they are known by. */
export function shapeName(part: Part): string {
  const b = ringBounds(part.outline.ring);
  const o = { x: b.minX, y: b.minY };
  return [
    curve(part.outline.ring, o),
    ...part.through.map((c) => curve(c.ring, o)).sort(),
    ...part.pockets.map((c) => `${c.depth} ${curve(c.ring, o)}`).sort(),
    ...part.holes
      .map(
        (h) =>
          `${(h.centre.x - o.x).toFixed(3)},${(h.centre.y - o.y).toFixed(3)},${h.diameter},${String(h.depth)}`,
      )
      .sort(),
  ].join('|');
}

/** A sample carried by a motion without mirroring. */
export function moveSample(m: Motion, s: Sample): Sample {
  const turned = { ...m, dx: 0, dy: 0 };
  return {
    ...s,
    p: movePoint(m, s.p),
    air: movePoint(turned, s.air),
    along: movePoint(turned, s.along),
  };
}
