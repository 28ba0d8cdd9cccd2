import type { Move } from './toolpath.js';

/** One word of a block: an address letter and its number. `integer` words are written without a decimal point. */
export interface Word {
  readonly letter: string;
  readonly value: number;
  readonly integer?: boolean;
}

/** One line of a program: words in order, or a comment, or both. */
export interface Block {
  readonly words: readonly Word[];
  readonly comment?: string;
}

/** What a dialect has, as data. The host lowers what it lacks before the post sees it. */
export interface Dialect {
  readonly name: string;
  /** Ending of its program files, without the dot. */
  readonly extension: string;
  readonly unit: 'mm' | 'inch';
  /** Decimals of coordinates and of feeds. */
  readonly decimals: number;
  readonly feedDecimals: number;
  readonly arcs: {
    /** None: the host makes chords within `chordTolerance` mm. */
    readonly form: 'none' | 'centre';
    readonly centre: 'incremental' | 'absolute';
    /** Greatest sweep of one block, radians. */
    readonly greatestSweep: number;
    readonly helix: boolean;
    readonly chordTolerance: number;
  };
  /** Repeated coordinates, feeds and motion codes are left out. */
  readonly modal: boolean;
  readonly lineNumbers: { readonly start: number; readonly step: number } | null;
  /** Greatest length of a block in characters. */
  readonly blockLength: number;
  readonly comments: { readonly open: string; readonly close: string } | null;
}

/** What a post may know when it writes: nothing of the moves to come. */
export interface PostContext {
  readonly board: string;
  readonly title: string;
  readonly dialect: Dialect;
}

/** Motion with coordinates in the dialect's unit; arc centres in its centre mode, solved from rounded ends. */
export type PostMove =
  | Exclude<Move, { kind: 'linear' | 'rapid' | 'circular' }>
  | {
      readonly kind: 'rapid';
      readonly x: number;
      readonly y: number;
      readonly z: number;
      readonly from: string;
    }
  | {
      readonly kind: 'linear';
      readonly x: number;
      readonly y: number;
      readonly z: number;
      readonly feed: number;
      readonly from: string;
    }
  | {
      readonly kind: 'circular';
      readonly x: number;
      readonly y: number;
      readonly z: number;
      readonly i: number;
      readonly j: number;
      readonly turn: 'cw' | 'ccw';
      readonly feed: number;
      readonly from: string;
    };

/** The state that the host keeps and posts may read: where the cutter is, what is modal. Dialect units. */
export interface PostState {
  readonly x: number | null;
  readonly y: number | null;
  readonly z: number | null;
  readonly feed: number | null;
  readonly rpm: number;
  readonly cutter: number | null;
}

/**
 * The contract of a post-processor, version 1. A post is a typographer: it turns one move into blocks. It is
 * pure and keeps nothing between calls. The host drops repeated modal words, numbers and measures the lines.
 */
export interface PostProcessor {
  readonly name: string;
  readonly contract: 1;
  readonly dialect: Dialect;
  start(context: PostContext): readonly Block[];
  move(move: PostMove, state: PostState, context: PostContext): readonly Block[];
  end(state: PostState, context: PostContext): readonly Block[];
}
