import { along, cross, dot, length, type Vec } from '../frame.js';
import { SAME_WAY } from './dryfit-tolerance.js';
import type { Solid } from './solid.js';

/** How two plates lie to each other: the line that both planes share, and across it in each plane. */
export interface Pair {
  readonly a: Solid;
  readonly b: Solid;
  /** Along both planes; of parallel plates any line in them. */
  readonly line: Vec;
  readonly acrossA: Vec;
  readonly acrossB: Vec;
  readonly lie: 'square' | 'parallel' | 'askew';
}

/** The first of opposite directions, so that profiles of one line are shared. */
function forward(v: Vec): Vec {
  const first = v.find((x) => Math.abs(x) > SAME_WAY) ?? 1;
  return first < 0 ? [-v[0] + 0, -v[1] + 0, -v[2] + 0] : v;
}

/** The geometry of a pair. */
export function pairOf(a: Solid, b: Solid): Pair {
  const x = cross(a.frame.n, b.frame.n);
  const sine = length(x);
  const parallel = sine < SAME_WAY;
  const line = parallel ? a.frame.u : forward(along([0, 0, 0], 1 / sine, x));
  return {
    a,
    b,
    line,
    acrossA: cross(a.frame.n, line),
    acrossB: parallel ? cross(a.frame.n, line) : cross(b.frame.n, line),
    lie: parallel ? 'parallel' : Math.abs(dot(a.frame.n, b.frame.n)) < 1e-9 ? 'square' : 'askew',
  };
}

/** Whether the boxes round two plates have no more in common than `skin`. */
export const boxesApart = (a: Solid, b: Solid, skin: number): boolean =>
  [0, 1, 2].some((k) => Math.min(a.box[1][k]!, b.box[1][k]!) - Math.max(a.box[0][k]!, b.box[0][k]!) <= skin);
