import type { FeatureKind } from '@haunch/model';
import {
  type Candidate,
  EXACT,
  figure,
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
/** An open notch is at least this deep for its width. */
const SHALLOW = 0.6;
/** How much of the confidence a clearance costs that is wider than a fit. */
const LOOSE = 0.2;

/** Pairs that share walls and stand for the same thickness, together, in the order of their first pair. */
function connected(pairs: readonly Pair[]): Pair[][] {
  const byWall = new Map<string, Pair[]>();
  const keys = (p: Pair): string[] =>
    [p.a, p.b].map((k) => `${k}|${p.matched.thickness}|${p.matched.sheets}`);
  for (const p of pairs)
    for (const key of keys(p)) {
      const list = byWall.get(key);
      if (list) list.push(p);
      else byWall.set(key, [p]);
    }
  const done = new Set<Pair>();
  return pairs.flatMap((first): Pair[][] => {
    if (done.has(first)) return [];
    done.add(first);
    const group = [first];
    for (const p of group)
      for (const key of keys(p))
        for (const q of byWall.get(key)!)
          if (!done.has(q)) {
            done.add(q);
            group.push(q);
          }
    return [group];
  });
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

/** Slots that are one end of a slot which a wider cut crosses, as for a bolt and its nut: both walls go on beyond it. */
function crossedOnes(w: WallCourse, found: readonly Candidate[]): Set<Candidate> {
  const n = w.elements.length;
  const owner = new Map<number, Candidate>();
  for (const c of found) for (const k of [...c.sides[0], ...c.sides[1]]) owner.set(k, c);
  // A wider cut lies between: a step out, its side and a step back.
  const beyond = (a: number, c: Candidate): Candidate[] =>
    [(a + 4) % n, (a + n - 4) % n].flatMap((b) => {
      const other = owner.get(b);
      const [p, q] = [wallAt(w, a), w.elements[b]!];
      const goesOn = q.kind === 'wall' && sameRun(p, q) === 1 && Math.abs(wallDistance(p, q)) <= ONE_LINE;
      return other && other !== c && goesOn ? [other] : [];
    });
  return new Set(
    found.filter((c) => {
      const [first, second] = c.sides.map((side) => new Set(side.flatMap((a) => beyond(a, c))));
      return [...first!].some((d) => second!.has(d));
    }),
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
    const is = isSlot(w, f.width, f.overlap) || isShallowNotch(w, f, match);
    return matched && !between && is ? [{ ...f, matched }] : [];
  });
  const single = fitting.some((p) => p.matched.sheets === 1);
  const pairs = kind === 'notch' ? fitting : fitting.filter((p) => !single || p.matched.sheets === 1);
  const found = connected(pairs).flatMap((group): Candidate[] => {
    const sides = sidesOf(w, group);
    return sides ? [slot(w, group, sides, kind)] : group.map((p) => slot(w, [p], [[p.a], [p.b]], kind));
  });
  const squareCut = kind !== 'notch' && found.length > 1 && w.elements.length === 4;
  const crossed = crossedOnes(w, found);
  return found.map((c) => {
    if (crossed.has(c))
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

/** An open notch with a plain floor that is less deep than wide, by a depth that is no thickness: no gap of a finger run. */
const isShallowNotch = (w: WallCourse, f: Facing, match: Match): boolean =>
  w.course.air === -1 &&
  ((f.a + 2) % w.elements.length === f.b || (f.b + 2) % w.elements.length === f.a) &&
  f.overlap >= SHALLOW * f.width &&
  [wallAt(w, f.a), wallAt(w, f.b)].every((wall) => match(wall.length) === null);

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

/**
 * A slot as wide as two sheets may be one for a single plate that leans: cut square through a sheet of the same thickness t
 * it is t/sin θ + t/tan θ wide, which is t·cot(θ/2).
 */
const leaningReason = (width: number, thickness: number): string =>
  `a plate leaning at ${figure((2 * Math.atan(thickness / width) * 180) / Math.PI)} degrees through a sheet as thick needs it as wide too, and then it changes as much`;

function slot(
  w: WallCourse,
  group: readonly Pair[],
  sides: [number[], number[]],
  kind: Candidate['kind'],
): Candidate {
  const width = group.reduce((s, p) => s + p.width, 0) / group.length;
  const { thickness, sheets, most, alike } = group[0]!.matched;
  const matched: Matched = { thickness, sheets, most, alike, off: width - thickness * sheets };
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
      (sheets === 2 ? 0.5 : closed ? 0.95 : 0.9) -
      fitCost(matched) -
      (plain ? 0 : 0.2) -
      (short ? 0.25 : 0) -
      (alike > 0 ? LOOSE : 0),
    follows: sheets === 1 || exact,
    reasons: [
      `wide ${matchReason(width, matched)}`,
      ...(closed && sheets === 2 ? [leaningReason(width, thickness)] : []),
      ...(plain ? [] : ['more than a plain floor lies between its walls']),
      ...(short ? ['it is shorter than wide'] : []),
      ...(alike > 0 ? [`${alike} slots share this clearance, which is wider than a fit`] : []),
    ],
    at: middleOf([...sides[0], ...sides[1]].map((k) => wallAt(w, k))),
  };
}
