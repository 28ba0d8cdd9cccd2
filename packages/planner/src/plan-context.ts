import type { Ring } from '@haunch/geometry';
import type { Board, Cutter, Holding, Machine } from '@haunch/model';
import type { Obstacle } from './clear-of.js';
import type { Whereabouts } from './diagnostics.js';
import type { WallKind } from './feeds/cut-directions.js';
import type { CutDirection, PlacedPart } from './plan-input.js';
import { OVERCUT } from './practice.js';

/** What planning one item's features needs to know. */
export interface PlanContext {
  readonly board: Board;
  readonly placed: PlacedPart;
  /** The outlines and openings of the other items near by. */
  readonly others: Obstacle;
  readonly keepOuts: Obstacle;
  readonly mating: ReadonlySet<string>;
  readonly routers: readonly Cutter[];
  readonly drills: readonly Cutter[];
  readonly machine: Machine;
  readonly holding: Holding;
  readonly direction: CutDirection;
  readonly directions: Readonly<Record<WallKind, CutDirection>>;
  /** Specific cutting energy of the sheet, the high end, N/mm². */
  readonly energy: number;
  /** What roughing leaves on mating walls, mm; 0 for no finishing pass. */
  readonly finishStock: number;
  /** The items that lie inside an opening of this one. */
  enclosedBy(opening: Ring): readonly string[];
}

/** The same for walls of this kind. */
export const cutting = (c: PlanContext, wall: WallKind): PlanContext => ({
  ...c,
  direction: c.directions[wall],
});

export const where = (c: PlanContext, feature: string): Whereabouts => ({
  item: c.placed.item,
  feature,
  board: c.board.id,
});

/** How deep a through cut goes below the sheet's top, mm. */
export const throughDepth = (board: Board, machine: Machine): number =>
  board.thickness + Math.min(OVERCUT, machine.spoilboard);
