import type { DialectMeaning } from '@haunch/model';
import { seededRandom } from '@haunch/nesting';
import { MUTATION_KINDS, type Mutation, type MutationKind, mutateProgram } from './mutate-program.js';
import { type PlainMotion, plainMotion } from './plain-motion.js';
import type { Testimony, wallWitness } from './wall-witness.js';

/** What a judge of programs says of one. */
export interface Judged {
  readonly pass: boolean;
  /** The first reason for a refusal: a rule, or the code of a diagnostic. */
  readonly reason: string;
  /** All reasons in words. */
  readonly said?: string;
  /** The most that a wall is off by its account, mm. */
  readonly deviation: number;
}

/** A mutation that was let through, and why that does no harm, or that it does. */
export interface Survivor {
  readonly mutation: Mutation;
  readonly reason: string;
  /** True where the witness sees a wall moved by more than is borne, or a danger. */
  readonly harmful: boolean;
  /** The deviation that the judge reports, and that of the witness, mm. */
  readonly reported: number;
  readonly witnessed: number;
}

/** What came of many mutations. */
export interface MutationTally {
  readonly tried: number;
  readonly killed: number;
  /** How many were refused, by the first reason given. */
  readonly killedBy: Readonly<Record<string, number>>;
  /** Tried and refused, by kind of mutation. */
  readonly byKind: Readonly<Record<MutationKind, readonly [tried: number, killed: number]>>;
  readonly survivors: readonly Survivor[];
}

/** What a trial needs. */
export interface MutationTrial {
  readonly text: string;
  readonly meaning?: DialectMeaning;
  readonly count: number;
  readonly seed: number;
  readonly judge: (text: string) => Judged;
  readonly witness: ReturnType<typeof wallWitness>;
  /** How far a wall may move before the judge must refuse it, mm. */
  readonly borne: number;
  readonly progress?: (done: number, of: number) => void;
}

const sameMove = (a: PlainMotion, b: PlainMotion): boolean =>
  JSON.stringify({ ...a, line: 0 }) === JSON.stringify({ ...b, line: 0 });

function harmless(
  right: readonly PlainMotion[],
  motions: readonly PlainMotion[],
  { moved, strokes, where }: Testimony,
): string {
  if (right.length === motions.length && right.every((m, i) => sameMove(m, motions[i]!)))
    return 'says the same: not one motion, feed or speed differs';
  if (strokes === 0) {
    const path = (m: PlainMotion) => JSON.stringify([m.rapid, m.from, m.to, m.arc, m.tool]);
    const kept = right.length === motions.length && right.every((m, i) => path(m) === path(motions[i]!));
    return kept
      ? 'the same path, at another feed or speed within the limits'
      : 'the same strokes in the sheet; only travels above it differ, or a stroke comes twice or at another time';
  }
  return `no wall, floor or face moves by more than ${moved.toFixed(4)} mm${where === '' ? '' : ` (${where})`}`;
}

/** The kind of the k-th mutation: all kinds in turn. */
const kindAt = (k: number): MutationKind => MUTATION_KINDS[k % MUTATION_KINDS.length]!;

/**
 * Makes single mistakes in a program and lets a judge decide on each; every one that the judge lets through is put
 * before a witness, who says whether it does harm. The same seed makes the same mistakes.
 */
export function tryMutations(trial: MutationTrial): MutationTally {
  const { text, meaning, count, seed, judge, witness, borne, progress } = trial;
  const right = plainMotion(text, meaning);
  if (right === null) throw new RangeError('The program says what the plain reader does not know.');
  const random = seededRandom(seed);
  const killedBy: Record<string, number> = {};
  const byKind = Object.fromEntries(MUTATION_KINDS.map((k) => [k, [0, 0]])) as Record<
    MutationKind,
    [number, number]
  >;
  const survivors: Survivor[] = [];
  let tried = 0;
  let killed = 0;
  for (let k = 0; k < count; k++) {
    const mutation = mutateProgram(text, kindAt(k), random);
    if (mutation === null) continue;
    tried++;
    byKind[mutation.kind][0]++;
    progress?.(k + 1, count);
    const judged = judge(mutation.text);
    if (!judged.pass) {
      killed++;
      byKind[mutation.kind][1]++;
      killedBy[judged.reason] = (killedBy[judged.reason] ?? 0) + 1;
      continue;
    }
    const plain = plainMotion(mutation.text, meaning);
    if (plain === null) {
      survivors.push({
        mutation,
        reason: 'let through, though it says what the plain reader does not know',
        harmful: true,
        reported: judged.deviation,
        witnessed: Number.NaN,
      });
      continue;
    }
    const seen = witness(plain);
    const harmful = seen.moved > borne || seen.unsafe.length > 0;
    survivors.push({
      mutation,
      reason: harmful
        ? [seen.where && `${seen.moved.toFixed(4)} mm: ${seen.where}`, ...seen.unsafe]
            .filter((s) => s !== '')
            .join('; ')
        : harmless(right.motions, plain.motions, seen),
      harmful,
      reported: judged.deviation,
      witnessed: seen.moved,
    });
  }
  return { tried, killed, killedBy, byKind, survivors };
}
