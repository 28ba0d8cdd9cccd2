import { distance, type Point, type Segment, snap } from '@haunch/geometry';
import type { Place } from '@haunch/model';
import type { CutMove } from './cut-move.js';
import { type Path, pathLength, segmentLength, sliceSegment } from './path.js';
import { SLOW_DOWN_ABOVE } from './practice.js';
import type { Speeds } from './speeds.js';

/** Height of the cutter's tip at a distance along a path; straight between them. mm */
export interface Height {
  readonly along: number;
  readonly z: number;
}

/** Writes moves one after the other and knows where the cutter is. Sheet coordinates, mm. */
export interface Tracer {
  readonly moves: readonly CutMove[];
  at(): Place;
  /** Rises at once to the height of rapids, travels there, and stays high. */
  over(p: Point): void;
  /** Straight down: fast through air, slow from shortly above `cutTo`, which is already cut. */
  down(cutTo: number): void;
  /** Straight up to the height of rapids, at the feed for air. */
  up(): void;
  /** Straight to a depth at the given feed. */
  plunge(z: number, feed: number): void;
  /** Along a path at a constant depth, or by heights; slower where it goes down; at the cutting feed unless `feedOf` says otherwise. */
  follow(path: Path, heights: number | readonly Height[], feedOf?: (s: Segment) => number): void;
}

/** Chord and arc differ by less than this: written as a line. mm */
const FLAT = 0.0001;

const round = (p: Point, z: number): Place => ({ x: snap(p.x), y: snap(p.y), z: snap(z) });

/**
 * The centre on the bisector of the two ends nearest to the wanted one, on the grid: both radii then differ by
 * rounding alone (less than 0.00015 mm).
 */
function centreFor(from: Point, to: Point, centre: Point): Point {
  const chord = distance(from, to);
  const n = { x: -(to.y - from.y) / chord, y: (to.x - from.x) / chord };
  const m = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const h = (centre.x - m.x) * n.x + (centre.y - m.y) * n.y;
  return { x: snap(m.x + n.x * h), y: snap(m.y + n.y * h) };
}

/** A tracer that starts at the height of rapids over `start`. */
export function tracer(start: Point, clearance: number, speeds: Speeds): Tracer {
  const moves: CutMove[] = [{ kind: 'rapid', to: round(start, clearance) }];
  let at = moves[0]!.to;
  const go = (move: CutMove) => {
    if (move.to.x === at.x && move.to.y === at.y && move.to.z === at.z) return;
    moves.push(move);
    at = move.to;
  };
  const emit = (s: Segment, z: number, feed: number): void => {
    const to = round(s.to, z);
    if (s.kind === 'line') {
      go({ kind: 'linear', to, feed });
      return;
    }
    if (Math.abs(s.sweep) > Math.PI + 1e-6) {
      const middle = segmentLength(s) / 2;
      const zMiddle = (at.z + z) / 2;
      emit(sliceSegment(s, 0, middle), zMiddle, feed);
      emit(sliceSegment(s, middle, 2 * middle), z, feed);
      return;
    }
    const sagitta = s.radius * (1 - Math.cos(s.sweep / 2));
    if (sagitta < FLAT || (to.x === at.x && to.y === at.y)) go({ kind: 'linear', to, feed });
    else
      go({
        kind: 'circular',
        to,
        centre: centreFor(at, to, s.centre),
        turn: s.sweep > 0 ? 'ccw' : 'cw',
        feed,
      });
  };
  const plunge = (z: number, feed: number) => go({ kind: 'linear', to: round(at, z), feed });
  const up = () => plunge(clearance, speeds.air);
  return {
    moves,
    at: () => at,
    over(p) {
      up();
      go({ kind: 'rapid', to: round(p, clearance) });
    },
    down(cutTo) {
      const slow = Math.min(clearance, cutTo + SLOW_DOWN_ABOVE);
      if (at.z > slow) plunge(slow, speeds.air);
      plunge(cutTo, speeds.ramp);
    },
    up,
    plunge,
    follow(path, heights, feedOf = () => speeds.cut) {
      if (typeof heights === 'number') {
        for (const s of path) emit(s, heights, feedOf(s));
        return;
      }
      const ends = [...heights, { along: Infinity, z: heights.at(-1)!.z }];
      const zAt = (along: number): number => {
        const i = ends.findIndex((h) => h.along >= along);
        const [a, b] = [ends[i - 1], ends[i]!];
        if (a === undefined || b.along === Infinity || b.along === a.along) return b.z;
        return a.z + ((b.z - a.z) * (along - a.along)) / (b.along - a.along);
      };
      let before = 0;
      for (const s of path) {
        const length = segmentLength(s);
        const cuts = heights.map((h) => h.along - before).filter((d) => d > 1e-6 && d < length - 1e-6);
        let last = 0;
        for (const d of [...cuts, length]) {
          const z = zAt(before + d);
          emit(sliceSegment(s, last, d), z, z < at.z - 1e-6 ? speeds.ramp : feedOf(s));
          last = d;
        }
        before += length;
      }
    },
  };
}

/** Heights of a steady descent along a path. */
export const descent = (path: Path, from: number, to: number): readonly Height[] => [
  { along: 0, z: from },
  { along: pathLength(path), z: to },
];
