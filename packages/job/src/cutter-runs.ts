import type { Move, Place, Toolpath } from '@haunch/model';

/** How far a cutter runs at feed in a program. metres */
export interface CutterRun {
  readonly cutter: string;
  readonly metres: number;
}

const TURN = 2 * Math.PI;

/** The length of a move at feed, arcs and helices along themselves. mm */
function lengthOf(from: Place, move: Extract<Move, { kind: 'linear' | 'circular' }>): number {
  const rise = move.to.z - from.z;
  if (move.kind === 'linear') return Math.hypot(move.to.x - from.x, move.to.y - from.y, rise);
  const { centre, to, turn } = move;
  const angle = (p: Place): number => Math.atan2(p.y - centre.y, p.x - centre.x);
  const swept = turn === 'ccw' ? angle(to) - angle(from) : angle(from) - angle(to);
  // Back at its start means once round.
  const round = to.x === from.x && to.y === from.y ? TURN : ((swept % TURN) + TURN) % TURN;
  return Math.hypot(round * Math.hypot(from.x - centre.x, from.y - centre.y), rise);
}

/**
 * How far each cutter runs at feed in a toolpath, in the order of first use, to the millimetre. metres. Rapid moves wear no edge.
 */
export function cutterRuns({ moves }: Toolpath): CutterRun[] {
  const run = new Map<string, number>();
  let [at, cutter] = [undefined as Place | undefined, ''];
  for (const m of moves) {
    if (m.kind === 'cutter') cutter = m.id;
    if (!('to' in m)) continue;
    if (at && m.kind !== 'rapid') run.set(cutter, (run.get(cutter) ?? 0) + lengthOf(at, m));
    at = m.to;
  }
  return [...run].map(([id, mm]) => ({ cutter: id, metres: Math.round(mm) / 1000 }));
}
