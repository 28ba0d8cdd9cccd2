import type { Point } from '@haunch/geometry';
import { sweptOnLine, type Track, trackDistance } from './track.js';

/** Side of a cell of the index, mm. */
const CELL = 8;
/** How far beyond the swept edge a track is still found, mm. */
export const REACH = 2;

/** Tracks longer than this are not put into cells but asked every time, mm. */
const LONG = 20_000;

const trackLength = (t: Track): number =>
  t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : Math.abs(t.sweep) * t.r;

/** Pieces of a track no longer than `step`, as boxes of the axis. */
function* boxesOf(t: Track, step: number): Generator<readonly [number, number, number, number]> {
  const length = t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : Math.abs(t.sweep) * t.r;
  const n = Math.max(1, Math.ceil(length / step));
  let [px, py] = [t.a.x, t.a.y];
  for (let i = 1; i <= n; i++) {
    let x: number;
    let y: number;
    let bow = 0;
    if (t.kind === 'line') {
      x = t.a.x + ((t.b.x - t.a.x) * i) / n;
      y = t.a.y + ((t.b.y - t.a.y) * i) / n;
    } else {
      const a = t.start + (t.sweep * i) / n;
      x = t.centre.x + t.r * Math.cos(a);
      y = t.centre.y + t.r * Math.sin(a);
      bow = t.r * (1 - Math.cos(Math.min(Math.PI, Math.abs(t.sweep) / n) / 2));
    }
    yield [Math.min(px, x) - bow, Math.min(py, y) - bow, Math.max(px, x) + bow, Math.max(py, y) + bow];
    [px, py] = [x, y];
  }
}

/** The cells (as numbers) that boxes grown by `by` touch. */
function cellsOf(t: Track, by: number, cell: number): Set<number> {
  const out = new Set<number>();
  for (const [x0, y0, x1, y1] of boxesOf(t, cell)) {
    for (let i = Math.floor((x0 - by) / cell); i <= Math.floor((x1 + by) / cell); i++)
      for (let j = Math.floor((y0 - by) / cell); j <= Math.floor((y1 + by) / cell); j++)
        out.add(cellKey(i, j));
  }
  return out;
}

const cellKey = (i: number, j: number): number => (i + 500_000) * 1_000_003 + (j + 500_000);

/** What the cutter removes at one height, asked point by point, exactly: no chords, no polygons. */
export interface TrackIndex {
  readonly tracks: readonly Track[];
  /**
   * The distance from a point to the nearest swept edge: negative where it is removed, positive where material
   * stands; Infinity when nothing is cut within 2 mm.
   */
  removed(p: Point): number;
  /** Tracks whose swept edge runs within `tolerance` of a point. */
  edgesAt(p: Point, tolerance: number): Track[];
  /** The removed stretches [τ, τ] of the line `p + τ·n`, |τ| ≤ 2 mm, joined and in order. */
  along(p: Point, n: Point): [number, number][];
  /** Tracks that may touch anything within 2 mm of a point, one of all that run over the same ground. */
  near(p: Point): readonly Track[];
  /** The same with every pass. */
  passesNear(p: Point): readonly Track[];
}

const NONE: readonly Track[] = [];

/** A name that tracks over the same ground share, whichever way they are run. */
const groundOf = (t: Track): string => {
  const turned = t.b.x < t.a.x || (t.b.x === t.a.x && t.b.y < t.a.y);
  const [p, q] = turned ? [t.b, t.a] : [t.a, t.b];
  const bend = t.kind === 'line' ? '' : ` ${t.centre.x} ${t.centre.y} ${turned ? -t.sweep : t.sweep}`;
  return `${t.radius} ${p.x} ${p.y} ${q.x} ${q.y}${bend}`;
};

/** Indexes tracks of one height. Passes over the same ground are asked once. */
export function indexTracks(tracks: readonly Track[]): TrackIndex {
  const cells = new Map<number, Track[]>();
  const grounds = new Map<string, Track[]>();
  for (const t of tracks) {
    const ground = groundOf(t);
    const same = grounds.get(ground);
    if (same) same.push(t);
    else grounds.set(ground, [t]);
  }
  const passes = new Map<Track, readonly Track[]>();
  const everywhere: Track[] = [];
  for (const same of grounds.values()) {
    const t = same[0]!;
    passes.set(t, same);
    if (trackLength(t) > LONG) {
      everywhere.push(t);
      continue;
    }
    for (const key of cellsOf(t, t.radius + REACH, CELL)) {
      const list = cells.get(key);
      if (list) list.push(t);
      else cells.set(key, [t]);
    }
  }
  const near = (p: Point): readonly Track[] => {
    const here = cells.get(cellKey(Math.floor(p.x / CELL), Math.floor(p.y / CELL))) ?? NONE;
    return everywhere.length === 0 ? here : [...here, ...everywhere];
  };
  return {
    tracks,
    near,
    passesNear: (p) => near(p).flatMap((t) => passes.get(t) ?? []),
    removed(p) {
      let best = Infinity;
      for (const t of near(p)) best = Math.min(best, trackDistance(t, p.x, p.y) - t.radius);
      return best;
    },
    edgesAt: (p, tolerance) =>
      near(p).flatMap((t) =>
        Math.abs(trackDistance(t, p.x, p.y) - t.radius) <= tolerance ? (passes.get(t) ?? []) : [],
      ),
    along(p, n) {
      const found: [number, number][] = [];
      for (const t of near(p)) {
        if (trackDistance(t, p.x, p.y) > t.radius + REACH) continue;
        for (const [a, b] of sweptOnLine(t, p, n)) {
          const low = Math.max(a, -REACH);
          const high = Math.min(b, REACH);
          if (low <= high) found.push([low, high]);
        }
      }
      return joinIntervals(found, 1e-7);
    },
  };
}

/** Intervals in order, those that overlap or lie within `gap` of each other joined. */
export function joinIntervals(
  intervals: readonly (readonly [number, number])[],
  gap: number,
): [number, number][] {
  const sorted = [...intervals].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const out: [number, number][] = [];
  for (const [a, b] of sorted) {
    const last = out[out.length - 1];
    if (last && a <= last[1] + gap) last[1] = Math.max(last[1], b);
    else out.push([a, b]);
  }
  return out;
}
