import type { Box, Point } from '@haunch/geometry';
import { cellKey, cellsOf } from './cells.js';
import { lowestFull, type Stretch } from './stretch.js';
import { sweptOnLine, type Track, trackBelow, trackDistance } from './track.js';

/** Side of a cell of the index, mm. */
const CELL = 8;
/** How far beyond the swept edge a track is still found, mm. */
export const REACH = 2;

/** Tracks longer than this are not put into cells but asked every time, mm. */
const LONG = 20_000;

const trackLength = (t: Track): number =>
  t.kind === 'line' ? Math.hypot(t.b.x - t.a.x, t.b.y - t.a.y) : Math.abs(t.sweep) * t.r;

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
  /** Whether any pass that may touch something within 2 mm of a point satisfies a condition. */
  somePass(p: Point, holds: (t: Track) => boolean): boolean;
  /**
   * Whether the very same tracks are near every point of a box at another height of the same stretches, so that
   * all answers there are the same; but the higher of the two may know more passes over them.
   */
  alike(other: TrackIndex, box: Box): boolean;
}

/** Tracks over the same ground: the first speaks for all. */
interface Ground {
  readonly track: Track;
  readonly passes: { readonly track: Track; readonly high: number }[];
  /** The height from which at least one of them counts in full. */
  from: number;
}

const NONE: readonly never[] = [];

/** A name that tracks over the same ground share, whichever way they are run. */
const groundOf = (t: Track): string => {
  const turned = t.b.x < t.a.x || (t.b.x === t.a.x && t.b.y < t.a.y);
  const [p, q] = turned ? [t.b, t.a] : [t.a, t.b];
  const bend = t.kind === 'line' ? '' : ` ${t.centre.x} ${t.centre.y} ${turned ? -t.sweep : t.sweep}`;
  return `${t.radius} ${p.x} ${p.y} ${q.x} ${q.y}${bend}`;
};

/** Tracks gathered by their ground, and the grounds by cell. */
interface Gathered {
  readonly cells: ReadonlyMap<number, readonly Ground[]>;
  /** Grounds too long for cells. */
  readonly everywhere: readonly Ground[];
}

function gather(tracks: readonly { readonly track: Track; readonly high: number }[]): Gathered {
  const grounds = new Map<string, Ground>();
  for (const { track, high } of tracks) {
    const name = groundOf(track);
    const same = grounds.get(name);
    if (same) {
      same.passes.push({ track, high });
      same.from = Math.min(same.from, high);
    } else grounds.set(name, { track, passes: [{ track, high }], from: high });
  }
  const cells = new Map<number, Ground[]>();
  const everywhere: Ground[] = [];
  for (const ground of grounds.values()) {
    const { track } = ground;
    if (trackLength(track) > LONG) {
      everywhere.push(ground);
      continue;
    }
    for (const key of cellsOf(track, track.radius + REACH, CELL)) {
      const list = cells.get(key);
      if (list) list.push(ground);
      else cells.set(key, [ground]);
    }
  }
  return { cells, everywhere };
}

/** A stretch with all of its way, and the heights that it runs between. */
interface Whole {
  readonly stretch: Stretch;
  readonly track: Track;
  readonly low: number;
  readonly high: number;
}

/**
 * Indexes stretches for all heights at once: those that are below a height in full are the same tracks at every
 * such height, and only what crosses it is made anew. Passes over the same ground are asked once.
 */
export function indexStretches(stretches: readonly Stretch[]): (height: number) => TrackIndex {
  const whole = stretches.flatMap((stretch) => {
    const track = trackBelow(stretch, Infinity);
    return track === null
      ? []
      : [
          {
            stretch,
            track,
            low: lowestFull(stretch),
            high: Math.max(stretch.from.z, stretch.to.z) + stretch.point,
          },
        ];
  });
  const shared = gather(whole);
  return (height) => indexAt(height, whole, shared);
}

function indexAt(height: number, whole: readonly Whole[], shared: Gathered): TrackIndex {
  const tracks: Track[] = [];
  const parts: { track: Track; high: number }[] = [];
  for (const { stretch, track, low, high } of whole) {
    if (low > height) continue;
    const here = high <= height ? track : trackBelow(stretch, height);
    if (here === null) continue;
    tracks.push(here);
    if (here !== track) parts.push({ track: here, high: height });
  }
  const crossing = gather(parts);
  const lists = new Map<number, { readonly grounds: readonly Ground[]; readonly tracks: readonly Track[] }>();
  const listAt = (key: number) => {
    let list = lists.get(key);
    if (list === undefined) {
      const grounds: Ground[] = [];
      for (const some of [
        shared.cells.get(key),
        shared.everywhere,
        crossing.cells.get(key),
        crossing.everywhere,
      ])
        for (const g of some ?? NONE) if (g.from <= height) grounds.push(g);
      list = { grounds, tracks: grounds.map((g) => g.track) };
      lists.set(key, list);
    }
    return list;
  };
  const keyAt = (p: Point): number => cellKey(Math.floor(p.x / CELL), Math.floor(p.y / CELL));
  const near = (p: Point): readonly Track[] => listAt(keyAt(p)).tracks;
  const groundsAt = (p: Point): readonly Ground[] => listAt(keyAt(p)).grounds;
  return {
    tracks,
    near,
    somePass: (p, holds) =>
      groundsAt(p).some((g) => g.passes.some((pass) => pass.high <= height && holds(pass.track))),
    alike(other, box) {
      for (let i = Math.floor(box.minX / CELL); i <= Math.floor(box.maxX / CELL); i++)
        for (let j = Math.floor(box.minY / CELL); j <= Math.floor(box.maxY / CELL); j++) {
          const mine = listAt(cellKey(i, j)).tracks;
          const its = other.near({ x: (i + 0.5) * CELL, y: (j + 0.5) * CELL });
          if (mine.length !== its.length || mine.some((t, k) => t !== its[k])) return false;
        }
      return true;
    },
    removed(p) {
      let best = Infinity;
      for (const t of near(p)) best = Math.min(best, trackDistance(t, p.x, p.y) - t.radius);
      return best;
    },
    edgesAt: (p, tolerance) =>
      groundsAt(p).flatMap((g) =>
        Math.abs(trackDistance(g.track, p.x, p.y) - g.track.radius) <= tolerance
          ? g.passes.flatMap((pass) => (pass.high <= height ? [pass.track] : []))
          : [],
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
