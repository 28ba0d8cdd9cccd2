import type { FeatureKind } from '@haunch/model';
import {
  type Candidate,
  EXACT,
  fitCost,
  type Match,
  type Matched,
  matchReason,
  middleOf,
  wallAt,
} from './candidate.js';
import type { Facing } from './facing.js';
import { isSlot } from './thickness-measures.js';
import { sameRun, type WallCourse, wallDistance } from './wall-course.js';

interface Pair extends Facing {
  readonly matched: Matched;
}

/** Walls nearer to one line than this are one wall, mm. */
const ONE_LINE = 0.05;

/** Pairs that share walls and stand for the same thickness, together. */
function connected(pairs: readonly Pair[]): Pair[][] {
  const groups: Pair[][] = [];
  for (const p of pairs) {
    const same = groups.filter(
      (g) =>
        g[0]!.matched.thickness === p.matched.thickness &&
        g[0]!.matched.sheets === p.matched.sheets &&
        g.some((q) => q.a === p.a || q.b === p.b || q.a === p.b || q.b === p.a),
    );
    const rest = groups.filter((g) => !same.includes(g));
    groups.length = 0;
    groups.push(...rest, [...same.flat(), p]);
  }
  return groups;
}

/** The two sides of connected pairs; null where a wall would be on both, as between three parallel walls. */
function sidesOf(w: WallCourse, group: readonly Pair[]): [number[], number[]] | null {
  const first = wallAt(w, group[0]!.a);
  const sides: [number[], number[]] = [[], []];
  for (const k of [...new Set(group.flatMap((p) => [p.a, p.b]))].sort((a, b) => a - b))
    sides[sameRun(first, wallAt(w, k)) === 1 ? 0 : 1].push(k);
  const level = (side: readonly number[]): boolean =>
    side.every((k) => Math.abs(wallDistance(wallAt(w, side[0]!), wallAt(w, k))) <= ONE_LINE);
  return level(sides[0]) && level(sides[1]) ? sides : null;
}

/** Whether two slots are the two ends of one that a wider cut crosses, as for a bolt and its nut. */
function crossed(w: WallCourse, p: Candidate, q: Candidate): boolean {
  const n = w.elements.length;
  const apart = (a: number, b: number): number => Math.min((a - b + n) % n, (b - a + n) % n);
  const oneLine = (a: number, b: number): boolean =>
    sameRun(wallAt(w, a), wallAt(w, b)) === 1 &&
    Math.abs(wallDistance(wallAt(w, a), wallAt(w, b))) <= ONE_LINE &&
    apart(a, b) === 4;
  return (
    p.sides[0].some((a) => [...q.sides[0], ...q.sides[1]].some((b) => oneLine(a, b))) &&
    p.sides[1].some((a) => [...q.sides[0], ...q.sides[1]].some((b) => oneLine(a, b)))
  );
}

/**
 * Slots, open notches and housings among walls that face each other across air. The gaps of an even finger run are
 * none; nor is the length of a slot that is one sheet wide; a slot that a wider cut crosses is left to the person.
 */
export function slotsOf(
  w: WallCourse,
  facing: readonly Facing[],
  match: Match,
  kind: Extract<FeatureKind, 'slot' | 'notch' | 'housing'>,
  projections: readonly Candidate[],
): Candidate[] {
  const flanks = fingerFlanks(w, projections);
  const fitting = facing.flatMap((f): Pair[] => {
    const matched = match(f.width);
    const between = flanks.has(f.a) && flanks.has(f.b);
    return matched && !between && isSlot(w, f.width, f.overlap) ? [{ ...f, matched }] : [];
  });
  const single = fitting.some((p) => p.matched.sheets === 1);
  const pairs = kind === 'notch' ? fitting : fitting.filter((p) => !single || p.matched.sheets === 1);
  const found = connected(pairs).flatMap((group): Candidate[] => {
    const sides = sidesOf(w, group);
    return sides ? [slot(w, group, sides, kind)] : group.map((p) => slot(w, [p], [[p.a], [p.b]], kind));
  });
  const squareCut = kind !== 'notch' && found.length > 1 && w.elements.length === 4;
  return found.map((c) => {
    if (found.some((d) => d !== c && crossed(w, c, d)))
      return {
        ...c,
        confidence: 0.3,
        follows: false,
        reasons: [...c.reasons, 'a wider cut crosses it, as for a bolt and its nut'],
      };
    if (!squareCut) return c;
    return {
      ...c,
      confidence: Math.min(c.confidence, 0.5),
      reasons: [...c.reasons, 'it is as long as wide, so either may be what follows'],
    };
  });
}

/** Walls that are flanks inside even finger runs. */
function fingerFlanks(w: WallCourse, projections: readonly Candidate[]): Set<number> {
  const n = w.elements.length;
  const out = new Set<number>();
  for (const p of projections) {
    if (p.kind !== 'fingers') continue;
    const walls = new Set([...p.sides[0], ...p.sides[1]]);
    for (let k = 0; k < n; k++) if (walls.has((k + n - 1) % n) && walls.has((k + 1) % n)) out.add(k);
  }
  return out;
}

function slot(
  w: WallCourse,
  group: readonly Pair[],
  sides: [number[], number[]],
  kind: Candidate['kind'],
): Candidate {
  const width = group.reduce((s, p) => s + p.width, 0) / group.length;
  const { thickness, sheets, most } = group[0]!.matched;
  const matched: Matched = { thickness, sheets, most, off: width - thickness * sheets };
  const extent = Math.max(...group.map((p) => p.overlap));
  const n = w.elements.length;
  const closed = w.course.air === 1;
  // An open notch has one floor between its walls.
  const plain = closed || group.some((p) => (p.a + 2) % n === p.b || (p.b + 2) % n === p.a);
  const short = extent < width * 0.95;
  const exact = Math.abs(matched.off) <= EXACT;
  return {
    kind,
    measure: 'width',
    size: width,
    extent,
    count: 1,
    thickness,
    sheets,
    sides,
    confidence:
      (sheets === 2 ? 0.5 : closed ? 0.95 : 0.9) - fitCost(matched) - (plain ? 0 : 0.2) - (short ? 0.25 : 0),
    follows: sheets === 1 || exact,
    reasons: [
      `wide ${matchReason(width, matched)}`,
      ...(plain ? [] : ['more than a plain floor lies between its walls']),
      ...(short ? ['it is shorter than wide'] : []),
    ],
    at: middleOf([...sides[0], ...sides[1]].map((k) => wallAt(w, k))),
  };
}
