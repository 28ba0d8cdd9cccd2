import type { Place } from '@haunch/model';
import type { NcMove, NcZero } from './nc-reading.js';
import type { Report } from './report.js';

/** X, Y and Z as bits of a mask. */
export const ALL = 7;

/** Takes moves as they are read: an array, or whoever wants them one by one. */
export interface MoveSink {
  push(move: NcMove): unknown;
}

/**
 * The control as the text has set it so far. Places are mm in the base frame: that of the coordinate system in
 * force when an axis is first moved. A program word w means the place `w · unit + shift`.
 */
export interface MachineState {
  readonly report: Report;
  readonly moves: MoveSink;
  readonly parameters: Float64Array;
  readonly toolLengths: ReadonlyMap<number, number>;
  line: number;

  /** Motion mode in tenths of a G code; 800 is none. */
  motion: number;
  plane: 17 | 18 | 19;
  incremental: boolean;
  inverseTime: boolean;
  /** I, J and K count from the origin instead of the arc's start: not the report's language, but some dialects'. */
  absoluteCentres: boolean;
  /** Seconds that one of a dwell stands for. */
  dwellUnit: number;
  /** Millimetres of one program unit. */
  unit: number;
  unitSeen: boolean;
  /** The coordinate system that the text last asked for before its first motion, and where. */
  system: { readonly number: number; readonly line: number } | null;
  moved: boolean;
  /** G99: cycles return to R; otherwise (G98) to the height they started from. */
  returnToR: boolean;
  /** G41 or G42 has been met (and refused); its own rules still hold. */
  compensating: boolean;
  /** mm/min under G94; 1/min under G93. */
  feed: number | null;
  speed: number;
  turning: -1 | 0 | 1;
  selected: number | null;
  tool: number | null;
  /** Length in force by G43, mm; null when the text does not say. */
  toolLength: number | null;
  /** The tool whose length is in force by G43; 0 for none. */
  lengthOf: number;
  /** That tool is another than the one in the spindle, and nothing has been moved yet. */
  lengthDoubted: boolean;
  /** Zeros that the text lays by itself. */
  readonly zeros: NcZero[];
  cycle: { code: number; r: number; depth: number; p: number | null; q: number | null } | null;

  readonly at: Float64Array;
  known: number;
  /** `at` as the place that moves share. */
  place: Place;

  /** Axes whose base frame is settled. */
  framed: number;
  readonly shift: Float64Array;
  /** Axes whose words count from a place that the text does not say. */
  lost: number;
  readonly frames: Frames;
}

/** Coordinate systems and G92 offsets, mm. Origins are machine coordinates and known only when the text sets them. */
export interface Frames {
  /** 1–9: G54 … G59.3. */
  active: number;
  readonly origin: Float64Array[];
  readonly originKnown: number[];
  /** Counts the settings of each system's origin by axis, so that "the same as before" can be told without knowing where. */
  readonly version: number[][];
  /** Of the base frame, by axis. */
  readonly base: Float64Array;
  baseKnown: number;
  readonly baseSystem: number[];
  readonly baseVersion: number[];
  /** G92 offsets in force, and those kept for G92.3. */
  readonly offset: Float64Array;
  readonly keptOffset: Float64Array;
  /** Whether the text has said what is kept: an earlier program may have left something. */
  keptSaid: boolean;
  /** Axes whose G92 was given where the cutter was not known to be: its size is not known either. */
  blindOffset: number;
  /** Axes lost for good by such an offset. */
  lostOffset: number;
}

export const newMachine = (
  report: Report,
  toolLengths: ReadonlyMap<number, number>,
  moves: MoveSink,
): MachineState => {
  const parameters = new Float64Array(5400);
  parameters[5220] = 1;
  return {
    report,
    moves,
    parameters,
    toolLengths,
    line: 0,
    motion: 800,
    plane: 17,
    incremental: false,
    inverseTime: false,
    absoluteCentres: false,
    dwellUnit: 1,
    unit: 1,
    unitSeen: false,
    system: null,
    moved: false,
    returnToR: false,
    compensating: false,
    feed: null,
    speed: 0,
    turning: 0,
    selected: null,
    tool: null,
    toolLength: 0,
    lengthOf: 0,
    lengthDoubted: false,
    zeros: [],
    cycle: null,
    at: new Float64Array(3),
    known: 0,
    place: { x: 0, y: 0, z: 0 },
    framed: 0,
    shift: new Float64Array(3),
    lost: 0,
    frames: {
      active: 1,
      origin: Array.from({ length: 10 }, () => new Float64Array(3)),
      originKnown: new Array<number>(10).fill(0),
      version: Array.from({ length: 10 }, () => [0, 0, 0]),
      base: new Float64Array(3),
      baseKnown: 0,
      baseSystem: [1, 1, 1],
      baseVersion: [0, 0, 0],
      offset: new Float64Array(3),
      keptOffset: new Float64Array(3),
      keptSaid: false,
      blindOffset: 0,
      lostOffset: 0,
    },
  };
};
