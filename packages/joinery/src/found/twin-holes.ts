import type { MasterPart, Part } from '@haunch/model';
import { type Frame, frameOf, toWorld } from '../frame.js';
import { congruence, congruences } from '../mates/congruent.js';
import { flatPartOf } from '../mates/flat-part.js';
import { inverse, within } from '../mates/pose.js';

/** Holes whose centres differ by less are one, mm. */
const SAME_HOLE = 0.05;

/** Two parts of the same cuts whose holes differ: the one's drawing in the other's plane. */
export interface Twins {
  readonly parts: readonly [number, number];
  readonly over: Frame;
}

/** Whether a motion takes the holes of the one onto those of the other. */
function sameHoles(a: Part, b: Part, f: Frame): boolean {
  if (a.holes.length !== b.holes.length) return false;
  const over = f.n[2] < 0;
  return a.holes.every((h) => {
    const at = toWorld(f, h.centre, 0);
    const face = over ? (h.face === 'n+' ? 'n-' : 'n+') : h.face;
    return b.holes.some(
      (o) =>
        Math.hypot(o.centre.x - at[0], o.centre.y - at[1]) <= SAME_HOLE &&
        Math.abs(o.diameter - h.diameter) <= SAME_HOLE &&
        o.depth === h.depth &&
        (h.depth === 'through' || o.face === face),
    );
  });
}

/** Families of parts with the same outline and cuts of which not all have the same holes: places in the list. */
export function twinsByHoles(parts: readonly Part[]): {
  readonly pairs: readonly Twins[];
  readonly many: readonly (readonly number[])[];
} {
  const flat = parts.map(flatPartOf);
  const families: { members: number[]; over: Map<number, Frame> }[] = [];
  parts.forEach((_, i) => {
    for (const family of families) {
      const over = congruence(flat[i]!, flat[family.members[0]!]!);
      if (!over) continue;
      family.members.push(i);
      family.over.set(i, over);
      return;
    }
    families.push({ members: [i], over: new Map() });
  });
  const differing = families.filter(({ members: [first, ...rest], over }) =>
    rest.some((i) => !sameHoles(parts[i]!, parts[first!]!, over.get(i)!)),
  );
  return {
    pairs: differing
      .filter((f) => f.members.length === 2)
      .map(({ members, over }) => ({
        parts: [members[1]!, members[0]!] as const,
        over: over.get(members[1]!)!,
      })),
    many: differing.filter((f) => f.members.length > 2).map((f) => f.members),
  };
}

/** A hole where a motion takes it, in words that are equal when the holes are. */
function holesMoved(a: Part, f: Frame): string {
  const over = f.n[2] < 0;
  return a.holes
    .map((h) => {
      const at = toWorld(f, h.centre, 0);
      const face = h.depth === 'through' ? '' : over ? (h.face === 'n+' ? 'n-' : 'n+') : h.face;
      return [Math.round(at[0] * 10), Math.round(at[1] * 10), h.diameter, h.depth, face].join();
    })
    .sort()
    .join(';');
}

/**
 * The motions in a part's own plane that lay its outline and cuts on themselves, but not its holes: the ways round it may stand
 * as far as its joints tell. One motion for each way; none for a part whose shape tells.
 */
export function turnsByHoles(part: Part): Frame[] {
  if (part.holes.length === 0) return [];
  const flat = flatPartOf(part);
  const ways = new Map<string, Frame>();
  // Of two motions that come to the same the one without turning over is told.
  const motions = [...congruences(flat, flat)].sort((f, g) => g.n[2] - f.n[2]);
  for (const f of motions)
    if (!sameHoles(part, part, f) && !ways.has(holesMoved(part, f))) ways.set(holesMoved(part, f), f);
  return [...ways.values()];
}

/** Where two twins stand when each takes the other's place. */
export function exchanged(a: MasterPart, b: MasterPart, over: Frame): readonly [Frame, Frame] {
  return [within(frameOf(b), over), within(frameOf(a), inverse(over))];
}
