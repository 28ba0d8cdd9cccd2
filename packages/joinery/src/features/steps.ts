import { PARALLEL, sameRun, type Wall, type WallCourse } from './wall-course.js';

/** A square step of an outline from one level to another; elements by number. mm */
export interface Step {
  readonly before: number;
  readonly flank: number;
  readonly after: number;
  readonly depth: number;
  /** True where the outline steps outwards, so that `after` stands proud of `before`. */
  readonly out: boolean;
}

/** All square steps of an outline, in its order: a flank between two walls that run alike, square to both. */
export function stepsOf({ elements, course }: WallCourse): Step[] {
  const n = elements.length;
  return elements.flatMap((flank, i): Step[] => {
    const before = elements[(i + n - 1) % n]!;
    const after = elements[(i + 1) % n]!;
    if (flank.kind !== 'wall' || before.kind !== 'wall' || after.kind !== 'wall') return [];
    if (sameRun(before, after) !== 1 || !isSquare(before, flank) || !isSquare(flank, after)) return [];
    const outward = course.air * (before.ux * flank.uy - before.uy * flank.ux) > 0;
    return [{ before: (i + n - 1) % n, flank: i, after: (i + 1) % n, depth: flank.length, out: outward }];
  });
}

const isSquare = (a: Wall, b: Wall): boolean => Math.abs(a.ux * b.ux + a.uy * b.uy) <= PARALLEL;

/** Steps that follow each other without a wall between that belongs to neither, in the order of the outline. */
export function stepChains(steps: readonly Step[]): Step[][] {
  if (steps.length === 0) return [];
  const starting = new Map(steps.map((s) => [s.before, s]));
  const ending = new Set(steps.map((s) => s.after));
  const heads = steps.filter((s) => !ending.has(s.before));
  const done = new Set<Step>();
  const chains = [...heads, ...steps].flatMap((head): Step[][] => {
    if (done.has(head)) return [];
    const chain: Step[] = [];
    for (let s: Step | undefined = head; s && !done.has(s); s = starting.get(s.after)) {
      done.add(s);
      chain.push(s);
    }
    return [chain];
  });
  return chains.flatMap(splitStairs);
}

/** A chain in which every step goes back to where the last one came from; stairs are split. */
function splitStairs(chain: readonly Step[]): Step[][] {
  const out: Step[][] = [];
  for (const s of chain) {
    const last = out.at(-1);
    if (last && last.at(-1)!.out !== s.out) last.push(s);
    else out.push([s]);
  }
  return out;
}
