/** How a plug goes into a rung, from too tight to too loose. */
export const FELT = ["won't enter", 'mallet', 'hand', 'rattles'] as const;

/** How a plug went into a rung. */
export type Felt = (typeof FELT)[number];

/** What the relieved rung of a ladder shows: the plug's corners reach its floor, or stand off it. */
export const CORNER_FELT = ['bottoms', 'stands'] as const;

/** How the plug went into the relieved rung. */
export type CornerFelt = (typeof CORNER_FELT)[number];

/** One answer from the bench: how the plug felt in a rung. */
export interface FeltAnswer {
  readonly rung: string;
  readonly felt: Felt;
}
