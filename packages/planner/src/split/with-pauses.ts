import type { Point } from '@haunch/geometry';
import type { Machine, Move, Workingstep } from '@haunch/model';
import { secondsOfMoves } from '../motion-time.js';
import type { Plan } from '../plan-input.js';
import { changesFirst, modalStateAt } from './modal-state.js';

/** A wait for the operator: after the step of this id, with what is to be done in a sentence. */
export interface PlannedPause {
  readonly after: string;
  readonly text: string;
  /** Where the cutter waits, out of the way. Board coordinates, mm. */
  readonly aside: Point;
}

/** The moves of a pause: aside at the height of rapids, spindle stopped, and back to work. */
function pauseMoves(moves: readonly Move[], end: number, { after, text, aside }: PlannedPause): Move[] {
  const { at, rpm, spinUp } = modalStateAt(moves, end);
  if (at === undefined) return [];
  const next = moves.slice(end);
  const first = next.find((m) => 'to' in m);
  const waiting: Move[] = [
    { kind: 'rapid', to: { ...aside, z: at.z }, from: after },
    ...(rpm === 0 ? [] : ([{ kind: 'spindle', rpm: 0, from: after }] as const)),
    { kind: 'pause', text, from: after },
  ];
  if (first === undefined || rpm === 0) return waiting;
  const running: Move[] = changesFirst(next)
    ? []
    : [
        { kind: 'spindle', rpm, from: after },
        { kind: 'dwell', seconds: spinUp, from: after },
      ];
  return [
    ...waiting,
    ...running,
    ...(first.kind === 'rapid' ? [] : [{ kind: 'rapid', to: at, from: after } as const]),
  ];
}

/**
 * A plan with waits for the operator. The cutter goes aside at the height of rapids, the spindle stops, and after the wait it turns
 * again as long as it was given before; nothing is cut that was not cut before. What the machine needs for that is counted, what the
 * operator needs is not.
 * @throws RangeError for a pause after a step that is not there.
 */
export function withPauses(plan: Plan, pauses: readonly PlannedPause[], machine: Machine): Plan {
  let moves: readonly Move[] = plan.toolpath.moves;
  let steps: readonly Workingstep[] = plan.workplan.steps;
  for (const p of pauses) {
    const end = moves.reduce((last, m, i) => (m.from === p.after ? i + 1 : last), 0);
    if (end === 0) throw new RangeError(`withPauses: there is no workingstep '${p.after}'`);
    // A spindle that the last step stops for good is stopped by the pause.
    const own = moves[end - 1];
    const stop = own?.kind === 'spindle' && own.rpm === 0 ? end - 1 : end;
    const added = pauseMoves(moves, stop, p);
    const at = modalStateAt(moves, stop).at;
    const dwell = added.reduce((sum, m) => sum + (m.kind === 'dwell' ? m.seconds : 0), 0);
    const way = added.flatMap((m) => (m.kind === 'rapid' ? [m] : []));
    const air = at === undefined ? 0 : secondsOfMoves(at, way, machine).reduce((sum, s) => sum + s, 0);
    moves = [...moves.slice(0, stop), ...added, ...moves.slice(end)];
    steps = steps.map((s) =>
      s.id !== p.after
        ? s
        : {
            ...s,
            seconds: s.seconds + air + dwell,
            ...(s.spent === undefined
              ? {}
              : { spent: { ...s.spent, air: s.spent.air + air, dwell: (s.spent.dwell ?? 0) + dwell } }),
          },
    );
  }
  return {
    ...plan,
    workplan: { ...plan.workplan, steps, seconds: steps.reduce((sum, s) => sum + s.seconds, 0) },
    toolpath: { ...plan.toolpath, moves },
  };
}
