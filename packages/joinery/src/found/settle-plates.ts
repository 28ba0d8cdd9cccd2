import { snap } from '@haunch/geometry';
import type { MasterPart } from '@haunch/model';
import { dot, type Vec } from '../frame.js';
import { plateOf } from '../plate.js';
import { nearContacts } from './near-contacts.js';

/** Gaps and overlaps up to this between what is meant to touch, mm. */
export const NEAR = 0.8;

/** What holds on one side only may be a wall with half its clearance: it says less. */
const ONE_SIDED = 0.01;

/** How far the second plate must move against the first along an axis for their contacts to be even. */
interface Wish {
  readonly pair: readonly [number, number];
  readonly by: number;
  readonly weight: number;
}

/** What two plates' contacts along one world axis ask for: what is open on one side and on the other, evened out. */
function wishOf(
  pair: readonly [number, number],
  contacts: readonly { readonly gap: number; readonly sense: 1 | -1 }[],
): Wish[] {
  const mean = (sense: 1 | -1): number | null => {
    const own = contacts.filter((c) => c.sense === sense);
    return own.length === 0 ? null : own.reduce((sum, c) => sum + c.gap, 0) / own.length;
  };
  // A gap of sense 1 closes when the second plate moves back along the axis.
  const [ahead, behind] = [mean(1), mean(-1)];
  if (ahead === null && behind === null) return [];
  const by = ahead === null ? behind! : behind === null ? -ahead : (behind - ahead) / 2;
  return [{ pair, by, weight: ahead !== null && behind !== null ? 1 : ONE_SIDED }];
}

/** Solves for the least sum of weighted squares, the first of each connected group staying where it is. */
function solved(n: number, wishes: readonly Wish[]): number[] {
  const group = Array.from({ length: n }, (_, i) => i);
  const root = (i: number): number => (group[i] === i ? i : root(group[i]!));
  for (const { pair } of wishes) {
    const [a, b] = [root(pair[0]), root(pair[1])];
    group[Math.max(a, b)] = Math.min(a, b);
  }
  const free = Array.from({ length: n }, (_, i) => i).filter((i) => root(i) !== i);
  const place = new Map(free.map((i, k) => [i, k]));
  const m = free.map(() => new Array<number>(free.length + 1).fill(0));
  for (const { pair, by, weight } of wishes) {
    const [a, b] = [place.get(pair[0]), place.get(pair[1])];
    if (a !== undefined) {
      m[a]![a]! += weight;
      m[a]![free.length]! -= weight * by;
    }
    if (b !== undefined) {
      m[b]![b]! += weight;
      m[b]![free.length]! += weight * by;
    }
    if (a !== undefined && b !== undefined) {
      m[a]![b]! -= weight;
      m[b]![a]! -= weight;
    }
  }
  for (let k = 0; k < free.length; k++)
    for (let i = k + 1; i < free.length; i++) {
      const by = m[i]![k]! / m[k]![k]!;
      if (by !== 0) for (let j = k; j <= free.length; j++) m[i]![j]! -= by * m[k]![j]!;
    }
  const out = new Array<number>(n).fill(0);
  for (let k = free.length - 1; k >= 0; k--) {
    let sum = m[k]![free.length]!;
    for (let j = k + 1; j < free.length; j++) sum -= m[k]![j]! * out[free[j]!]!;
    out[free[k]!] = sum / m[k]![k]!;
  }
  return out;
}

/**
 * Plates moved by fractions of a millimetre so that what the pairs (places in the list) hold each other by is even:
 * a plate in the middle of its slot, a shoulder on its face. Least squares over all pairs along X, Y and Z; the first
 * plate of each connected group stays. mm, on the grid.
 */
export function settledPlates(
  parts: readonly MasterPart[],
  pairs: readonly (readonly [number, number])[],
): MasterPart[] {
  const plates = parts.map(plateOf);
  const wishes: Wish[][] = [[], [], []];
  for (const pair of pairs) {
    const [a, b] = [plates[pair[0]]!, plates[pair[1]]!];
    const contacts = nearContacts(a, b, NEAR).map((c) => ({
      gap: c.gap,
      normal: (c.plate === a ? c.edge.normal : c.edge.normal.map((v) => -v)) as Vec,
    }));
    for (const axis of [0, 1, 2] as const) {
      const unit: Vec = [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];
      const own = contacts.flatMap(({ gap, normal }): { gap: number; sense: 1 | -1 }[] => {
        const d = dot(normal, unit);
        return Math.abs(d) > 1 - 1e-6 ? [{ gap, sense: d > 0 ? 1 : -1 }] : [];
      });
      wishes[axis]!.push(...wishOf(pair, own));
    }
  }
  const by = wishes.map((w) => solved(parts.length, w));
  return parts.map((p, i) => ({
    ...p,
    frame: {
      ...p.frame,
      origin: p.frame.origin.map((v, k) => snap(v + by[k]![i]!)) as [number, number, number],
    },
  }));
}
