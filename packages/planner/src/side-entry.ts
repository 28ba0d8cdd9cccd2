import { type Box, distance, type Point } from '@haunch/geometry';
import { distanceTo, type Obstacle, staysClear } from './clear-of.js';
import type { Entry } from './entry.js';
import {
  directionAlong,
  leftOf,
  line,
  moved,
  type Path,
  pointAlong,
  quarter,
  segmentLength,
  startAt,
} from './path.js';
import { ENTRY_AIR } from './practice.js';

/** What a way in beside a contour must respect. */
export interface Surroundings {
  /** The contour itself. */
  readonly own: Obstacle;
  /** Other parts' curves, and other curves of the same part. */
  readonly others: Obstacle;
  readonly keepOuts: Obstacle;
  readonly radius: number;
  /** How far the cutter's centre stays from keep-outs: its radius, or the hood's. */
  readonly keepOff: number;
  readonly mating: ReadonlySet<string>;
  /** Whether the waste lies left of travel. */
  readonly wasteLeft: boolean;
  /** Centres of the contour's reliefs. */
  readonly reliefs: readonly Point[];
  /** Where the cutter's centre may go. */
  readonly reach: Box;
}

/** Lengths of a leg of the zigzag descent that are tried, mm. */
const LEGS = [60, 40, 25, 15, 8, 4];

/** There and back along a straight leg until the length is reached; starts and ends at `from`. */
const zigzag =
  (from: Point, to: Point) =>
  (length: number): Path => {
    const rounds = Math.max(1, Math.ceil(length / (2 * distance(from, to)) - 1e-9));
    const leg = length / (2 * rounds);
    const t = leg / distance(from, to);
    const turn = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    const one = [line(from, turn), line(turn, from)];
    return Array.from({ length: rounds }, () => one).flat();
  };

const within = (b: Box, p: Point): boolean =>
  p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY;

interface Candidate {
  readonly entry: Entry;
  readonly rank: readonly number[];
}

/** Places along an edge's path segment where the contour may be met: its middle; others while too few are found. */
const PLACES = [[0.5], [0.25, 0.75], [0.1, 0.9]];
const ENOUGH = 24;

const meetingPlaces = (shares: readonly number[], length: number, margin: number): number[] =>
  shares.map((t) => length * t).filter((a) => a >= margin && length - a >= margin);

/**
 * Ways in beside a contour on its waste side, best first: a zigzag descent parallel to the contour and off it
 * that no wall feels, a quarter circle on to the contour, and a quarter circle off it. The contour is met on an
 * edge that no plate touches, away from reliefs. The last ones, where there is no room, descend along the
 * contour itself on such an edge.
 */
export function sideEntries(path: Path, s: Surroundings, wantedLeg: number): Entry[] {
  const { radius, own, others, keepOuts } = s;
  const found: Candidate[] = [];
  const last: Candidate[] = [];
  const lookOn = (segment: Path[number], index: number, shares: readonly number[]): void => {
    if (segment.tag === undefined || s.mating.has(segment.tag)) return;
    const length = segmentLength(segment);
    const edge = segment.tag;
    for (const along of meetingPlaces(shares, length, 1)) {
      const p = pointAlong(segment, along);
      if (s.reliefs.some((c) => distance(c, p) < 2 * radius + 1)) continue;
      const t = directionAlong(segment, along);
      const waste = s.wasteLeft ? leftOf(t) : moved({ x: 0, y: 0 }, leftOf(t), -1);
      const turn = s.wasteLeft ? 'ccw' : 'cw';
      const round = () => startAt(path, index, along);
      let done = false;
      // Where a descent far off the wall would cut away the web that a neighbour's tabs stand on, one nearer the
      // wall is looked for before that is put up with.
      const offsets = [radius, 2, 1, ENTRY_AIR].filter((d) => d <= radius);
      for (const { order, d, web } of [0, 1].flatMap((web) =>
        offsets.map((d, order) => ({ order, d, web })),
      )) {
        if (done) continue;
        const centre = moved(p, waste, d);
        const a = moved(centre, t, -d);
        const b = moved(centre, t, d);
        const leads = [quarter(a, p, centre, turn), quarter(p, b, centre, turn)];
        if (
          !leads.every((l) =>
            [0.2, 0.4, 0.6, 0.8].every((k) => distanceTo(own, pointAlong(l, k * segmentLength(l))) >= radius),
          )
        )
          continue;
        if (!staysClear(leads, others, radius + ENTRY_AIR) || !staysClear(leads, keepOuts, s.keepOff))
          continue;
        for (const leg of LEGS) {
          if (done || leg > 2 * wantedLeg) continue;
          for (const way of [1, -1]) {
            const e = moved(a, t, leg * way);
            if (![a, b, e].every((q) => within(s.reach, q))) continue;
            const run = [line(a, e), line(b, a)];
            if (!staysClear(run, own, radius + d * 0.9) || !staysClear(run, keepOuts, s.keepOff)) continue;
            // A neighbour's own cut should leave a web between it and the descent.
            if (!staysClear(run, others, web === 0 ? 3 * radius + 2 : radius + ENTRY_AIR)) continue;
            found.push({
              entry: {
                path: round(),
                leadIn: [leads[0]!],
                leadOut: [leads[1]!, line(b, a)],
                descend: zigzag(a, e),
                from: a,
                edge,
                zone: [...leads, ...run],
                onWall: false,
                grade: 2 * web + (segment.kind === 'line' ? 0 : 1) + order / 10,
              },
              rank: [web, segment.kind === 'line' ? 0 : 1, order, -Math.min(leg, wantedLeg), index, along],
            });
            done = true;
            break;
          }
        }
      }
      const onward = length - along - 1;
      if (segment.kind === 'line' && onward >= 4) {
        const e = moved(p, t, Math.min(onward, 60));
        last.push({
          entry: {
            path: round(),
            leadIn: [],
            leadOut: [],
            descend: zigzag(p, e),
            from: p,
            edge,
            zone: [line(p, e)],
            onWall: true,
            grade: 9,
          },
          rank: [-Math.min(onward, wantedLeg), index, along],
        });
      }
    }
  };
  for (const shares of PLACES)
    if (found.length < ENOUGH) for (const [index, segment] of path.entries()) lookOn(segment, index, shares);
  const order = (a: Candidate, b: Candidate) =>
    a.rank.reduce((sofar, v, i) => (sofar !== 0 ? sofar : v - b.rank[i]!), 0);
  return [...found.sort(order), ...last.sort(order)].map((c) => c.entry);
}
