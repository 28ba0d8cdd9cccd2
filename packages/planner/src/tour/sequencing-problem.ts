/**
 * The sequential ordering problem: a path through all stops from the first to the last that obeys precedences, as short as
 * possible (L. F. Escudero 1988). Costs may differ by direction.
 */
export interface SequencingProblem {
  readonly count: number;
  /** Cost of going from stop i straight to stop j, row by row: cost[i · count + j]. */
  readonly cost: Float64Array;
  /** Pairs [i, j]: i comes before j. The first stop comes before all and the last after all, said or not. */
  readonly before: readonly (readonly [number, number])[];
}

/** Which stops come before which, followed through: row i holds 1 at j where i must come before j. */
export function precedenceClosure({ count, before }: SequencingProblem): Uint8Array {
  const closed = new Uint8Array(count * count);
  for (const [i, j] of before) closed[i * count + j] = 1;
  for (let j = 1; j < count; j++) closed[j] = 1;
  for (let i = 0; i + 1 < count; i++) closed[i * count + count - 1] = 1;
  for (let k = 0; k < count; k++)
    for (let i = 0; i < count; i++) {
      if (closed[i * count + k] === 0) continue;
      for (let j = 0; j < count; j++) if (closed[k * count + j] === 1) closed[i * count + j] = 1;
    }
  for (let i = 0; i < count; i++)
    if (closed[i * count + i] === 1)
      throw new RangeError(`precedenceClosure: stop ${i} would come before itself`);
  return closed;
}

/** Cost of a path. */
export function pathCost({ cost, count }: SequencingProblem, path: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i + 1 < path.length; i++) sum += cost[path[i]! * count + path[i + 1]!]!;
  return sum;
}

/** Whether a path visits every stop once, from the first to the last, and obeys every precedence. */
export function isPath(problem: SequencingProblem, path: ArrayLike<number>): boolean {
  const { count, before } = problem;
  const place = new Int32Array(count).fill(-1);
  if (path.length !== count || path[0] !== 0 || path[count - 1] !== count - 1) return false;
  for (let i = 0; i < count; i++) {
    const stop = path[i]!;
    if (!(stop >= 0 && stop < count) || place[stop] !== -1) return false;
    place[stop] = i;
  }
  return before.every(([i, j]) => place[i]! < place[j]!);
}

/**
 * The sequential ordering problem with a choice: every stop has one or more entries, the path goes through one of each, and costs lie
 * between entries (the generalised travelling salesman of J. P. Saksena and C. E. Noon & J. C. Bean, with precedences). The first
 * and the last stop have one entry each.
 */
export interface ChoiceProblem {
  /** Ids of each stop's entries; over all stops 0, 1, 2 … each once. */
  readonly entries: readonly (readonly number[])[];
  /** Cost of going from entry i straight to entry j, row by row over all entries. */
  readonly cost: Float64Array;
  /** Pairs of stops [i, j]: i comes before j. The first comes before all and the last after all, said or not. */
  readonly before: readonly (readonly [number, number])[];
}

/** Cost of a path of entries. */
export function choicePathCost({ cost, entries }: ChoiceProblem, path: ArrayLike<number>): number {
  const wide = entries.reduce((sum, list) => sum + list.length, 0);
  let sum = 0;
  for (let i = 0; i + 1 < path.length; i++) sum += cost[path[i]! * wide + path[i + 1]!]!;
  return sum;
}

/** Whether a path of entries visits one of each stop, from the first to the last, and obeys every precedence. */
export function isChoicePath(problem: ChoiceProblem, path: ArrayLike<number>): boolean {
  const { entries, before } = problem;
  const stops = Array.from({ length: path.length }, (_, k) =>
    entries.findIndex((list) => list.includes(path[k]!)),
  );
  return isPath({ count: entries.length, cost: new Float64Array(0), before }, stops);
}
