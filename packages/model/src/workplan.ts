import type { Point } from '@haunch/geometry';

/** What a workingstep machines (after ISO 14649). */
export type WorkingstepKind =
  | 'drilling'
  | 'hole'
  | 'pocket'
  | 'engraving'
  | 'inside profile'
  | 'open slot'
  | 'outside profile'
  | 'trimming';

/** A tab: a stretch of a profile that stays standing at the bottom. Board coordinates, mm. */
export interface Tab {
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  /** The edge that it stands on. */
  readonly edge: string;
}

/** Where the seconds of a step go; together they are the step's. */
export interface StepTime {
  /** In the wood, level or rising. */
  readonly cutting: number;
  /** In the wood, going down. */
  readonly entering: number;
  /** Above the sheet: from the step before, and between its own cuts. */
  readonly air: number;
  /** Changing the cutter; none when left out. */
  readonly change?: number;
  /** Waiting for the spindle; none when left out. */
  readonly dwell?: number;
}

/** One step of the work: a feature of a placed item, its cutter, its depth, how it is held. */
export interface Workingstep {
  /** `sheet-1/003 EL.m1`: board, running number, feature. */
  readonly id: string;
  readonly kind: WorkingstepKind;
  readonly item: string;
  readonly feature: string;
  readonly cutter: string;
  /** Depths of the passes below the sheet's top, positive, deepest last. mm */
  readonly depths: readonly number[];
  /** What those passes left on walls that another plate touches, cut away by a last pass at full depth, mm; none when left out. */
  readonly finish?: { readonly stock: number };
  /** From where its depth is measured, and what a sheet that is thicker than its reading does to that depth. */
  readonly reference?: {
    readonly from: 'top' | 'bed';
    readonly thicker: 'deeper' | 'the same' | 'shallower';
  };
  /** Whether it cuts the skin that held a piece until now. */
  readonly frees?: true;
  readonly tabs: readonly Tab[];
  /** What becomes of the piece inside a through cut: none left, cut to chips, held by tabs. */
  readonly slug: 'none' | 'cut to chips' | 'held' | null;
  /** Estimated seconds. */
  readonly seconds: number;
  /** Where they go. */
  readonly spent?: StepTime;
}

/** What is machined on one board, in order. */
export interface Workplan {
  readonly kind: 'workplan';
  readonly board: string;
  readonly steps: readonly Workingstep[];
  /** Estimated seconds for the whole program, tool changes included. */
  readonly seconds: number;
}
