import type { WallCourse } from './wall-course.js';

/** Corners of one design turn alike in two drawings within this, radians. */
const SAME_TURN = 0.02;

type Element = WallCourse['elements'][number];

const angle = (e: Element): number | null => (e.kind === 'wall' ? Math.atan2(e.uy, e.ux) : null);
const turned = (a: number, b: number): number => Math.atan2(Math.sin(b - a), Math.cos(b - a));

/** What a contour looks like without its lengths: for each element the turn from the last wall, or the sense of an arc. */
function shapeOf({ elements }: WallCourse): number[] {
  const n = elements.length;
  return elements.map((e, i) => {
    if (e.kind === 'bend') return e.arc.sweep > 0 ? 100 : -100;
    for (let k = 1; k <= n; k++) {
      const before = angle(elements[(i + n - k) % n]!);
      if (before !== null) return turned(before, angle(e)!);
    }
    return 0;
  });
}

const lengthOf = (e: Element): number =>
  e.kind === 'wall' ? e.length : e.arc.radius * Math.abs(e.arc.sweep);

/**
 * Which element of `b` is which of `a`, both being one contour of one design: they turn alike one after the other; of
 * several ways that one whose lengths differ least. Null where there is none.
 */
export function matchElements(
  a: WallCourse,
  b: WallCourse,
): { readonly pairs: readonly number[]; readonly difference: number } | null {
  const n = a.elements.length;
  if (n !== b.elements.length || n === 0) return null;
  const [p, q] = [shapeOf(a), shapeOf(b)];
  let best: { pairs: number[]; difference: number } | null = null;
  for (let shift = 0; shift < n; shift++) {
    const same = p.every(
      (t, i) => Math.abs(t - q[(i + shift) % n]!) <= SAME_TURN || halfTurn(t, q[(i + shift) % n]!),
    );
    if (!same) continue;
    const pairs = a.elements.map((_, i) => (i + shift) % n);
    const difference = pairs.reduce(
      (s, k, i) => s + Math.abs(lengthOf(a.elements[i]!) - lengthOf(b.elements[k]!)),
      0,
    );
    if (best === null || difference < best.difference - 1e-6) best = { pairs, difference };
  }
  return best;
}

/** A turn by half may come out with either sign. */
const halfTurn = (t: number, u: number): boolean =>
  Math.abs(t) <= Math.PI &&
  Math.abs(u) <= Math.PI &&
  Math.abs(Math.abs(t) + Math.abs(u) - 2 * Math.PI) <= SAME_TURN;

/** The angle by which the walls of `b` are turned against those of `a`; null where they do not agree. */
export function turnOf(a: WallCourse, b: WallCourse, pairs: readonly number[]): number | null {
  let turn: number | null = null;
  for (const [i, e] of a.elements.entries()) {
    const f = b.elements[pairs[i]!]!;
    const [p, q] = [angle(e), angle(f)];
    if (p === null || q === null) continue;
    const t = turned(p, q);
    if (turn === null) turn = t;
    else if (Math.abs(turned(turn, t)) > SAME_TURN) return null;
  }
  return turn ?? 0;
}
