import { meetingOf, travelAlong } from './course.js';
import { back } from './direction.js';
import { CLOSE } from './dryfit-tolerance.js';
import { volumeBetween } from './judge-piece.js';
import { pairOf } from './pair.js';
import { type Solid, solidOf } from './solid.js';

/** A plate that stands in a cut of another. */
export interface StandsIn {
  readonly part: string;
  readonly cutPart: string;
  readonly feature: string;
}

/** The plate with one of its cuts not made. */
function without(s: Solid, feature: string): Solid {
  const other = (c: { readonly id: string }): boolean => c.id !== feature;
  const part = { ...s.part, through: s.part.through.filter(other), pockets: s.part.pockets.filter(other) };
  return solidOf(part, s.frame, s.thickness);
}

/** The cuts of a plate in which another stands with its faces against their walls. */
function cutsRound(cut: Solid, other: Solid, play: number): StandsIn[] {
  if (cut.part.through.length + cut.part.pockets.length === 0) return [];
  const meeting = meetingOf(pairOf(other, cut));
  const n = other.frame.n;
  if ([n, back(n)].some((d) => travelAlong(meeting, d) > play + CLOSE)) return [];
  return [...cut.part.pockets, ...cut.part.through].flatMap(({ id }) =>
    volumeBetween(without(cut, id), other) > 0 ? [{ part: other.id, cutPart: cut.id, feature: id }] : [],
  );
}

/**
 * The recesses and slots of either plate in which the other stands with its faces against the walls: a joint, whether
 * the piece says so or not. A plate that goes through a wider opening stands in none.
 */
export const standsIn = (a: Solid, b: Solid, play: number): StandsIn[] => [
  ...cutsRound(a, b, play),
  ...cutsRound(b, a, play),
];
