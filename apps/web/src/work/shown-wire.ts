import type { PaperPiece } from '@haunch/job/paper';
import type { WirePlacement } from './lay-wire.js';

/** What screens draw of a result and no file holds. Kept with the result, so that a reload makes nothing again. mm, seconds. */
export interface ShownResult {
  readonly layout: readonly ShownBoard[];
  readonly programs: readonly ShownProgram[];
  readonly joints: ShownJoints;
  /** The pieces that the parts make, each with its refitted master. */
  readonly pieces: readonly PaperPiece[];
}

/** A part where it lies on its board: drawn about its own origin (Y turned down), then turned and moved. */
export interface ShownItem {
  readonly item: string;
  readonly name: string;
  readonly outline: string;
  /** What is cut in it. */
  readonly cuts: readonly { readonly kind: 'through' | 'pocket' | 'hole'; readonly d: string }[];
  /** Where its name can stand, and how far that is from every edge. */
  readonly label: { readonly x: number; readonly y: number; readonly room: number };
  /** The box round its outline before it is turned: least X and Y, greatest X and Y. */
  readonly box: readonly [number, number, number, number];
  /** Where it lies, as the job file would say it. */
  readonly placement: WirePlacement;
  /** The way of the grain in the part as it is drawn: along X, along Y, or none. */
  readonly grain: 'x' | 'y' | null;
  /** Whether the face that is seen in the piece lies up; null where either may be seen. */
  readonly showUp: boolean | null;
  /** Turns that it may take, degrees. */
  readonly turns: readonly number[];
  /** Boards that it may lie on. */
  readonly boards: readonly string[];
  readonly size: readonly [number, number, number];
}

/** A board with what is cut from it. */
export interface ShownBoard {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  readonly outline: string;
  readonly thickness: number;
  readonly grain: 'x' | 'y' | null;
  readonly use: number;
  readonly offCut: boolean;
  readonly keepOuts: readonly string[];
  /** Flaws of one face. */
  readonly defects?: readonly { readonly d: string; readonly face: 'up' | 'down' }[];
  /** What is left to be kept: name, and x, y, width, height. */
  readonly left: readonly {
    readonly id: string;
    readonly box: readonly [number, number, number, number];
    /** Its edge where it is no rectangle. */
    readonly d?: string;
  }[];
  /** Where the ladder that was felt lies: outlines of its parts. */
  readonly ladder: readonly string[];
  readonly items: readonly ShownItem[];
  readonly tabs: readonly { readonly x: number; readonly y: number; readonly width: number }[];
}

/** So many figures are one motion of a program: end X, Y, Z, line, hundredths of a second when it is done, kind, radius of the cutter, centre X, Y, sweep. */
export const MOVE = 10;

/** A workingstep in a program. */
export interface ShownStep {
  readonly number: string;
  readonly kind: string;
  readonly part: string;
  readonly feature: string;
  readonly cutter: string;
  readonly depth: number;
  readonly passes: number;
  readonly seconds: number;
  /** The line at which it begins: a re-entry point. */
  readonly line: number;
  /** What the program waits for after it. */
  readonly waits: readonly string[];
}

/** One program: its text, and what it moves as read back from that text. */
export interface ShownProgram {
  readonly name: string;
  readonly file: string;
  readonly board: string;
  readonly side: 'only' | 'first' | 'second';
  readonly setup: readonly string[];
  readonly seconds: number;
  readonly steps: readonly ShownStep[];
  readonly text: string;
  /** Where each line begins in the text. */
  readonly lineStarts: Uint32Array;
  readonly start: readonly [number, number, number];
  /** `MOVE` figures a motion. */
  readonly moves: Float32Array;
  readonly outlines: readonly {
    readonly path: string;
    readonly name: string;
    readonly at: readonly [number, number];
  }[];
  readonly sheet: readonly [number, number, number, number];
  readonly top: number;
  readonly bottom: number;
}

/** A part drawn flat, as seen from its n+ face, in a box whose corner is (0, 0), Y down. */
export interface ShownFlat {
  readonly id: string;
  readonly name: string;
  readonly board: string;
  readonly width: number;
  readonly height: number;
  readonly outline: string;
  readonly cuts: string;
}

/** Where joints are in their parts. */
export interface ShownJoints {
  readonly parts: readonly ShownFlat[];
  readonly joints: readonly {
    readonly joint: string;
    /** Edges of the slotted part and of the entering one that lie in it, with the boxes round them. */
    readonly marks: readonly {
      readonly part: string;
      readonly d: string;
      readonly box: readonly [number, number, number, number];
    }[];
    /** Walls of each of its fits. */
    readonly walls: readonly { readonly fit: string; readonly part: string; readonly d: string }[];
  }[];
}
