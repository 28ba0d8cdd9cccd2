import { type Box, moveRing, ringBounds, snap } from '@haunch/geometry';
import type { NestingItem, Placement } from '@haunch/model';

interface Lying {
  readonly item: NestingItem;
  readonly placement: Placement;
  readonly box: Box;
}

const AXES = ['x', 'y'] as const;
type Axis = (typeof AXES)[number];

const low = (b: Box, axis: Axis): number => (axis === 'x' ? b.minX : b.minY);
const high = (b: Box, axis: Axis): number => (axis === 'x' ? b.maxX : b.maxY);

const boxRound = (of: readonly Lying[]): Box => ({
  minX: Math.min(...of.map((l) => l.box.minX)),
  minY: Math.min(...of.map((l) => l.box.minY)),
  maxX: Math.max(...of.map((l) => l.box.maxX)),
  maxY: Math.max(...of.map((l) => l.box.maxY)),
});

/** Groups between which a straight cut across an axis runs free of all boxes, in their order along it. */
function groupsAlong(of: readonly Lying[], axis: Axis): Lying[][] {
  const groups: Lying[][] = [];
  let end = -Infinity;
  for (const l of [...of].sort((a, b) => low(a.box, axis) - low(b.box, axis))) {
    if (low(l.box, axis) >= end) groups.push([]);
    groups.at(-1)!.push(l);
    end = Math.max(end, high(l.box, axis));
  }
  return groups;
}

/** A placement moved along an axis. */
const shifted = ({ placement: p }: Lying, axis: Axis, by: number): Placement => ({
  ...p,
  motion: {
    ...p.motion,
    dx: snap(p.motion.dx + (axis === 'x' ? by : 0)),
    dy: snap(p.motion.dy + (axis === 'y' ? by : 0)),
  },
});

/** A group as it lies when its box is turned by half a turn in its place; undefined where an item may not be turned so. */
function halfTurned(group: readonly Lying[]): Placement[] | undefined {
  const all = boxRound(group);
  const out: Placement[] = [];
  for (const { item, placement, box } of group) {
    const { turn } = placement.motion;
    const other = item.turns.find((t) => Math.abs(Math.abs(t - turn) - Math.PI) < 1e-9);
    if (other === undefined) return undefined;
    const bare = ringBounds(moveRing({ mirror: false, turn: other, dx: 0, dy: 0 }, item.outline));
    const dx = snap(all.minX + all.maxX - box.maxX - bare.minX);
    const dy = snap(all.minY + all.maxY - box.maxY - bare.minY);
    out.push({ ...placement, motion: { mirror: false, turn: other, dx, dy } });
  }
  return out;
}

/** Two strips of a row in each other's place, those between them pushed along; with the gaps of before, or all of one width. */
function swapped(groups: readonly Lying[][], i: number, j: number, axis: Axis, gap?: number): Placement[] {
  const order = [...groups];
  [order[i], order[j]] = [order[j]!, order[i]!];
  const boxes = groups.map(boxRound);
  let at = low(boxes[0]!, axis);
  return order.flatMap((group, k): Placement[] => {
    const box = boxRound(group);
    const by = at - low(box, axis);
    const next = boxes[k + 1];
    at += high(box, axis) - low(box, axis) + (gap ?? (next ? low(next, axis) - high(boxes[k]!, axis) : 0));
    return by === 0 ? [] : group.map((l) => shifted(l, axis, by));
  });
}

/** How deep strips are looked for within strips. */
const DEPTH = 4;

function* within(of: readonly Lying[], spacing: number, depth: number): Generator<readonly Placement[]> {
  const turned = halfTurned(of);
  if (turned) yield turned;
  if (depth === 0 || of.length < 2) return;
  for (const axis of AXES) {
    const groups = groupsAlong(of, axis);
    if (groups.length < 2) continue;
    for (let i = 0; i < groups.length; i++)
      for (let j = i + 1; j < groups.length; j++) {
        yield swapped(groups, i, j, axis);
        yield swapped(groups, i, j, axis, spacing);
      }
    for (const group of groups) yield* within(group, spacing, depth - 1);
  }
}

/**
 * Other arrangements of what lies on one board that take as much of it: strips between straight cuts that run free of all parts, and strips
 * within strips, change places or are turned by half a turn. Only the placements that differ; the referee has not seen them.
 */
export function stripMoves(
  lies: readonly (readonly [NestingItem, Placement])[],
  spacing: number,
): Generator<readonly Placement[]> {
  const all = lies.map(
    ([item, placement]): Lying => ({
      item,
      placement,
      box: ringBounds(moveRing(placement.motion, item.outline)),
    }),
  );
  return within(all, spacing, DEPTH);
}
