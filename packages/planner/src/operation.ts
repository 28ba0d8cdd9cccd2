import type { Point } from '@haunch/geometry';
import type { Cutter, Tab, WorkingstepKind } from '@haunch/model';
import type { CutMove } from './cut-move.js';

/** A way to begin, cut and end an operation. Sheet coordinates, mm. */
export interface Way {
  /** Where it begins and where it ends, at the height of rapids. */
  readonly start: Point;
  readonly end: Point;
  make(): Pick<Operation, 'moves' | 'tabs'>;
}

/** One thing to be machined, planned but not yet in its place in the order. Sheet coordinates, mm. */
export interface Operation {
  readonly kind: WorkingstepKind;
  readonly item: string;
  readonly feature: string;
  readonly cutter: Cutter;
  /** What it encloses, mm²: small before large. */
  readonly area: number;
  readonly depths: readonly number[];
  /** What roughing left on mating walls for a last pass at full depth, mm. */
  readonly finish?: { readonly stock: number };
  /** Whether it cuts the skin that held a piece until now. */
  readonly frees?: true;
  /** What cuts the skin that this one leaves under a piece. */
  readonly freeing?: Operation;
  readonly tabs: readonly Tab[];
  readonly slug: 'none' | 'cut to chips' | 'held' | null;
  /** From the height of rapids back to it. */
  readonly moves: readonly CutMove[];
  /** Items that lie inside this cut and must be finished before it. */
  readonly encloses: readonly string[];
  /** Other ways that are no worse, with other places to begin. */
  readonly ways?: readonly Way[];
}

export const startOf = (o: Operation): Point => o.moves[0]!.to;
export const endOf = (o: Operation): Point => o.moves.at(-1)!.to;

/** All places where it may begin and end: its own first, then those of its other ways. */
export const doorsOf = (o: Operation): readonly { readonly start: Point; readonly end: Point }[] => [
  { start: startOf(o), end: endOf(o) },
  ...(o.ways ?? []).map(({ start, end }) => ({ start, end })),
];

/** The operation by its door number `door`: 0 is its own. */
export function through(o: Operation, door: number): Operation {
  const way = door === 0 ? undefined : o.ways?.[door - 1];
  return way === undefined ? o : { ...o, ...way.make() };
}
