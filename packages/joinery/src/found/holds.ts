import type { MasterPart } from '@haunch/model';
import { axisVector, dot, frameOf, toWorld, type Vec } from '../frame.js';
import { boxOf, namedAxis } from './world.js';

/** What of a plate stays where it is when its thickness changes. */
export type Hold = MasterPart['hold'];

const HOLDS: readonly Hold[] = ['n-', 'n+', 'mid'];

/** The choices of a hold, in the order of their numbers. */
export const holdChoices = (p: MasterPart): readonly { readonly hold: Hold; readonly text: string }[] => {
  const n = frameOf(p).n;
  const way = (v: Vec): string => {
    const axis = namedAxis(v);
    return typeof axis === 'string' ? axis : 'askew';
  };
  return HOLDS.map((hold) => ({
    hold,
    text:
      hold === 'mid'
        ? 'its mid-plane stays'
        : `its face ${hold}, towards ${way(hold === 'n+' ? n : [-n[0], -n[1], -n[2]])}, stays`,
  }));
};

/** A plate that others stand out beyond by no more than this bounds the piece, mm. */
const FLUSH = 1;

/** From where to where a plate reaches along a direction of the world. mm */
function facesAlong(p: MasterPart, n: Vec): readonly [number, number] {
  const f = frameOf(p);
  const at = [p.outline.start, ...p.outline.segments.map((s) => s.to)].flatMap(([x, y]) =>
    [0, p.thickness].map((w) => dot(toWorld(f, { x, y }, w), n)),
  );
  return [Math.min(...at), Math.max(...at)];
}

/**
 * What stays of each plate where nobody says it: the outer face of a plate that has others of its direction on one side
 * only or bounds the whole piece, so that the overall size stays; the mid-plane of one between two.
 */
export function usualHolds(parts: readonly MasterPart[]): Hold[] {
  return parts.map((p) => {
    const n = axisVector(p.frame.n);
    const at = (q: MasterPart): number => {
      const { low, high } = boxOf(q);
      return dot([low[0] + high[0], low[1] + high[1], low[2] + high[2]], n) / 2;
    };
    const here = at(p);
    const same = parts.filter((q) => q !== p && Math.abs(dot(axisVector(q.frame.n), n)) > 1 - 1e-6).map(at);
    const [below, above] = [same.some((x) => x < here - 1), same.some((x) => x > here + 1)];
    if (below !== above) return below ? 'n+' : 'n-';
    if (below) return 'mid';
    const faces = facesAlong(p, n);
    const rest = parts.filter((q) => q !== p).map((q) => facesAlong(q, n));
    const [least, most] = [Math.min(...rest.map((f) => f[0])), Math.max(...rest.map((f) => f[1]))];
    const [first, last] = [faces[0] <= least + FLUSH, faces[1] >= most - FLUSH];
    return first === last ? 'mid' : last ? 'n+' : 'n-';
  });
}
