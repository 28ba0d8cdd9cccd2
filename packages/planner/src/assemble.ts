import { snap } from '@haunch/geometry';
import type { Move, Place, Toolpath, Workingstep, Workplan } from '@haunch/model';
import type { CutMove } from './cut-move.js';
import { timeSpent } from './motion-time.js';
import type { Operation } from './operation.js';
import type { PlanInput } from './plan-input.js';
import { TOOL_CHANGE_SECONDS } from './practice.js';
import { speedsOf } from './speeds.js';
import { offsetOf, referenceOf, zFrom } from './z-reference.js';

/** Coordinates of the program: z from the machine's zero. */
function inProgram(m: CutMove, lift: number, from: string): Move {
  const z = snap(m.to.z + lift);
  return { ...m, to: z === m.to.z ? m.to : { ...m.to, z }, from };
}

/**
 * Puts planned operations, in this order, into one workplan and one toolpath: a note before each workingstep, the
 * cutter changed with the spindle stopped and high, and at the end the spindle stopped at the height of rapids.
 */
export function assemble(
  operations: readonly Operation[],
  { board, machine }: PlanInput,
): { readonly workplan: Workplan; readonly toolpath: Toolpath } {
  const lift = machine.zZero === 'bed' ? board.thickness : 0;
  const moves: Move[] = [];
  const steps: Workingstep[] = [];
  let total = 0;
  let at: Place = { x: 0, y: 0, z: machine.clearance };
  let cutter: string | undefined;
  let system: number | undefined;
  const digits = Math.max(3, String(operations.length).length);
  operations.forEach((o, i) => {
    const id = `${board.id}/${String(i + 1).padStart(digits, '0')} ${o.feature}`;
    moves.push({ kind: 'note', text: `${id} ${o.kind}`, from: id });
    const offset = offsetOf(zFrom(o, machine, board), machine, board);
    if (offset !== undefined && offset.code !== system) {
      moves.push({ kind: 'offset', ...offset, from: id });
      system = offset.code;
    }
    if (i === 0) moves.push(inProgram({ kind: 'rapid', to: at }, lift, id));
    let [change, dwell] = [0, 0];
    if (o.cutter.id !== cutter) {
      if (cutter !== undefined) moves.push({ kind: 'spindle', rpm: 0, from: id });
      moves.push({ kind: 'cutter', number: o.cutter.number, id: o.cutter.id, from: id });
      moves.push({ kind: 'spindle', rpm: speedsOf(o.cutter, machine).rpm, from: id });
      moves.push({ kind: 'dwell', seconds: machine.spinUp, from: id });
      [change, dwell] = [TOOL_CHANGE_SECONDS, machine.spinUp];
      cutter = o.cutter.id;
    }
    const own = o.moves.filter((m, k) => k > 0 || m.to.x !== at.x || m.to.y !== at.y);
    moves.push(...own.map((m) => inProgram(m, lift, id)));
    const spent = { ...timeSpent(at, own, machine), change, dwell };
    const seconds = spent.cutting + spent.entering + spent.air + change + dwell;
    total += seconds;
    at = o.moves.at(-1)!.to;
    steps.push({
      id,
      kind: o.kind,
      item: o.item,
      feature: o.feature,
      cutter: o.cutter.id,
      depths: o.depths.map(snap),
      tabs: o.tabs.map((t) => ({ ...t, at: { x: snap(t.at.x), y: snap(t.at.y) } })),
      slug: o.slug,
      reference: referenceOf(o, machine, board),
      ...(o.frees === undefined ? {} : { frees: o.frees }),
      ...(o.finish === undefined ? {} : { finish: o.finish }),
      seconds,
      spent,
    });
  });
  const last = steps.at(-1);
  if (last !== undefined) moves.push({ kind: 'spindle', rpm: 0, from: last.id });
  return {
    workplan: { kind: 'workplan', board: board.id, steps, seconds: total },
    toolpath: { kind: 'toolpath', board: board.id, moves },
  };
}
