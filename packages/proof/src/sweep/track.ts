import type { Point } from '@haunch/geometry';
import { angleInSweep } from '@haunch/geometry';
import { placeAt, type Stretch, shareBelow } from './stretch.js';

interface Made {
  /** Radius of the cutter that runs along it, mm. */
  readonly radius: number;
  /** Line of the program, and place in the order of execution. */
  readonly line: number;
  readonly index: number;
  /** Whether the tip stays at one height; false for ramps and ways straight down. */
  readonly level: boolean;
}

/** A straight way of the cutter's axis in the plane; a point where it goes straight down. */
export interface LineTrack extends Made {
  readonly kind: 'line';
  readonly a: Point;
  readonly b: Point;
}

/** A circular way of the cutter's axis in the plane. */
export interface ArcTrack extends Made {
  readonly kind: 'arc';
  readonly a: Point;
  readonly b: Point;
  readonly centre: Point;
  readonly r: number;
  readonly start: number;
  readonly sweep: number;
}

/** The part of a stretch, seen from above, over which the tip is at or below some height. */
export type Track = LineTrack | ArcTrack;

/** Less than this is no sweep at all, radians. */
const NO_SWEEP = 1e-9;

/** What a stretch contributes at a height with its full diameter; null when that stays above it or no cutter is known. */
export function trackBelow(s: Stretch, height: number): Track | null {
  if (s.radius <= 0) return null;
  const share = shareBelow(s, height - s.point);
  if (share === null) return null;
  const a = placeAt(s, share[0]);
  const b = placeAt(s, share[1]);
  const made = { radius: s.radius, line: s.line, index: s.index, level: s.from.z === s.to.z };
  const sweep = s.sweep * (share[1] - share[0]);
  if (s.centre === null || Math.abs(sweep) < NO_SWEEP)
    return { kind: 'line', a: { x: a.x, y: a.y }, b: { x: b.x, y: b.y }, ...made };
  const c = s.centre;
  return {
    kind: 'arc',
    a: { x: a.x, y: a.y },
    b: { x: b.x, y: b.y },
    centre: { x: c.x, y: c.y },
    r: (Math.hypot(a.x - c.x, a.y - c.y) + Math.hypot(b.x - c.x, b.y - c.y)) / 2,
    start: Math.atan2(a.y - c.y, a.x - c.x),
    sweep,
    ...made,
  };
}

/** The distance from a point to the cutter's axis on a track, mm. */
export function trackDistance(t: Track, x: number, y: number): number {
  if (t.kind === 'line') {
    const dx = t.b.x - t.a.x;
    const dy = t.b.y - t.a.y;
    const l2 = dx * dx + dy * dy;
    const k = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - t.a.x) * dx + (y - t.a.y) * dy) / l2));
    return Math.hypot(x - t.a.x - k * dx, y - t.a.y - k * dy);
  }
  const px = x - t.centre.x;
  const py = y - t.centre.y;
  if (angleInSweep(Math.atan2(py, px), t.start, t.sweep)) return Math.abs(Math.hypot(px, py) - t.r);
  return Math.min(Math.hypot(x - t.a.x, y - t.a.y), Math.hypot(x - t.b.x, y - t.b.y));
}

/** The stretches of a straight line `p + τ·n` (n a unit vector) that the cutter sweeps on a track, as [τ, τ]. */
export function sweptOnLine(t: Track, p: Point, n: Point): [number, number][] {
  const out: [number, number][] = [];
  const disc = (c: Point, radius: number): [number, number] | null => {
    const m = (c.x - p.x) * n.x + (c.y - p.y) * n.y;
    const off = (c.x - p.x) * n.y - (c.y - p.y) * n.x;
    const h2 = radius * radius - off * off;
    return h2 < 0 ? null : [m - Math.sqrt(h2), m + Math.sqrt(h2)];
  };
  for (const end of [t.a, t.b]) {
    const d = disc(end, t.radius);
    if (d) out.push(d);
  }
  if (t.kind === 'line') {
    const length = Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y);
    if (length === 0) return out.slice(0, 1);
    const u = { x: (t.b.x - t.a.x) / length, y: (t.b.y - t.a.y) / length };
    const ox = p.x - t.a.x;
    const oy = p.y - t.a.y;
    const between = clipSlab(
      clipSlab([-Infinity, Infinity], ox * u.x + oy * u.y, n.x * u.x + n.y * u.y, 0, length),
      oy * u.x - ox * u.y,
      n.y * u.x - n.x * u.y,
      -t.radius,
      t.radius,
    );
    if (between) out.push(between);
    return out;
  }
  // An arc sweeps a ring sector: cut the line at both circles and both radial sides, ask in between.
  const cuts: number[] = [];
  for (const radius of [t.r + t.radius, t.r - t.radius]) {
    const d = radius > 0 ? disc(t.centre, radius) : null;
    if (d) cuts.push(d[0], d[1]);
  }
  for (const a of [t.start, t.start + t.sweep]) {
    const ux = Math.cos(a);
    const uy = Math.sin(a);
    const den = n.x * uy - n.y * ux;
    if (Math.abs(den) > 1e-12) cuts.push(((t.centre.x - p.x) * uy - (t.centre.y - p.y) * ux) / den);
  }
  cuts.sort((a, b) => a - b);
  for (let i = 0; i + 1 < cuts.length; i++) {
    const m = (cuts[i]! + cuts[i + 1]!) / 2;
    const x = p.x + m * n.x - t.centre.x;
    const y = p.y + m * n.y - t.centre.y;
    // The sector alone: the discs at the ends are in the answer already and end elsewhere.
    if (Math.abs(Math.hypot(x, y) - t.r) <= t.radius && angleInSweep(Math.atan2(y, x), t.start, t.sweep))
      out.push([cuts[i]!, cuts[i + 1]!]);
  }
  return out;
}

/** The part of [τ, τ] where `least ≤ at + τ·slope ≤ most`. */
function clipSlab(
  range: readonly [number, number] | null,
  at: number,
  slope: number,
  least: number,
  most: number,
): [number, number] | null {
  if (range === null) return null;
  if (Math.abs(slope) < 1e-12) return at < least || at > most ? null : [range[0], range[1]];
  const t0 = (least - at) / slope;
  const t1 = (most - at) / slope;
  const low = Math.max(range[0], Math.min(t0, t1));
  const high = Math.min(range[1], Math.max(t0, t1));
  return low > high ? null : [low, high];
}
