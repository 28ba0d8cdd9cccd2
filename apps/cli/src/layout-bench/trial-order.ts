import type { TrialBudget } from '@haunch/nesting/trial';
import { InvalidArgumentError } from 'commander';

/** One trial to be run, named so that a thread of its own can find all it needs. */
export interface TrialOrder {
  readonly folder: string;
  readonly file: string;
  readonly index: number;
  readonly strategy: string;
  /** Where packages are looked for. */
  readonly from: string;
  readonly seed: number;
  readonly budget: TrialBudget;
  /** Number of the explorer that this is, from 0, of how many: the best of them counts. */
  readonly explorer: number;
  readonly explorers: number;
  /** Whether they meet on the way: they must run side by side then. */
  readonly meets: boolean;
}

/** Reads `1-5`, `7` or `1,3,8-10`: whole numbers from 0, each once, in order. */
export function seedsOption(text: string): number[] {
  const seeds = new Set<number>();
  for (const part of text.split(',')) {
    const [, a, b] = /^(\d{1,9})(?:-(\d{1,9}))?$/.exec(part.trim()) ?? [];
    const [from, to] = [Number(a), Number(b ?? a)];
    if (a === undefined || from > to || to - from > 9999)
      throw new InvalidArgumentError(`'${text}' is no list of seeds, such as 1-5 or 1,3,8-10`);
    for (let s = from; s <= to; s++) seeds.add(s);
  }
  return [...seeds].sort((p, q) => p - q);
}

/** Reads `5s`, `60s` (seconds, cannot be repeated) or `20000` (ticks, can). Several with commas, each once. */
export const budgetsOption = (text: string): TrialBudget[] => {
  const all = text.split(',').map((part): TrialBudget => {
    const [, number, s] = /^(\d+(?:\.\d+)?)(s?)$/.exec(part.trim()) ?? [];
    const value = Number(number);
    if (number === undefined || !(value > 0) || (s === '' && !Number.isInteger(value)))
      throw new InvalidArgumentError(`'${part}' is no budget, such as 5s (seconds) or 20000 (ticks)`);
    return s === 's' ? { seconds: value } : { ticks: value };
  });
  // A trial that is run twice would count as two.
  return [...new Map(all.map((b) => [JSON.stringify(b), b])).values()];
};

/** Reads a list of names with commas, each once. */
export const namesOption = (text: string): string[] => [
  ...new Set(
    text
      .split(',')
      .map((n) => n.trim())
      .filter((n) => n !== ''),
  ),
];
