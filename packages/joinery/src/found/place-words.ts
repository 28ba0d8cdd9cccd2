import type { MasterPart } from '@haunch/model';
import { frameOf, type Vec } from '../frame.js';
import { boxOf, namedAxis } from './world.js';

const AXES = ['X', 'Y', 'Z'] as const;

const way = (v: Vec): string => {
  const axis = namedAxis(v);
  return typeof axis === 'string' ? axis : `(${axis.map((x) => +x.toFixed(3)).join(', ')})`;
};

const range = (from: number, to: number): string => `${+from.toFixed(1)} to ${+to.toFixed(1)}`;

/** Where a part stands and how its drawing lies there, in words; mm in the world. */
export function placeWords(p: MasterPart): string {
  const { low, high } = boxOf(p);
  const f = frameOf(p);
  const where = AXES.map((axis, k) => `${axis} ${range(low[k]!, high[k]!)}`).join(', ');
  return `${p.id} at ${where}; its face n+ looks ${way(f.n)}, right in its drawing is ${way(f.u)}`;
}
