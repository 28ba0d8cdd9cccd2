import { type Point, pointInRing, type Ring, ringBounds, ringSegments } from '@haunch/geometry';
import type { Diagnostic } from '@haunch/model';
import { boxesApart, type Obstacle, obstacleOf, tooNear } from './clear-of.js';
import { keepOutOverPart, offBoard, tooClose } from './diagnostics.js';
import type { PlacedPart, PlanInput } from './plan-input.js';

/** Rounding in a layout that was made to the last tenth of a micrometre. mm */
const SLACK = 0.001;

/** The curves of a part that its neighbours must keep away from. */
export const edgesOf = (p: PlacedPart): Ring[] => [p.part.outline.bare, ...p.part.through.map((t) => t.bare)];

/** Whether a place lies on the part itself, not in an opening of it. */
const isWood = ({ part }: PlacedPart, v: Point): boolean =>
  pointInRing(part.outline.bare, v) === 'inside' &&
  part.through.every((t) => pointInRing(t.bare, v) === 'outside');

/** Parts beyond the board's edge or under a keep-out, and parts so close that the cutter of one would cut the other. */
export function checkLayout(input: PlanInput, diameter: number): Diagnostic[] {
  const { board, items } = input;
  const out: Diagnostic[] = [];
  const obstacles: Obstacle[] = items.map((p) => obstacleOf(edgesOf(p)));
  const openings: Obstacle[] = items.map((p) => obstacleOf(p.part.through.map((t) => t.bare)));
  const boxes = items.map((p) => ringBounds(p.part.outline.bare));
  items.forEach((p, i) => {
    const { bare, id } = p.part.outline;
    const w = { item: p.item, feature: id, board: board.id };
    const beyond = bare.vertices.find((v) => pointInRing(board.outline, v) === 'outside');
    if (beyond !== undefined) out.push(offBoard(w, { x: beyond.x, y: beyond.y }));
    const covered = board.keepOuts.flatMap((k) => k.vertices).find((v) => isWood(p, v));
    if (covered !== undefined) out.push(keepOutOverPart(w, { x: covered.x, y: covered.y }));
    for (let j = 0; j < items.length; j++) {
      if (j === i || boxesApart(boxes[i]!, boxes[j]!, diameter)) continue;
      // An outline against everything of the other; each pair of outlines once.
      const other = j > i ? obstacles[j]! : openings[j]!;
      const hit = ringSegments(bare)
        .map((s) => tooNear(s, other, diameter - SLACK))
        .find((n) => n !== undefined);
      if (hit !== undefined) out.push(tooClose(w, items[j]!.item, hit.gap, diameter, hit.at));
    }
  });
  return out;
}
