import type { Master } from '@haunch/model';
import { cross, dot, length, type Vec } from '../frame.js';
import { LEAST_LEAN, SAME_DIRECTION } from '../tolerances.js';
import type { Bound, Standing } from './bounds.js';

/** Walls of slots for a plate that leans of which nothing tells what they follow. */
export interface LeaningLeft {
  /** The plate that leans. */
  readonly part: string;
  readonly edges: readonly string[];
}

/** The walls that ought to touch a plate that passes at an angle, of cuts named by mates, and that nothing binds but their own plate. */
export function leaningLeft(
  { mates }: Master,
  all: readonly Standing[],
  bound: ReadonlyMap<string, Bound>,
): LeaningLeft[] {
  const standing = new Map(all.map((s) => [s.part.id, s]));
  const free = (tag: string): boolean => (bound.get(tag)?.reason ?? 'kept') === 'kept';
  return mates.flatMap((mate) => {
    const [slot, entering] = [standing.get(mate.slotPart), standing.get(mate.enteringPart)];
    if (!slot || !entering) return [];
    const [a, b]: readonly [Vec, Vec] = [slot.plate.frame.n, entering.plate.frame.n];
    const line = cross(a, b);
    if (length(line) < LEAST_LEAN || Math.abs(dot(a, b)) < SAME_DIRECTION) return [];
    const edges = slot.plate.edges
      .filter((e) => mate.slotFeatures.includes(e.contour) && !e.contour.endsWith('.outline'))
      .filter((e) => Math.abs(dot(e.normal, line)) < SAME_DIRECTION && free(e.tag))
      .map((e) => e.tag);
    return edges.length === 0 ? [] : [{ part: entering.part.id, edges }];
  });
}
