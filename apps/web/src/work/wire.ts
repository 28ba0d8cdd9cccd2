import type { Estimate } from '@haunch/gauge';
import type { JobFile, Report } from '@haunch/job';
import type { Board, Diagnostic } from '@haunch/model';

/** A state of the job as it goes to a worker. */
export interface WireDocument {
  readonly id: string;
  readonly text: string;
  readonly sources: Readonly<Record<string, Blob>>;
}

/** What the packages say of a job at once, without making anything: settings in mm, boards with their maps, all that is wrong. */
export interface JobView {
  /** The state of which it is said. */
  readonly document: string;
  /** Every length in mm, every default filled in; null where the text is no job. */
  readonly settings: JobFile | null;
  /** Boards whose readings give a map. */
  readonly boards: readonly BoardView[];
  readonly fit: FitView | null;
  /** What the machine's calibration cut shows; null where there was none. */
  readonly machine: MachineView | null;
  readonly diagnostics: readonly Diagnostic[];
}

/** A board with its thickness map, drawn out in fields. mm. */
export interface BoardView {
  readonly board: Board;
  /** Its name in the job file: copies share it. */
  readonly of: string;
  readonly fields: readonly {
    readonly x: number;
    readonly y: number;
    readonly t: number;
    readonly u: number;
  }[];
  readonly fieldSize: readonly [number, number];
  /** Least, middle, most and the widest doubt, mm: two standard uncertainties. */
  readonly least: number;
  readonly most: number;
  readonly middle: number;
  readonly doubt: number;
  /** How far apart go and stop lie for a reading at the middle of the loaded sheet. */
  readonly goAt: readonly [number, number];
  /** Where further readings would help most. */
  readonly next: readonly {
    readonly x: number;
    readonly y: number;
    readonly before: number;
    readonly after: number;
  }[];
}

/** What a machine's calibration cut shows: ratios, backlash in mm; null where its lengths say nothing of it. */
export interface MachineView {
  readonly scaleX: Estimate;
  readonly scaleY: Estimate;
  readonly shear: Estimate | null;
  readonly backlashX: Estimate | null;
  readonly backlashY: Estimate | null;
}

/** What the ladders say. mm. */
export interface FitView {
  /** The router's diameter by the ladder's slots and pegs, or as the job has it. */
  readonly diameter: number;
  readonly diameterU: number | null;
  readonly ladders: readonly LadderView[];
}

/** What one ladder says, or why there is none. mm, clearances as doubled uncertainties. */
export type LadderView =
  | { readonly kind: 'without'; readonly material: string | null; readonly reason: string }
  | {
      readonly kind: 'felt';
      readonly material: string;
      readonly board: string;
      readonly drive: number;
      readonly snug: number;
      readonly slip: number;
      readonly driveU: number;
      readonly snugU: number;
      readonly slipU: number;
    };

/** A made job as the page holds it: the report, and the names of the files, which are fetched when they are wanted. */
export interface MadeResult {
  /** The state of which it was made. */
  readonly document: string;
  readonly pass: boolean;
  readonly report: Report;
  /** What the command line writes, by path; without programs where they are not proved. */
  readonly files: readonly { readonly path: string; readonly size: number }[];
  /** Seconds of each stage. */
  readonly stages: readonly (readonly [string, number])[];
  readonly diagnostics: readonly Diagnostic[];
}

/** A result or the reasons why there is none, as it comes from a worker. */
export type Reply<T> =
  | { readonly ok: true; readonly value: T; readonly diagnostics: readonly Diagnostic[] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };
