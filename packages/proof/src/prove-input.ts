import type { Clip } from '@haunch/geometry';
import type { Board, Cutter, DialectMeaning, Holding, Joint, Machine, Part, Proof } from '@haunch/model';
import type { AsCutBoard } from './as-cut-board.js';

/** An item where it lies on its board: its part in board coordinates, seen from above, reliefs included. mm */
export interface PlacedItem {
  readonly item: string;
  /** Items of one piece of furniture share it. */
  readonly piece: number;
  readonly part: Part;
}

/** A program and what it is judged against. mm */
export interface ProveInput {
  readonly text: string;
  /** Name of the program's file, for the places of diagnostics. */
  readonly file?: string;
  readonly board: Board;
  readonly items: readonly PlacedItem[];
  readonly joints: readonly Joint[];
  /** Real thickness of each entering plate, by part id. */
  readonly thicknesses: Readonly<Record<string, number>>;
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly holding: Holding;
  readonly clip: Clip;
  /** What the program's words mean where its dialect differs from the report's language. */
  readonly meaning?: DialectMeaning;
  /** The parts were found by what the program cuts, so that its zero may lie wherever it likes. */
  readonly zeroAnywhere?: boolean;
  /** How far an edge or a floor may be off; 0.01 when left out. */
  readonly tolerance?: number;
  /** How far single edges may be off, by edge id, where that is more: walls whose place a fit's window or the sheet leaves open. */
  readonly edgeTolerances?: Readonly<Record<string, number>>;
}

/** What a program's text would really cut: the verdict, and the parts as cut to go on with. */
export interface Proved {
  readonly proof: Proof;
  readonly asCut: AsCutBoard;
}
