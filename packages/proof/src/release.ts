import type { Clip, Point, Polygon } from '@haunch/geometry';
import { insidePiece, standing } from './sweep/pieces.js';
import { lowest, type Stretch } from './sweep/stretch.js';
import { stretchIndex } from './sweep/stretch-index.js';
import { boxesMeet, boxOf, makeSweeper, type Patch } from './sweep/sweeper.js';
import { type Track, trackBelow } from './sweep/track.js';

/** Followed only to see what hangs together: chords within this, mm. */
const COARSE = 0.02;

/** Motions that reach a height within a window, in order, with their tracks. */
export function tracksIn(stretches: readonly Stretch[], window: readonly Polygon[], height: number): Track[] {
  const box = boxOf(window);
  const tracks: Track[] = [];
  stretchIndex(stretches).search(box, height, (s) => {
    if (lowest(s) > height) return false;
    const r = s.centre === null ? 0 : Math.hypot(s.from.x - s.centre.x, s.from.y - s.centre.y);
    const c = s.centre ?? s.from;
    const around = {
      minX: Math.min(s.from.x, s.to.x, c.x - r),
      minY: Math.min(s.from.y, s.to.y, c.y - r),
      maxX: Math.max(s.from.x, s.to.x, c.x + r),
      maxY: Math.max(s.from.y, s.to.y, c.y + r),
    };
    const track = boxesMeet(around, box, s.radius) ? trackBelow(s, height) : null;
    if (track !== null) tracks.push(track);
    return false;
  });
  return tracks;
}

/**
 * The order number of the motion after which an item no longer hangs on anything round its kerf, at the sheet's
 * underside. Found by halving: what is removed only grows. Null when it hangs on to the end.
 */
export function releaseOf(
  clip: Clip,
  stretches: readonly Stretch[],
  {
    window,
    inside,
    underside,
  }: { readonly window: readonly Polygon[]; readonly inside: Point; readonly underside: number },
): number | null {
  const tracks = tracksIn(stretches, window, underside);
  const edge = clip.grow(window, -0.05, COARSE);
  const hangs = (count: number): boolean => {
    const patches: readonly Patch[] = makeSweeper(clip, () => COARSE).sweep(tracks.slice(0, count));
    const own = standing(clip, window, patches).find((p) => insidePiece(p, inside));
    return own !== undefined && clip.difference([own.outer], edge).length > 0;
  };
  if (hangs(tracks.length)) return null;
  let [low, high] = [0, tracks.length];
  if (!hangs(0)) return -1;
  while (high - low > 1) {
    const half = (low + high) >> 1;
    if (hangs(half)) low = half;
    else high = half;
  }
  return tracks[high - 1]!.index;
}
