import type { SheetMaterial } from '@haunch/model';
import type { Standing } from './feed-tables.js';

/** On which side of its travel the cutter keeps the material; with a clockwise spindle climb keeps it right. */
export type CutDirection = 'climb' | 'conventional';

/** Walls by what they bound: a part, an opening or a hole through it, a recess in it. */
export type WallKind = 'outline' | 'opening' | 'pocket';

/** How walls are cut, by the sheet's material; copy and change what your own coupons say. */
export interface CutDirections {
  readonly of: Readonly<Record<SheetMaterial, Readonly<Record<WallKind, CutDirection>>>>;
  readonly from: { readonly standing: Standing; readonly source: string };
}

const CLIMB = { outline: 'climb', opening: 'climb', pocket: 'climb' } as const;
/** Without plies to tear, what is cut loose is better not pulled along. */
const KIND_TO_HOLDING = { outline: 'conventional', opening: 'conventional', pocket: 'climb' } as const;

/** What is used where the job says nothing else. */
export const CUT_DIRECTIONS: CutDirections = {
  of: {
    'softwood plywood': CLIMB,
    'birch plywood': CLIMB,
    fibreboard: KIND_TO_HOLDING,
    particleboard: CLIMB,
  },
  from: {
    standing: 'common practice',
    source:
      'no source: climb tears fewer fibres in many plies and chips fewer faces but pulls the part; a coupon tells',
  },
};
