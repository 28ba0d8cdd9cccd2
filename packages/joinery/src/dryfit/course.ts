import { dot, type Vec } from '../frame.js';
import { type Block, type Blocks, blocksOf, extent } from './blocks.js';
import { SKIN } from './dryfit-tolerance.js';
import type { Pair } from './pair.js';

/** Between which travels something overlaps, mm; from −∞ where it always did. */
export type Stretch = readonly [number, number];

/** Slower than this along an axis is not at all: rounding of unit vectors. */
const STILL = 1e-9;

/** The pieces of two plates as they meet, with their extents along each direction that can part them. */
export interface Meeting {
  readonly axes: readonly Vec[];
  readonly a: readonly Extents[];
  readonly b: readonly Extents[];
}

/** A block with its extent along each of a meeting's axes. */
export interface Extents {
  readonly block: Block;
  readonly along: readonly (readonly [number, number])[];
}

/** Prepares a pair for questions about moves. Boxes are apart exactly when one of these axes parts them. */
export function meetingOf(pair: Pair): Meeting {
  const { a, b, line, acrossA, acrossB, lie } = pair;
  const axes: Vec[] = [line, acrossA, a.frame.n];
  if (lie === 'askew') axes.push(acrossB, b.frame.n);
  const side = (solid: typeof a, across: Vec): Extents[] => {
    const list: Blocks = { blocks: blocksOf(solid, line, across), across, normal: solid.frame.n };
    return list.blocks.map((block) => ({
      block,
      along: axes.map((axis, i) => (i === 0 ? block.s : extent(block, list, axis))),
    }));
  };
  return { axes, a: side(a, acrossA), b: side(b, acrossB) };
}

/** The extent of many blocks along one axis. */
function bounds(list: readonly Extents[], i: number): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const e of list) {
    low = Math.min(low, e.along[i]![0]);
    high = Math.max(high, e.along[i]![1]);
  }
  return [low, high];
}

/** The blocks that can meet others at all where a move does not carry them past: along the axes that it keeps. */
function near(
  list: readonly Extents[],
  others: readonly Extents[],
  still: readonly number[],
): readonly Extents[] {
  let out = list;
  for (const i of still) {
    const [low, high] = bounds(others, i);
    out = out.filter((e) => e.along[i]![0] < high - SKIN && e.along[i]![1] > low + SKIN);
  }
  return out;
}

/** One box meeting one other: where their surfaces touch, and between which travels they overlap by more than that. */
type Clash = [from: number, to: number, touch: number];

function clashesAlong({ axes, a, b }: Meeting, direction: Vec, beyond: number): Clash[] {
  const speeds = axes.map((axis) => dot(axis, direction));
  const still = axes.flatMap((_, i) => (Math.abs(speeds[i]!) < STILL ? [i] : []));
  const order = [...still, ...axes.flatMap((_, i) => (still.includes(i) ? [] : [i]))];
  const movers = near(a, b, still);
  const others = near(b, movers, still);
  const out: Clash[] = [];
  for (const p of movers)
    for (const q of others) {
      let from = -Infinity;
      let to = Infinity;
      let touch = -Infinity;
      for (const i of order) {
        const one = p.along[i]!;
        const two = q.along[i]!;
        const early = two[0] - one[1] + SKIN;
        const late = two[1] - one[0] - SKIN;
        const k = speeds[i]!;
        if (Math.abs(k) < STILL) {
          if (early < 0 && late > 0 && early < late) continue;
          to = -Infinity;
        } else {
          from = Math.max(from, k > 0 ? early / k : late / k);
          // Askew to an axis the skin lasts longer than it is thick.
          touch = Math.max(touch, k > 0 ? (early - SKIN) / k : (late + SKIN) / k);
          to = Math.min(to, k > 0 ? late / k : early / k);
        }
        if (from >= to) break;
      }
      if (from < to && to > beyond) out.push([from, to, touch]);
    }
  return out;
}

/** When the first plate's boxes, moved along a direction, overlap the second's: every stretch of travel, by its start. */
export function overlapsAlong(meeting: Meeting, direction: Vec, beyond = -Infinity): Stretch[] {
  const out = clashesAlong(meeting, direction, beyond);
  out.sort((x, y) => x[0] - y[0] || x[1] - y[1]);
  const merged: [number, number][] = [];
  for (const t of out) {
    const last = merged.at(-1);
    if (last && t[0] <= last[1]) last[1] = Math.max(last[1], t[1]);
    else merged.push([t[0], t[1]]);
  }
  return merged;
}

/**
 * How far the first plate can go along a direction before it meets the second, mm: Infinity where nothing is in the
 * way. Where they overlap already it is 0.
 */
export function travelAlong(meeting: Meeting, direction: Vec): number {
  return Math.max(
    0,
    clashesAlong(meeting, direction, 0).reduce((least, c) => Math.min(least, c[2]), Infinity),
  );
}

/** How far the first plate must go along a direction to be clear of the second, where they overlap; else 0. mm */
export function escapeAlong(meeting: Meeting, direction: Vec): number {
  const at = overlapsAlong(meeting, direction, 0)[0];
  return at && at[0] <= 0 ? at[1] + SKIN : 0;
}

/**
 * Where two plates overlap: the direction, either way, in which the deepest overlap of two boxes is the least deep;
 * the one across the surfaces that are in each other's way. Nothing where they do not overlap.
 */
export function shallowestAxis({ axes, a, b }: Meeting): Vec | undefined {
  let deepest = SKIN;
  let found: Vec | undefined;
  for (const p of a)
    for (const q of b) {
      let least = Infinity;
      let across: Vec | undefined;
      axes.forEach((axis, i) => {
        const [one, two] = [p.along[i]!, q.along[i]!];
        const depth = Math.min(one[1] - two[0], two[1] - one[0]);
        if (depth < least) [least, across] = [depth, axis];
      });
      if (least > deepest) [deepest, found] = [least, across];
    }
  return found;
}
