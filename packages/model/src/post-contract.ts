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
    /** None: the host makes chords within `chordTolerance` mm. Radius: R words, for at most 165° a block. */
    readonly form: 'none' | 'centre' | 'radius';
    readonly centre: 'incremental' | 'absolute';
    /** Greatest sweep of one block, radians. */
    readonly greatestSweep: number;
    readonly helix: boolean;
    readonly chordTolerance: number;
    /** Arcs are parted where they cross the directions of the axes from their centre; they cross them when left out. */
    readonly quadrants?: boolean;
  };
  /** Repeated coordinates, feeds and motion codes are left out. */
  readonly modal: boolean;
  readonly lineNumbers: { readonly start: number; readonly step: number } | null;
  /** Greatest length of a block in characters. */
  readonly blockLength: number;
  readonly comments: { readonly open: string; readonly close: string } | null;
  /** How words are spelt; with blanks between, a point only where needed and a zero before it when left out. */
  readonly words?: WordForm;
  /** Holes that are drilled in one go as canned cycles (G81, G82); as moves when left out. */
  readonly drilling?: 'moves' | 'cycles';
  /** The program stops after a change of cutter, for those who change by hand; unasked, a stop is a fault. */
  readonly stopsAfterChange?: boolean;
  /** The program stands between two lines of a percent sign. */
  readonly percent?: boolean;
  /** What its programs mean where that differs from the report's language; a reader needs it. */
  readonly meaning?: DialectMeaning;
}

/** How words are spelt. */
export interface WordForm {
  /** Blanks between words. */
  readonly blanks?: boolean;
  /** A decimal point in every number that is not whole by nature: `X12.` */
  readonly point?: 'where needed' | 'always';
  /** A zero before the point: `X0.5` instead of `X.5`. */
  readonly leadingZero?: boolean;
  /** All decimals of coordinates and feeds, whatever they are: `X12.500`. */
  readonly trailingZeros?: boolean;
  /**
   * Coordinates without a point, as formats of digits: so many before the point that is left out. Of 4 and 3 decimals, 12.5 is
   * `X0012500` in full, `X12500` with leading zeros dropped, and `X00125` with trailing zeros dropped.
   */
  readonly implied?: ImpliedPoint;
}

/** How digits without a point are counted: X, Y, Z, I, J, K and R. */
export interface ImpliedPoint {
  /** Digits before the point. */
  readonly whole: number;
  readonly zeros: 'all' | 'leading dropped' | 'trailing dropped';
}

/** What words mean where dialects differ. */
export interface DialectMeaning {
  /** The codes for inches and millimetres: G20 and G21 of the report, or G70 and G71 of ISO 6983-1. */
  readonly units?: 'G20 G21' | 'G70 G71';
  /** Whether I and J count from the start of the arc or from the origin. */
  readonly centres?: 'incremental' | 'absolute';
  /** What P of a dwell counts. */
  readonly dwell?: 'seconds' | 'milliseconds';
  /** Coordinates without a point are digits of this format; those with one mean what they say. */
  readonly implied?: ImpliedPoint & { readonly decimals: number };
}

/** What a post may know when it writes: nothing of the moves to come. */
export interface PostContext {
  readonly board: string;
  readonly title: string;
  readonly dialect: Dialect;
}

/** Motion with coordinates in the dialect's unit; arc centres in its centre mode, solved from rounded ends. */
export type PostMove =
  | Exclude<Move, { kind: 'linear' | 'rapid' | 'circular' | 'pause' | 'offset' }>
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
      /** Its radius, rounded like a coordinate; for dialects that write R. */
      readonly r: number;
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
