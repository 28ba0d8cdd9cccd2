import type { BookBoard } from '@haunch/gauge';
import type { JointFelt } from '@haunch/job/shop-book';
import type { Diagnostic } from '@haunch/model';
import type { BoardText } from '../job/job-document.js';

/** A day book as it goes to a worker. */
export interface WireBook {
  readonly name: string;
  readonly content: Blob;
}

/** What a day book says to a job. Lengths in mm. */
export interface BookView {
  readonly entries: number;
  /** A last line that was torn off, and lines after which the same is said. */
  readonly said: readonly Diagnostic[];
  /** The boards and off-cuts that it knows, those that are whole first. */
  readonly boards: readonly (Pick<BookBoard, 'id' | 'stock' | 'width' | 'height' | 'state'> & {
    readonly readings: number;
    readonly sheet: string | null;
    /** As a job has it; null where the job has one of this name. */
    readonly forJob: BoardText | null;
  })[];
  /** What it says of the job's router, in a sentence; null while the job cannot be read. */
  readonly cutter: string | null;
  /** Why that may not cut before a new ladder, and where its diameter is another than the job's. */
  readonly due: readonly Diagnostic[];
  /** What it proposes, a sentence each, and the table of fits of all that; null where nothing was felt yet. */
  readonly proposals: readonly string[];
  readonly table: string | null;
  /** Names of the job's sheets that it has not as they are, and of felt ladders that it has not. */
  readonly newBoards: readonly string[];
  readonly newLadders: readonly string[];
  /** Names of the job's sheets that are no rectangles, and so are in no book. */
  readonly noRectangles: readonly string[];
}

/** What happened, to be entered in a day book. */
export type BookEvent =
  | { readonly kind: 'boards' }
  | { readonly kind: 'ladder'; readonly board: string }
  | { readonly kind: 'cut' }
  | {
      readonly kind: 'felt';
      readonly said: readonly { readonly joint: string; readonly felt: JointFelt }[];
      readonly rest: JointFelt | null;
    }
  | { readonly kind: 'ground'; readonly why: 'ground' | 'swapped' }
  | { readonly kind: 'gone'; readonly board: string };

/** A day book with what was entered, and how many lines that were. */
export interface EnteredBook {
  readonly content: Blob;
  readonly added: number;
  /** Names of off-cuts of boards that it does not know, or whose names it has already: they were left out. */
  readonly leftOut: readonly string[];
}
