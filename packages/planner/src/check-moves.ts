import { distance, pointInRing, type Segment, sweepAround } from '@haunch/geometry';
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

/** Cuts that come too near to a keep-out, or that the machine does not reach. */
export function checkMoves(o: Operation, input: PlanInput): Diagnostic[] {
  const { board, machine } = input;
  const w = { item: o.item, feature: o.feature, board: board.id };
  const out: Diagnostic[] = [];
  const radius = Math.max(o.cutter.diameter / 2, machine.hoodRadius ?? 0);
  const keepOuts = obstacleOf(board.keepOuts);
  let at: Place | undefined;
  for (const m of o.moves) {
    if (at !== undefined && m.kind !== 'rapid') {
      const inside = board.keepOuts.some((k) => pointInRing(k, m.to) === 'inside');
      const hit = inside ? { at: m.to, gap: 0 } : tooNear(segmentOf(at, m), keepOuts, radius - SLACK);
      if (hit !== undefined) {
        out.push(inKeepOut(w, { x: hit.at.x, y: hit.at.y }, hit.gap, radius));
        break;
      }
    }
    at = m.to;
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
