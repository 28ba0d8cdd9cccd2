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
import { type Step, stepChains, stepsOf } from './steps.js';
import type { WallCourse } from './wall-course.js';

/** A run of fingers has at least so many, and the widest of its inner fingers and gaps is at most so often the narrowest. */
const MANY = 3;
const EVEN = 3;
/** One of a step's two levels is at least this share of its depth long. */
const FACING = 0.95;

interface Chain {
  readonly steps: readonly Step[];
  readonly matched: Matched;
  readonly size: number;
}

/** Levels along a chain of steps: each wall with whether it stands proud. */
function levelsOf(steps: readonly Step[]): { wall: number; proud: boolean }[] {
  return [
    { wall: steps[0]!.before, proud: !steps[0]!.out },
    ...steps.map((s) => ({ wall: s.after, proud: s.out })),
  ];
}

/**
 * Tenons, finger runs and notches that are as deep as a sheet is thick, of an outline. A run of even fingers is one
 * feature; elsewhere the level that holds more of the edge is the edge, and what leaves it is a tenon or a notch.
 */
export function projectionsOf(w: WallCourse, match: Match): Candidate[] {
  const length = (k: number): number => wallAt(w, k).length;
  const fitting = stepsOf(w).flatMap((s) => {
    const matched = match(s.depth);
    return matched && Math.max(length(s.before), length(s.after)) >= FACING * s.depth ? [{ s, matched }] : [];
  });
  const kinds = new Map<string, { steps: Step[]; matched: Matched }>();
  for (const { s, matched } of fitting) {
    const key = `${matched.thickness}|${matched.sheets}`;
    const kind = kinds.get(key);
    if (kind) kind.steps.push(s);
    else kinds.set(key, { steps: [s], matched });
  }
  return [...kinds.values()].flatMap(({ steps, matched }) =>
    stepChains(steps).flatMap((chain) => {
      const size = chain.reduce((sum, s) => sum + s.depth, 0) / chain.length;
      const off = size - matched.thickness * matched.sheets;
      return candidatesOf(w, { steps: chain, matched: { ...matched, off }, size });
    }),
  );
}

function candidatesOf(w: WallCourse, chain: Chain): Candidate[] {
  const levels = levelsOf(chain.steps);
  const length = (k: number): number => wallAt(w, k).length;
  const proud = levels.filter((l) => l.proud);
  const low = levels.filter((l) => !l.proud);
  const inner = levels.slice(1, -1).map((l) => length(l.wall));
  const even = inner.length > 1 ? Math.max(...inner) / Math.min(...inner) : Infinity;
  if (proud.length >= MANY && even <= EVEN)
    return [
      fingers(
        w,
        chain,
        low.map((l) => l.wall),
        proud.map((l) => l.wall),
      ),
    ];
  const total = (list: typeof levels): number => list.reduce((s, l) => s + length(l.wall), 0);
  const edgeIsProud = levels[0]!.proud && levels.at(-1)!.proud && total(proud) > total(low);
  return levels.flatMap((l, i) => {
    if (l.proud === edgeIsProud) return [];
    const beside = [levels[i - 1], levels[i + 1]].flatMap((x) => (x ? [x.wall] : []));
    return [edgeIsProud ? notch(w, chain, l.wall, beside) : tenon(w, chain, l.wall, beside)];
  });
}

const base = (w: WallCourse, { matched, size }: Chain, sides: Candidate['sides']) => ({
  measure: 'depth' as const,
  size,
  thickness: matched.thickness,
  sheets: matched.sheets,
  sides,
  at: middleOf([...sides[0], ...sides[1]].map((k) => wallAt(w, k))),
});

function fingers(w: WallCourse, chain: Chain, low: readonly number[], proud: readonly number[]): Candidate {
  const length = [...low, ...proud].reduce((s, k) => s + wallAt(w, k).length, 0);
  const { matched, size } = chain;
  return {
    ...base(w, chain, [low, proud]),
    kind: 'fingers',
    extent: length,
    count: proud.length,
    confidence: (matched.sheets === 1 ? 0.95 : 0.4) - fitCost(matched),
    follows: matched.sheets === 1,
    reasons: [`${proud.length} fingers in a row, deep ${matchReason(size, matched)}`],
  };
}

function tenon(w: WallCourse, chain: Chain, tip: number, shoulders: readonly number[]): Candidate {
  const { matched, size } = chain;
  const single = shoulders.length === 1;
  const exact = Math.abs(matched.off) <= EXACT;
  return {
    ...base(w, chain, [shoulders, [tip]]),
    kind: 'tenon',
    extent: wallAt(w, tip).length,
    count: 1,
    confidence: (matched.sheets === 2 ? 0.4 : single ? 0.6 : 0.9) - fitCost(matched),
    follows: matched.sheets === 1 && (!single || exact),
    reasons: [
      `stands proud by ${matchReason(size, matched)}`,
      ...(single ? ['it has one shoulder only, so it may be a plain step in the outline'] : []),
    ],
  };
}

function notch(w: WallCourse, chain: Chain, floor: number, edges: readonly number[]): Candidate {
  const { matched, size } = chain;
  const width = wallAt(w, floor).length;
  const square = Math.abs(width - size) <= matched.most;
  return {
    ...base(w, chain, [[floor], edges]),
    kind: 'notch',
    extent: width,
    count: 1,
    confidence: (matched.sheets === 2 ? 0.3 : square ? 0.5 : 0.75) - fitCost(matched),
    follows: matched.sheets === 1,
    reasons: [
      `deep ${matchReason(size, matched)}`,
      ...(square ? ['it is as wide as deep, so either may be what follows'] : []),
    ],
  };
}
