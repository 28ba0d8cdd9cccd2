import { distance, type Point } from '@haunch/geometry';
import { distanceTo, type Obstacle, staysClear } from './clear-of.js';
import type { Entry } from './entry.js';
import { startNearest } from './nearest-on-path.js';
import {
  directionAlong,
  leftOf,
  line,
  moved,
  type Path,
  pathLength,
  pointAlong,
  quarter,
  reversePath,
  segmentLength,
  slicePath,
  startAt,
} from './path.js';

/** Round a closed path, or there and back on a part of a long one, until the length is reached. */
export function descendOn(closed: Path, length: number): Path {
  const round = pathLength(closed);
  if (round > length) {
    const half = slicePath(closed, 0, length / 2);
    return [...half, ...reversePath(half)];
  }
  return Array.from({ length: Math.ceil(length / round - 1e-9) }, () => closed).flat();
}

/** What a way in from the middle of a cavity must respect. */
export interface Cavity {
  readonly own: Obstacle;
  readonly radius: number;
  readonly mating: ReadonlySet<string>;
  readonly wasteLeft: boolean;
  readonly reliefs: readonly Point[];
}

interface Meeting {
  readonly index: number;
  readonly along: number;
}

/**
 * Where the wall of a cavity may be met, best first: the middle of edges that no plate touches, longest first;
 * where every edge mates, the middle of the shortest straight edges, which are the ends of a slot and not its
 * grip walls; arcs last.
 */
function meetings(path: Path, mating: ReadonlySet<string>): Meeting[] {
  const all = path.flatMap((s, index) =>
    s.tag === undefined ? [] : [{ s, index, length: segmentLength(s) }],
  );
  const free = all.filter((c) => !mating.has(c.s.tag!));
  const pool =
    free.length > 0
      ? free.sort((a, b) => b.length - a.length || a.index - b.index)
      : all.sort(
          (a, b) =>
            Number(a.s.kind === 'arc') - Number(b.s.kind === 'arc') ||
            a.length - b.length ||
            a.index - b.index,
        );
  // With mates all round, only the shortest edges will do: the others grip.
  const shortest = pool[0]?.length ?? 0;
  const allowed = free.length > 0 ? pool : pool.filter((c) => c.length <= shortest + 0.001);
  return allowed.flatMap(({ index, length }) => [0.5, 0.35, 0.65].map((t) => ({ index, along: length * t })));
}

/**
 * The way in from the middle of a cavity: down along `spine` (a closed path clear of the walls), straight to
 * where a quarter circle meets the contour. Where nothing else is clear, straight from the spine to the contour.
 */
export const centralEntry = (path: Path, spine: Path, c: Cavity): Entry | undefined =>
  centralEntries(path, spine, c, 1)[0];

/** Ways in that begin this far apart are different ones, mm. */
const WAYS_APART = 20;

/** The same, and others that are no worse, up to `most`. */
export function centralEntries(path: Path, spine: Path, c: Cavity, most: number): Entry[] {
  const found: Entry[] = [];
  const isNew = (e: Entry) =>
    found.length < most && found.every((f) => distance(f.from, e.from) >= WAYS_APART);
  const { own, radius } = c;
  const nearestSpine = Math.min(...spine.map((s) => distanceTo(own, s.from)));
  const clear = radius + Math.max(0, Math.min(0.2, (nearestSpine - radius) / 2));
  const entryAt = (m: Meeting, leadIn: Path, leadOut: Path, closed: Path): Entry => ({
    path: startAt(path, m.index, m.along),
    leadIn,
    leadOut,
    descend: (length) => descendOn(closed, length),
    from: closed[0]!.from,
    edge: path[m.index]!.tag!,
    zone: [],
    onWall: false,
    grade: 0,
  });
  const places = meetings(path, c.mating);
  for (const size of [0.9, 0.5, 0.25, 0.1, 0.05]) {
    for (const m of places) {
      const segment = path[m.index]!;
      const lead = radius * size;
      const p = pointAlong(segment, m.along);
      if (c.reliefs.some((r) => distance(r, p) < radius)) continue;
      const t = directionAlong(segment, m.along);
      const inward = c.wasteLeft ? leftOf(t) : moved({ x: 0, y: 0 }, leftOf(t), -1);
      const turn = c.wasteLeft ? 'ccw' : 'cw';
      const centre = moved(p, inward, lead);
      const a = moved(centre, t, -lead);
      const b = moved(centre, t, lead);
      const quarters = [quarter(a, p, centre, turn), quarter(p, b, centre, turn)];
      const touches = quarters.some((q) =>
        [0.2, 0.4, 0.6, 0.8].some((k) => distanceTo(own, pointAlong(q, k * segmentLength(q))) < radius),
      );
      if (touches) continue;
      const closed = startNearest(spine, a);
      const q = closed[0]!.from;
      const [into, back] = [line(q, a), line(b, q)];
      if (!staysClear([into, back], own, Math.min(clear, radius + lead * 0.9))) continue;
      const entry = entryAt(m, [into, quarters[0]!], [quarters[1]!, back], closed);
      if (isNew(entry)) found.push(entry);
      if (found.length >= most) return found;
    }
    if (found.length > 0) return found;
  }
  for (const m of places) {
    const p = pointAlong(path[m.index]!, m.along);
    const closed = startNearest(spine, p);
    const q = closed[0]!.from;
    const direct = distance(p, q) < 1e-6 ? [] : [line(q, p)];
    if (staysClear(direct, own, radius - 1e-4)) return [entryAt(m, direct, reversePath(direct), closed)];
  }
  return [];
}
