import {
  type Clip,
  distance,
  type Point,
  pointInRing,
  pointSegmentDistance,
  type Segment,
} from '@haunch/geometry';
import type { Level } from './sweep/level.js';
import type { Piece } from './sweep/pieces.js';
import type { TrackIndex } from './sweep/track-index.js';
import { type Reachable, reachable } from './wanted/reachable.js';
import { openOver, type WantedContour } from './wanted/wanted-contour.js';
import type { Nearest, WantedIndex } from './wanted/wanted-index.js';

/** A place where an item as cut differs from what is wanted. mm */
export interface Spot {
  readonly contour: WantedContour;
  readonly tag: string | null;
  readonly at: Point;
  /** How far, always positive. */
  readonly amount: number;
  /** What is nearest to a place that is cut away: a wall when left out, else the recess's floor over it or the sheet's face. */
  readonly under?: 'floor' | 'face';
  readonly level: Level;
}

/** How an item as cut differs from what is wanted over one slab. */
export interface Deviation {
  /** Places cut into the part, and places left standing, beyond the tolerance; the worst of each stretch. */
  readonly gouges: readonly Spot[];
  readonly excesses: readonly Spot[];
  readonly gouge: number;
  readonly excess: number;
  /** How much more could be cut away, and left standing, before the first edge no longer bears it. */
  readonly roomIn: number;
  readonly roomOut: number;
  /** Places where material runs on across the kerf: tabs, or cuts not made. */
  readonly bridges: readonly Spot[];
}

/** What is needed to compare one item. */
export interface DeviationInput {
  readonly clip: Clip;
  readonly wanted: WantedIndex;
  /** Radius of the smallest cutter used on this item. */
  readonly radius: number;
  readonly tolerance: number;
  /** How far single edges may be off, by edge id; never less than `tolerance`. */
  readonly edges?: Readonly<Record<string, number>>;
  readonly level: Level;
  /** The sheet's face. */
  readonly top: number;
  /** The item's piece of material over this slab. */
  readonly piece: Piece;
  readonly removed: TrackIndex;
  /** Material as far from its contour as this runs on across the kerf. */
  readonly kerf: number;
  /** Whether tabs may stand at this height. */
  readonly tabs: boolean;
  /** Corners known to be out of reach, by contour; filled on demand. */
  readonly corners: Map<string, Reachable>;
}

interface Corner {
  readonly at: Point;
  readonly near: Nearest;
  readonly under?: 'floor' | 'face';
}

/** Less than this off is the chords' and the program's rounding, mm. */
const SLACK = 0.002;
/** Edges longer than this are asked in their middle as well, mm: over an arc of 3 mm such a chord is 0.001 off. */
const LONG = 0.15;

/**
 * What is nearest to a place that is cut away where it shall stand. The floor of the recess over it, or the face, may be nearer
 * than any wall: a hole drilled a tenth too deep and a scratch of a tenth are a tenth off, however far the part's edge is.
 */
function cutAway(at: Point, near: Nearest, shut: ReadonlySet<WantedContour>, i: DeviationInput): Corner {
  let nearest: Corner = { at, near };
  const take = (under: 'floor' | 'face', depth: number, wall: Nearest): void => {
    if (depth < -nearest.near.deviation) nearest = { at, near: { ...wall, deviation: -depth }, under };
  };
  take('face', i.top - i.level.low, near);
  for (const recess of shut) {
    const depth = recess.floor! - i.level.low;
    if (depth >= -nearest.near.deviation) continue;
    const wall = i.wanted.nearest(at, (c) => c === recess, i.tolerance);
    if (wall !== null && wall.deviation >= -i.tolerance) take('floor', depth, wall);
  }
  return nearest;
}

/** The corners of a polygon, with the middles of its long edges, each with the wanted curve, or floor, nearest to it. */
function corners(polygon: readonly Point[], i: DeviationInput, shut: ReadonlySet<WantedContour>): Corner[] {
  const out: Corner[] = [];
  const ask = (at: Point): void => {
    const near = i.wanted.nearest(at, (c) => !shut.has(c), i.tolerance);
    if (near !== null) out.push(near.deviation < -i.tolerance ? cutAway(at, near, shut, i) : { at, near });
  };
  polygon.forEach((p, k) => {
    ask(p);
    const q = polygon[(k + 1) % polygon.length]!;
    if (distance(p, q) > LONG) ask({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });
  });
  return out;
}

/** Neighbouring corners that satisfy a condition, in runs round the polygon. */
function runs(list: readonly Corner[], holds: (c: Corner) => boolean): Corner[][] {
  const start = list.findIndex((c) => !holds(c));
  if (start < 0) return list.length > 0 ? [[...list]] : [];
  const out: Corner[][] = [];
  let run: Corner[] = [];
  for (let k = 0; k < list.length; k++) {
    const c = list[(start + k) % list.length]!;
    if (holds(c)) run.push(c);
    else if (run.length > 0) {
      out.push(run);
      run = [];
    }
  }
  if (run.length > 0) out.push(run);
  return out;
}

/** Places of a run that are off by as much, mm: the middle one speaks, away from where other cuts meet it. */
const ALIKE = 0.0005;

/** The place of a run that is farthest off. */
function worst(run: readonly Corner[]): Corner {
  const most = Math.max(...run.map((c) => Math.abs(c.near.deviation)));
  const alike = run.filter((c) => Math.abs(c.near.deviation) >= most - ALIKE);
  return alike[alike.length >> 1]!;
}

/** How far round a corner material is looked for, mm. */
const AROUND = 0.05;

/** Whether anything that shall stay lies at a place: not so where a recess takes the part's own corner away. */
function bordersMaterial(p: Point, open: readonly WantedContour[]): boolean {
  for (let k = 0; k < 16; k++) {
    const a = ((k + 0.5) * Math.PI) / 8;
    const q = { x: p.x + AROUND * Math.cos(a), y: p.y + AROUND * Math.sin(a) };
    const stays = open.every((c) => (pointInRing(c.ring, q) === 'inside') === (c.kind === 'outline'));
    if (stays) return true;
  }
  return false;
}

/**
 * Compares an item as cut with its wanted curves over one slab: each corner of the cut polygons against the
 * nearest wanted line or arc, exactly, and each wanted corner against the exact sweep (a flat cut across it has no
 * corner of its own there). Material is excused in inside corners out of the cutter's reach, and across the kerf
 * at the height of tabs.
 */
export function deviationOf(i: DeviationInput): Deviation {
  const shut = new Set(i.wanted.contours.filter((c) => openOver(c, i.level, i.tolerance) === false));
  const open = (c: WantedContour): boolean => !shut.has(c);
  const vague = (c: WantedContour): boolean => openOver(c, i.level, i.tolerance) === null;
  const gouges: Spot[] = [];
  const excesses: Spot[] = [];
  const bridges: Spot[] = [];
  let gouge = 0;
  let excess = 0;
  let roomIn = i.tolerance;
  let roomOut = i.tolerance;
  const borne = (segment: Segment): number =>
    i.edges === undefined || segment.tag === undefined
      ? i.tolerance
      : Math.max(i.tolerance, (Object.hasOwn(i.edges, segment.tag) && i.edges[segment.tag]) || 0);
  // Heights follow no plate's thickness.
  const bears = (c: Corner): number => (c.under === undefined ? borne(c.near.segment) : i.tolerance);
  const spot = ({ at, near, under }: Corner): Spot => ({
    contour: near.contour,
    tag: near.segment.tag ?? null,
    at,
    amount: Math.abs(near.deviation),
    ...(under === undefined ? {} : { under }),
    level: i.level,
  });
  const excused = (c: Corner): boolean => {
    if (c.near.deviation > i.radius) return false;
    // Where walls that meet square may be off by more than the tolerance, what is left in their corner may be by √2 of that.
    const more = (bears(c) - i.tolerance) * Math.SQRT2;
    const slack = c.near.deviation > bears(c) ? i.tolerance + more : SLACK;
    const id = `${slack} ${c.near.contour.id}`;
    let corner = i.corners.get(id);
    if (!corner) {
      corner = reachable(i.clip, c.near.contour, i.radius, slack, i.wanted.contours[0]);
      i.corners.set(id, corner);
    }
    return corner.leftInCorner(c.at);
  };
  for (const polygon of [i.piece.outer, ...i.piece.holes]) {
    const list = corners(polygon, i, shut).filter((c) => !vague(c.near.contour));
    for (const c of list) {
      if (c.near.deviation < 0) {
        gouge = Math.max(gouge, -c.near.deviation);
        roomIn = Math.min(roomIn, bears(c) + c.near.deviation);
      } else if (
        !i.tabs &&
        c.near.deviation > SLACK &&
        c.near.deviation <= bears(c) &&
        (c.near.deviation > excess || bears(c) - c.near.deviation < roomOut) &&
        !excused(c)
      ) {
        excess = Math.max(excess, c.near.deviation);
        roomOut = Math.min(roomOut, bears(c) - c.near.deviation);
      }
    }
    for (const run of runs(list, (c) => c.near.deviation < -bears(c))) {
      gouges.push(spot(worst(run)));
    }
    for (const run of runs(list, (c) => c.near.deviation > bears(c))) {
      const peak = worst(run);
      if (peak.near.deviation >= i.kerf - 0.05) {
        bridges.push(spot(peak));
        if (i.tabs) continue;
      }
      const left = run.filter((c) => !excused(c));
      if (left.length === 0) continue;
      const peakLeft = worst(left);
      const s = spot(peakLeft);
      excess = Math.max(excess, s.amount);
      roomOut = Math.min(roomOut, bears(peakLeft) - s.amount);
      excesses.push(s);
    }
  }
  const edges = [...gouges];
  for (const contour of i.wanted.contours) {
    if (!open(contour) || vague(contour)) continue;
    let before = contour.segments[contour.segments.length - 1]!;
    for (const segment of contour.segments) {
      const previous = before;
      before = segment;
      const depth = i.top - i.level.low;
      const off = -i.removed.removed(segment.from);
      const inside = Math.min(off, depth);
      // A corner of the contour is also a place of the air beside it, so only what exceeds the tolerance tells.
      if (inside <= Math.max(borne(segment), borne(previous))) continue;
      // A whole edge that is cut back takes its corners with it.
      const told = edges.some(
        (g) =>
          g.amount >= inside - ALIKE &&
          [segment, previous].some((e) => pointSegmentDistance(e, g.at) <= g.amount + ALIKE),
      );
      if (told) continue;
      // Where two contours overlap, as a housing that runs out over an edge, the corner is in the other's air.
      const other = i.wanted.nearest(segment.from, (c) => c !== contour && open(c), 0);
      const beyond =
        other !== null &&
        other.deviation > 0 &&
        (other.contour.kind !== 'outline' || contour.kind !== 'outline');
      if (beyond || !bordersMaterial(segment.from, i.wanted.contours.filter(open))) continue;
      gouges.push({
        contour,
        tag: segment.tag ?? null,
        at: segment.from,
        amount: inside,
        ...(depth < off ? { under: 'face' as const } : {}),
        level: i.level,
      });
      gouge = Math.max(gouge, inside);
      roomIn = Math.min(roomIn, borne(segment) - inside);
    }
  }
  return { gouges, excesses, gouge, excess, roomIn, roomOut, bridges };
}
