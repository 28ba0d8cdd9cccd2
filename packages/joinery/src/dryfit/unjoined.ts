import { along, cross, length, type Vec } from '../frame.js';
import { LEAST_LEAN } from '../tolerances.js';
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

/** Whether a plate cannot go far either way along a direction for the other: it stands between walls. */
function isHeld(cut: Solid, other: Solid, d: Vec, play: number): boolean {
  const meeting = meetingOf(pairOf(other, cut));
  return [d, back(d)].every((way) => travelAlong(meeting, way) <= play + CLOSE);
}

/** The recesses and slots of a plate into which another reaches. */
const cutsEntered = (cut: Solid, other: Solid): StandsIn[] =>
  [...cut.part.pockets, ...cut.part.through].flatMap(({ id }) =>
    volumeBetween(without(cut, id), other) > 0 ? [{ part: other.id, cutPart: cut.id, feature: id }] : [],
  );

/** Whether notches of two outlines hold each other along the line in which the plates meet, as fingers do. */
function interlock(a: Solid, b: Solid, play: number): boolean {
  const line = cross(a.frame.n, b.frame.n);
  const sine = length(line);
  return sine > LEAST_LEAN && isHeld(a, b, along([0, 0, 0], 1 / sine, line), play);
}

/**
 * The recesses, slots and notches of either plate in which the other stands with its faces against the walls, and fingers between
 * fingers: a joint, whether the piece says so or not. A plate that goes through a wider opening stands in none. Of notches the
 * outline is named, and where both plates have them that of the first.
 */
export function standsIn(a: Solid, b: Solid, play: number): StandsIn[] {
  const inA = cutsEntered(a, b);
  const inB = cutsEntered(b, a);
  const heldByA = isHeld(a, b, b.frame.n, play);
  const heldByB = isHeld(b, a, a.frame.n, play);
  const cuts = [...(heldByA ? inA : []), ...(heldByB ? inB : [])];
  if (cuts.length > 0) return cuts;
  const [notched, other] = heldByA && inA.length === 0 ? [a, b] : [b, a];
  const isNotch =
    (heldByA && inA.length === 0) ||
    (heldByB && inB.length === 0) ||
    (inA.length === 0 && inB.length === 0 && interlock(a, b, play));
  return isNotch ? [{ part: other.id, cutPart: notched.id, feature: notched.part.outline.id }] : [];
}
