import type {
  Board,
  Cutter,
  Diagnostic,
  Holding,
  Machine,
  Part,
  SheetMaterial,
  Toolpath,
  Workplan,
} from '@haunch/model';
import type { CutDirection, CutDirections } from './feeds/cut-directions.js';
import { FEED_TABLES, type FeedTables } from './feeds/feed-tables.js';
import type { Ticket } from './tickets/ticket.js';

export type { CutDirection };

/** A copy of a part, placed. */
export interface PlacedPart {
  /** The copy: the part's id, or `id/2` …; names it in the workplan. */
  readonly item: string;
  /** The part in board coordinates, seen from above as it is cut, mm. */
  readonly part: Part;
}

/** All that `planBoard` needs for one board. Lengths mm, speeds rev/min, accelerations mm/s². */
export interface PlanInput {
  readonly board: Board;
  readonly items: readonly PlacedPart[];
  /** Tags of the edges that touch another plate: no tabs and no entries there. */
  readonly mating: ReadonlySet<string>;
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly holding: Holding;
  /** For every wall; by wall and material as `directions` says when left out. */
  readonly direction?: CutDirection;
  /** `CUT_DIRECTIONS` unless said otherwise. */
  readonly directions?: CutDirections;
  /** What roughing leaves on walls that another plate touches, for a finishing pass at full depth, mm; `FINISH_STOCK` unless said otherwise, 0 for none. */
  readonly finishStock?: number;
  /** Texts to be engraved, as `placeTickets` finds places for them. */
  readonly tickets?: readonly Ticket[];
  /** What the sheet is made of, for forces, chip loads and directions; what the board says, or birch plywood, the hardest, unless said otherwise. */
  readonly material?: SheetMaterial;
  /** What speeds are judged by; `FEED_TABLES` unless said otherwise. */
  readonly tables?: FeedTables;
  /** Cutters, by id, whose chip load nobody has asked for: it is a table's, and a feed beyond the machine's is held to that instead of refused. */
  readonly feedsFromTable?: ReadonlySet<string>;
  /** Items stay in the sheet: their recesses and holes are machined, nothing goes round or through them. For the first face of a sheet that is turned over. */
  readonly staysInSheet?: boolean;
  /** Exchanges looked at for each cut while the way between cuts is shortened; 5,000 unless said otherwise, 0 for nearest first. */
  readonly effort?: number;
}

/** What the sheet is made of, as far as anything says. */
export const materialOf = ({ material, board }: PlanInput): SheetMaterial =>
  material ?? board.sheet ?? 'birch plywood';

/** Specific cutting energy of the sheet by the tables, the high end: an edge gets dull. N/mm² */
export const hardestOf = (input: PlanInput): number =>
  (input.tables ?? FEED_TABLES).energy[materialOf(input)][2];

/** What is machined on one board, and every move of it. */
export interface Plan {
  readonly workplan: Workplan;
  readonly toolpath: Toolpath;
  /** Warnings and notes; the same as the outcome's diagnostics. */
  readonly notes: readonly Diagnostic[];
}
