import { distance, type Point, pointInRing, type Segment, sweepAround } from '@haunch/geometry';
import type { Diagnostic, Place } from '@haunch/model';
import { obstacleOf, tooNear } from './clear-of.js';
import type { CutMove } from './cut-move.js';
import { inKeepOut, outOfReach } from './diagnostics.js';
import type { Operation } from './operation.js';
import type { PlanInput } from './plan-input.js';

const segmentOf = (from: Place, m: CutMove): Segment =>
  m.kind !== 'circular'
    ? { kind: 'line', from, to: m.to }
    : {
        kind: 'arc',
        from,
        to: m.to,
        centre: m.centre,
        radius: distance(m.centre, m.to),
        sweep: sweepAround(m.centre, from, m.to, m.turn),
      };

const SLACK = 0.001;
/** The nearest place is told to this, mm. */
const NEARER = 0.05;

/** Cuts that come too near to a keep-out, or that the machine does not reach. */
export function checkMoves(o: Operation, input: PlanInput): Diagnostic[] {
  const { board, machine } = input;
  const w = { item: o.item, feature: o.feature, board: board.id };
  const out: Diagnostic[] = [];
  const hood = machine.hoodRadius ?? 0;
  const radius = Math.max(o.cutter.diameter / 2, hood);
  const keepOuts = obstacleOf(board.keepOuts);
  let at: Place | undefined;
  let limit = radius - SLACK;
  let worst: { readonly at: Point; readonly gap: number } | undefined;
  for (const m of o.moves) {
    if (at !== undefined && m.kind !== 'rapid') {
      const inside = board.keepOuts.some((k) => pointInRing(k, m.to) === 'inside');
      const run = segmentOf(at, m);
      // Step by step to the nearest place, so that the figure says how far the part is to be moved.
      for (let hit: typeof worst = inside ? { at: m.to, gap: 0 } : tooNear(run, keepOuts, limit); hit; ) {
        [worst, limit] = [hit, hit.gap - NEARER];
        hit = tooNear(run, keepOuts, limit);
      }
    }
    at = m.to;
  }
  if (worst !== undefined) {
    const whose = radius > o.cutter.diameter / 2 ? 'hood' : 'cutter';
    out.push(inKeepOut(w, { x: worst.at.x, y: worst.at.y }, worst.gap, radius, whose));
  }
  const up = machine.zZero === 'bed' ? board.thickness : 0;
  for (const axis of ['x', 'y', 'z'] as const) {
    const [least, most] = machine.envelope[axis];
    const values = o.moves.map((m) => m.to[axis] + (axis === 'z' ? up : 0));
    const odd = values.find((v) => v < least - 1e-9 || v > most + 1e-9);
    if (odd !== undefined) out.push(outOfReach(w, axis.toUpperCase(), odd, least, most));
  }
  return out;
}
