import { distance, type Point, ringArea } from '@haunch/geometry';
import { type Cutter, fail, type Outcome, ok } from '@haunch/model';
import { depthPasses } from '../depth-passes.js';
import * as say from '../diagnostics.js';
import type { Operation } from '../operation.js';
import { line, type Path, pathLength, reversePath } from '../path.js';
import type { PlanContext } from '../plan-context.js';
import { speedsOf } from '../speeds.js';
import { descent, tracer } from '../tracer.js';
import type { Ticket } from './ticket.js';

const pathOf = (stroke: readonly Point[]): Path =>
  stroke.slice(1).flatMap((b, i) => (distance(stroke[i]!, b) > 1e-6 ? [line(stroke[i]!, b)] : []));

/** There and back along a stroke, until the length is reached. */
function thereAndBack(stroke: Path, length: number): Path {
  const round = [...stroke, ...reversePath(stroke)];
  return Array.from(
    { length: Math.max(1, Math.ceil(length / pathLength(round) - 1e-9)) },
    () => round,
  ).flat();
}

/** The strokes of a ticket, each entered down a slope along itself. */
export function planTicket(c: PlanContext, ticket: Ticket, cutters: readonly Cutter[]): Outcome<Operation> {
  const { item, part } = c.placed;
  const w = { item, feature: `${item}.ticket`, board: c.board.id };
  const cutter = cutters.find((k) => k.id === ticket.cutter);
  if (cutter === undefined || cutter.kind !== 'router') return fail(say.ticketCutter(w, ticket.cutter));
  if (ticket.depth >= c.board.thickness) return fail(say.tooDeep(w, ticket.depth, c.board.thickness));
  if (ticket.depth > cutter.fluteLength)
    return fail(say.flutesTooShort(w, cutter.id, cutter.fluteLength, ticket.depth));
  const { depths, neededFirst } = depthPasses(ticket.depth, cutter);
  if (neededFirst !== null)
    return fail(say.shallowFirstPass(w, cutter.id, depths[0]!, neededFirst, ticket.depth));
  const t = tracer(ticket.strokes[0]![0]!, c.machine.clearance, speedsOf(cutter, c.machine));
  for (const stroke of ticket.strokes) {
    const path = pathOf(stroke);
    t.over(stroke[0]!);
    let z = 0;
    t.down(z);
    for (const [i, depth] of depths.entries()) {
      // Each pass runs the other way, so that none begins with a way back.
      const way = i % 2 === 0 ? path : reversePath(path);
      const down = thereAndBack(way, (z + depth) / Math.tan(cutter.rampAngle));
      t.follow(down, descent(down, z, -depth));
      t.follow(way, -depth);
      z = -depth;
    }
    t.up();
  }
  return ok({
    kind: 'engraving',
    item,
    feature: `${item}.ticket`,
    cutter,
    area: ringArea(part.outline.bare),
    depths,
    tabs: [],
    slug: null,
    moves: t.moves,
    encloses: [],
  });
}
