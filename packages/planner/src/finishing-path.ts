import { directionAlong, type Path, segmentLength, sliceSegment } from './path.js';
import { CORNER_STRETCH, FINISH_BESIDE } from './practice.js';

/** A finishing path with its stretches told apart: those in neither set are cut along a straight wall, or round a corner from outside. */
export interface FinishingPath {
  readonly path: Path;
  /** The stretches without stock, which only lead through the kerf from one wall to the next. */
  readonly idle: ReadonlySet<Path[number]>;
  /** The stretches before an inside corner: the next wall's stock meets the cutter as well. */
  readonly corners: ReadonlySet<Path[number]>;
}

/** Turns less than this are no corner, radians. */
const LEAST_TURN = 0.1;

/** Tells apart, along a closed path, the walls that mate with the corners beside them, and everything else. */
export function finishingPath(path: Path, mating: ReadonlySet<string>, wasteLeft: boolean): FinishingPath {
  const at = (i: number): Path[number] => path[((i % path.length) + path.length) % path.length]!;
  const taggedFrom = (i: number, step: 1 | -1): Path[number] | undefined => {
    for (let k = 0; k < path.length; k++) if (at(i + step * k).tag !== undefined) return at(i + step * k);
    return undefined;
  };
  const mates = (s: Path[number] | undefined): boolean => s?.tag !== undefined && mating.has(s.tag);
  const cut = path.map((s, i) =>
    s.tag === undefined ? mates(taggedFrom(i, -1)) || mates(taggedFrom(i, 1)) : mates(s),
  );
  /** Whether the path turns into its own wall after a stretch, away from the waste's outside: an inside corner. */
  const turnsIn = (i: number): boolean => {
    const next = taggedFrom(i + 1, 1);
    if (path[i]!.tag === undefined || next === undefined || next === path[i]) return false;
    const [t, u] = [directionAlong(path[i]!, segmentLength(path[i]!)), directionAlong(next, 0)];
    const turn = Math.atan2(t.x * u.y - t.y * u.x, t.x * u.x + t.y * u.y);
    return (wasteLeft ? turn : -turn) > LEAST_TURN;
  };
  const [idle, corners] = [new Set<Path[number]>(), new Set<Path[number]>()];
  const out = path.flatMap((s, i): Path => {
    const length = segmentLength(s);
    if (cut[i]) {
      if (!turnsIn(i)) return [s];
      const from = Math.max(0, length - CORNER_STRETCH);
      const last = sliceSegment(s, from, length);
      corners.add(last);
      return from > 0 ? [sliceSegment(s, 0, from), last] : [last];
    }
    const head = cut[(i + path.length - 1) % path.length] ? FINISH_BESIDE : 0;
    const tail = cut[(i + 1) % path.length] ? FINISH_BESIDE : 0;
    if (length - head - tail < FINISH_BESIDE) return [s];
    const middle = sliceSegment(s, head, length - tail);
    idle.add(middle);
    return [
      ...(head > 0 ? [sliceSegment(s, 0, head)] : []),
      middle,
      ...(tail > 0 ? [sliceSegment(s, length - tail, length)] : []),
    ];
  });
  return { path: out, idle, corners };
}
