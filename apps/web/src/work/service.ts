import type { DrawnAssembly } from './assembly-wire.js';
import type { BookEvent, BookView, EnteredBook, WireBook } from './book-wire.js';
import type { DescribedSource, FoundSource } from './drawing-wire.js';
import type { RefereeWord, WireBetter, WirePlacements } from './lay-wire.js';
import type { Opened } from './opened.js';
import type { ShownResult } from './shown-wire.js';
import type { JobView, MadeResult, Reply, WireDocument } from './wire.js';

/** Where the work is: its stage, and the board where one is at hand. */
export interface Progressing {
  readonly stage: string;
  readonly board?: string;
}

/** Told where the work is. */
export type Tell = (progress: Progressing) => void;

/** What a worker does for the page: the very calls that the command line makes. All arguments and answers are plain. */
export interface Service {
  /** Answers once the worker is there, and holds the lock of its name. */
  alive(): Promise<true>;
  /** Opens dropped files: a job, a master or a drawing. */
  open(files: readonly { readonly name: string; readonly content: Blob }[]): Promise<Opened>;
  /** Reads a job without making anything of it. */
  check(document: WireDocument): Promise<JobView>;
  /** What is in a drawing or a master of the job, with pictures to click on. */
  describe(document: WireDocument, piece: number): Promise<Reply<DescribedSource>>;
  /** Finds from flat parts what goes into what. */
  findMaster(document: WireDocument, piece: number, said: Said): Promise<Reply<FoundSource>>;
  /** The whole chain. */
  make(document: WireDocument, tell: Tell): Promise<Reply<MadeResult>>;
  /** The ladder: its files by path, and its rungs. */
  makeLadder(document: WireDocument, board: string | null, tell: Tell): Promise<Reply<LadderResult>>;
  /** Types what was felt into the job's text. */
  feelLadder(document: WireDocument, felt: FeltWords): Promise<Reply<string>>;
  /** What a day book says to a job. */
  lookInBook(document: WireDocument, book: WireBook): Promise<Reply<BookView>>;
  /** A day book with what happened entered in it. */
  enterInBook(document: WireDocument, book: WireBook, event: BookEvent): Promise<Reply<EnteredBook>>;
  /** One file of a result. */
  file(document: string, path: string): Promise<Blob | null>;
  /** A piece of a result in space, with its steps. */
  assembly(document: string, piece: number): Promise<DrawnAssembly | null>;
  /** A drawn picture of a step of its assembly, as SVG text; of the whole piece for step 0. */
  assemblyPicture(document: string, piece: number, step: number): Promise<string | null>;
  /** The referee's word on parts laid so; null where the job gives nothing to lay. */
  judge(document: WireDocument, placements: WirePlacements): Promise<RefereeWord | null>;
  /** Looks longer for a layout, and tells of each that is better. */
  improve(document: WireDocument, better: (found: WireBetter) => void): Promise<Reply<WirePlacements | null>>;
  /** What a screen draws of a result; null where this worker has none of that state. */
  shown<K extends keyof ShownResult>(document: string, what: K): Promise<ShownResult[K] | null>;
  /** The paths of the paper of what was made and proved of a state: made when it is first asked for. */
  paper(document: WireDocument): Promise<readonly string[]>;
  /** All files of what was made of a state in one archive, paper included. */
  archive(document: WireDocument): Promise<Blob | null>;
  /** Any files in one archive. */
  pack(files: readonly { readonly name: string; readonly content: Blob }[]): Promise<Blob>;
  /** The result that was kept over a reload, whatever state it is of. */
  recall(): Promise<MadeResult | null>;
}

/** What a person says of a drawing: answers by question, and what edges follow. */
export interface Said {
  readonly answers: Readonly<Record<string, number>>;
  readonly follows: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

/** A cut ladder as it is drawn on the page, and its files. */
export interface LadderResult {
  readonly document: string;
  readonly board: string;
  readonly thickness: number;
  readonly comb: { readonly d: string; readonly width: number; readonly height: number };
  readonly rungs: readonly {
    readonly id: string;
    readonly axis: 'x' | 'y';
    readonly clearance: number;
    readonly x: number;
    readonly y: number;
  }[];
  readonly relieved: { readonly id: string; readonly x: number; readonly y: number } | null;
  readonly housing: {
    readonly id: string;
    readonly depth: number;
    readonly x: number;
    readonly y: number;
  } | null;
  readonly gaugeWidth: number;
  readonly files: readonly { readonly path: string; readonly content: Blob }[];
}

/** What was felt, as it is typed: words and lengths with their units. */
export interface FeltWords {
  readonly board: string;
  readonly cutter: string;
  readonly answers: readonly { readonly rung: string; readonly felt: string }[];
  readonly corner?: string;
  readonly housing?: string;
  readonly slots?: readonly { readonly cut: string; readonly measured: string }[];
  readonly pegs?: readonly { readonly cut: string; readonly measured: string }[];
}
