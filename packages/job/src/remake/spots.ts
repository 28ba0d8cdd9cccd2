import { ringBounds, snap } from '@haunch/geometry';
import type { Board, NestingInstance, Part, Placement } from '@haunch/model';
import { movePart, partOnTable } from '@haunch/model';
import { checkLayout, constructive, runNesting, seededRandom, ticks } from '@haunch/nesting';
import type { Job } from '../job.js';
import { keptFree, withoutTrims } from '../kept-free.js';
import { itemFor } from '../lay-job.js';

/** Places tried across and along a board when the layout's own does not do. */
const PLACES = 5;

/** One part alone on a board. */
const alone = (job: Job, part: Part, board: Board): NestingInstance => ({
  items: [itemFor(part, [board])],
  boards: [
    {
      id: board.id,
      outline: board.outline,
      keepOuts: keptFree(withoutTrims(board), job),
      ...(board.defects ? { defects: board.defects } : {}),
    },
  ],
  spacing: 2 * job.router.diameter + job.settings.lay.web,
  edgeMargin: job.settings.lay.edgeMargin,
});

const valid = (instance: NestingInstance, placement: Placement): boolean =>
  checkLayout(instance, { kind: 'layout', placements: [placement], unplaced: [] }).valid;

/** Spots on a grid over the board in every turn that the grain allows, those that the referee allows. */
function onGrid(instance: NestingInstance, part: Part, board: Board): Placement[] {
  const { minX, minY, maxX, maxY } = ringBounds(board.outline);
  const margin = instance.edgeMargin;
  return instance.items[0]!.turns.flatMap((turn) => {
    const turned = movePart({ mirror: false, turn, dx: 0, dy: 0 }, partOnTable(part));
    const box = ringBounds(turned.outline.ring);
    const [roomX, roomY] = [
      maxX - minX - 2 * margin - (box.maxX - box.minX),
      maxY - minY - 2 * margin - (box.maxY - box.minY),
    ];
    if (roomX < 0 || roomY < 0) return [];
    return Array.from({ length: PLACES * PLACES }, (_, k): Placement => {
      const [i, j] = [k % PLACES, Math.floor(k / PLACES)];
      return {
        item: part.id,
        board: board.id,
        motion: {
          mirror: false,
          turn,
          dx: snap(minX + margin - box.minX + (roomX * i) / (PLACES - 1)),
          dy: snap(minY + margin - box.minY + (roomY * j) / (PLACES - 1)),
        },
      };
    }).filter((p) => valid(instance, p));
  });
}

/**
 * Where a part may lie on a board by itself: the layout's own place first, then others all over the board, since a sheet that
 * is too thick here may do there. Empty where it has no room. Deterministic for the job's seed.
 */
export function spotsFor(job: Job, part: Part, board: Board): Placement[] {
  const instance = alone(job, part, board);
  const run = { random: seededRandom(job.settings.seed), tick: ticks(job.settings.lay.effort) };
  const { layout, report } = runNesting(constructive, instance, constructive.defaults, run);
  const own = report.valid ? layout.placements : [];
  return own.length === 0 ? [] : [...own, ...onGrid(instance, part, board)];
}
