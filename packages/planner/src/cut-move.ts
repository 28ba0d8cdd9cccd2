import type { Move } from '@haunch/model';

type WithoutFrom<M> = M extends unknown ? Omit<M, 'from'> : never;

/** A motion in sheet coordinates: z = 0 at the sheet's top, negative down; not yet part of a workingstep. */
export type CutMove = WithoutFrom<Extract<Move, { kind: 'rapid' | 'linear' | 'circular' }>>;
