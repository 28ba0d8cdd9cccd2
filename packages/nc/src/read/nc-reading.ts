import type { Point } from '@haunch/geometry';
import type { Diagnostic, Place } from '@haunch/model';

/** Which coordinates of a place the program text itself makes certain. */
export interface NcKnown {
  readonly x: boolean;
  readonly y: boolean;
  readonly z: boolean;
}

/** What every motion carries. mm, mm/min, rev/min. */
export interface NcMotionState {
  /** Line of the program text, from 1. */
  readonly line: number;
  /** Where the cutter's tip comes from; a coordinate that is not known is given as that of `to`. */
  readonly from: Place;
  readonly to: Place;
  /** False for a coordinate that the text does not settle: before the first move, after G28, G53, a new tool length. */
  readonly fromKnown: NcKnown;
  readonly toKnown: NcKnown;
  /** Feed along the path, mm/min; null when no feed has been given, and for rapids. */
  readonly feed: number | null;
  /** rev/min; 0 stopped, negative counter-clockwise. */
  readonly spindle: number;
  /** Number of the tool in the spindle; null before the first tool change. */
  readonly tool: number | null;
}

/** A move at the machine's greatest speed; its path between the ends is not promised to be straight. */
export interface NcRapid extends NcMotionState {
  readonly kind: 'rapid';
}

/** A straight move at feed. */
export interface NcLinear extends NcMotionState {
  readonly kind: 'linear';
}

/** An arc at feed, or a helix where the coordinate across its plane changes. */
export interface NcArc extends NcMotionState {
  readonly kind: 'arc';
  /** The plane that the arc turns in: `xy` is G17, `zx` G18, `yz` G19. */
  readonly plane: 'xy' | 'zx' | 'yz';
  /** Centre in the plane, mm: (x, y) for `xy`, (z, x) for `zx`, (y, z) for `yz`. */
  readonly centre: Point;
  /** As seen from the positive end of the axis across the plane. */
  readonly turn: 'cw' | 'ccw';
  /** Radians, positive counter-clockwise, 0 < |sweep| ≤ 2π. */
  readonly sweep: number;
}

/** The machine waits (G4, and canned cycles that dwell). */
export interface NcDwell {
  readonly kind: 'dwell';
  readonly line: number;
  readonly seconds: number;
  readonly spindle: number;
  readonly tool: number | null;
}

/** Another tool is put into the spindle, which stands still after it; null when the text never said which. */
export interface NcToolChange {
  readonly kind: 'tool-change';
  readonly line: number;
  readonly tool: number | null;
}

/** The program waits for the operator. */
export interface NcStop {
  readonly kind: 'stop';
  readonly line: number;
  readonly code: 'M0' | 'M1' | 'M60';
}

/** A motion of the cutter. */
export type NcMotion = NcRapid | NcLinear | NcArc;

/** One thing that the machine does. */
export type NcMove = NcMotion | NcDwell | NcToolChange | NcStop;

/**
 * A zero that the text lays by itself: that of a coordinate system, by G10 L2 in machine coordinates; or that of all systems, by
 * G92 where the cutter is not known to be, or by G92.3 from offsets that an earlier program left.
 */
export interface NcZero {
  readonly line: number;
  readonly code: 'G10 L2' | 'G92' | 'G92.3';
  /** 1 to 9 for G54 to G59.3; null for all. */
  readonly system: number | null;
}

/**
 * What a program text says. All coordinates are mm in one frame: that of the coordinate system in force at the
 * first motion, without G92 (a G92 in the text moves the words, not the frame). The reading may be relied on only
 * when no diagnostic is an error.
 */
export interface NcReading {
  readonly moves: readonly NcMove[];
  readonly diagnostics: readonly Diagnostic[];
  /** Lines that hold at least one word or parameter setting. */
  readonly blocks: number;
  /** How the program ends. */
  readonly end: 'M2' | 'M30' | 'percent' | 'none';
  /** Whether G20 or G21 stands before the first motion; without it millimetres are taken. */
  readonly unitSeen: boolean;
  /** The coordinate system in force at the first motion, 1 to 9 for G54 to G59.3, and its line; null where no word asks for one. */
  readonly system: { readonly number: number; readonly line: number } | null;
  /** Every word by which the text itself lays a zero somewhere that it does not say. */
  readonly zeros: readonly NcZero[];
}
