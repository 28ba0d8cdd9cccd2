import type { Point } from '@haunch/geometry';
import type { Cutter, Face, Holding, Machine, Master, Trim } from '@haunch/model';
import type { JobPaper } from '../job-paper-schema.js';
import type { OffCutLeft } from '../off-cuts-left.js';
import type { Report } from '../report-schema.js';

/** A closed curve of a part as it lies on its board, in chords. mm */
export interface PaperCurve {
  readonly points: readonly Point[];
  readonly kind: 'outline' | 'cut' | 'pocket' | 'hole';
}

/** A part as it lies on its board, seen from above. Board coordinates, mm. */
export interface PaperItem {
  readonly item: string;
  readonly part: string;
  readonly curves: readonly PaperCurve[];
  /** Where its name can stand, and how far that is from every edge. */
  readonly label: { readonly at: Point; readonly room: number };
  /** The face that lies up, and the one that is seen in the piece; null where either may be. */
  readonly cutFace: Face;
  readonly showFace: Face | null;
}

/** A workingstep as it stands on paper, with what the program waits for after it. mm, seconds */
export interface PaperStep {
  /** `058`, as the program's comments have it. */
  readonly number: string;
  readonly kind: string;
  readonly part: string;
  readonly feature: string;
  readonly cutter: string;
  /** Deepest pass and first pass, below the top. */
  readonly depth: number;
  readonly firstDepth: number;
  readonly passes: number;
  /** As planned, with a change of cutter before it. */
  readonly seconds: number;
  /** Which of the side's programs, from 1, and at which of its lines. */
  readonly program: number;
  readonly line: number;
  readonly waits: readonly string[];
}

/** One of the programs of a side. */
export interface PaperProgram {
  readonly file: string;
  readonly setup: readonly string[];
  /** Its share of the side's. */
  readonly seconds: number;
}

/** One side of a board on the machine: what its setup sheet shows. Board coordinates, mm. */
export interface PaperSide {
  readonly board: string;
  /** The same, with `.under` where it is the side that is cut first of two. */
  readonly name: string;
  readonly side: 'only' | 'first' | 'second';
  readonly width: number;
  readonly height: number;
  /** Its edge where it is no rectangle, its area, mm², and where its thickness is checked. */
  readonly edge?: { readonly points: readonly Point[]; readonly area: number; readonly checkedAt: Point };
  readonly stock: string;
  readonly material: string;
  readonly grain: 'x' | 'y' | null;
  readonly thickness: number;
  /** The least and the greatest of its map. */
  readonly measured: readonly [number, number];
  /** A reading at the middle between these: go. */
  readonly goAt: readonly [number, number];
  readonly use: number;
  /** The rectangles that are left and worth keeping, as `off-cuts.json` has them, the largest first. */
  readonly offCuts: readonly OffCutLeft[];
  /** Outlines of a ladder that was cut from this sheet already. */
  readonly ladder: readonly (readonly Point[])[];
  readonly keepOuts: readonly (readonly Point[])[];
  /** Flaws of one face, as the board lies: the corners of the rectangles round them. */
  readonly defects?: readonly { readonly points: readonly Point[]; readonly face: 'up' | 'down' }[];
  readonly screws: readonly { readonly at: Point; readonly head: number }[];
  readonly vacuumAreas: readonly (readonly [number, number, number, number])[];
  readonly pins: readonly Point[];
  /** Where round stops touch the sheet's edges, instead of pins. */
  readonly stops: readonly Point[];
  /** Of the pins or of the stops. */
  readonly pinDiameter: number | null;
  readonly turnAxis: 'x' | 'y' | null;
  readonly items: readonly PaperItem[];
  /** Straight cuts through the sheet, from edge to edge. */
  readonly trims: readonly Trim[];
  readonly tabs: readonly { readonly at: Point; readonly width: number; readonly height: number }[];
  readonly steps: readonly PaperStep[];
  readonly programs: readonly PaperProgram[];
  /** How long it runs, by the proof: changes of cutter and waits for the operator are left out. */
  readonly seconds: number;
}

/** One piece to be put together: its own master, refitted to the sheets, and how many are made alike. */
export interface PaperPiece {
  readonly name: string;
  readonly count: number;
  readonly master: Master;
}

/** All that paper is made from: plain data, so that it can be kept, or made in one worker and printed in another. */
export interface PaperData {
  readonly format: 'haunch-paper';
  readonly version: 2;
  readonly paper: JobPaper;
  readonly report: Report;
  readonly sides: readonly PaperSide[];
  readonly pieces: readonly PaperPiece[];
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly toolLength: 'known' | 'touched off';
  readonly holding: Holding;
  /** By how much a cutter may cut wider or narrower until a fit leaves its window, mm; null without fits. */
  readonly cutterLimit: number | null;
  readonly engraved: boolean;
}
