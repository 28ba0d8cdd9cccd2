import type { Point } from '@haunch/geometry';
import type { FitKind, Verdict } from './joint.js';

/** One thing that a rule found, with its place. `line` from 1; `at` in board coordinates, mm. */
export interface Finding {
  readonly message: string;
  readonly line?: number;
  /** The program that the line is of, where several are run one after the other on one board. */
  readonly program?: string;
  readonly part?: string;
  readonly feature?: string;
  /** The joint whose wall is touched, or the nearest joint of the part when none is. */
  readonly joint?: string;
  /** Distance from the place to that joint's nearest wall, mm; 0 where it is on it. */
  readonly jointDistance?: number;
  readonly at?: Point;
  readonly amount?: number;
}

/** A numbered rule and what it says of this program. */
export interface RuleResult {
  readonly rule: string;
  readonly title: string;
  readonly verdict: 'pass' | 'fail' | 'not judged';
  /** How far the worst place is from failing, in `unit`; null where there is no such figure. */
  readonly margin: number | null;
  readonly unit: string;
  readonly findings: readonly Finding[];
}

/** A fit as cut. Clearances mm; null where they could not be measured. */
export interface FitProof {
  readonly fit: string;
  readonly kind: FitKind;
  readonly slotPart: string;
  readonly enteringPart: string;
  readonly wanted: number;
  /** Tightest and slackest clearance along the walls and over the depth. */
  readonly least: number | null;
  readonly most: number | null;
  /** As-cut width between the walls at the tightest place; null with one wall. */
  readonly width: number | null;
  /** Most material that stands, beside the walls' ends, in a corner that the plate's arris must reach. */
  readonly standing: number;
  readonly verdict: Verdict;
  /** Program lines that cut these walls. */
  readonly lines: readonly number[];
  /** The program of each line, where several are run one after the other on one board. */
  readonly programs?: readonly string[];
  /** What the figure rests on when not all of it was cut in the programs at hand. */
  readonly basis: 'as cut' | 'partner as drawn';
  /** As-cut width between two walls at places along the first of them, from its start, narrowest over the depth. mm */
  readonly along?: readonly { readonly at: number; readonly width: number }[];
  /** As-cut size of the tenon between the walls; there for `ends` whose entering plate is cut in the programs at hand. mm */
  readonly tenon?: { readonly least: number; readonly most: number };
  /** As-cut depth of the housing below the sheet's top; there where an edge meets its floor. mm */
  readonly depth?: { readonly least: number; readonly most: number };
  /** The entering plate's thickness that the clearance counts with, and whether its board's map tells it at that spot. mm */
  readonly plate?: { readonly thickness: number; readonly from: 'board map' | 'plate' };
}

/** A joint as cut: the worst of its fits speaks. */
export interface JointProof {
  readonly joint: string;
  readonly type: string;
  readonly slotPart: string;
  readonly enteringPart: string;
  readonly verdict: Verdict;
  readonly wanted: number | null;
  readonly clearance: number | null;
  readonly fits: readonly FitProof[];
}

/** An item as cut: its worst deviations from what was wanted, and how it is held at the end. mm. */
export interface AsCutPart {
  readonly item: string;
  readonly cut: boolean;
  /** As-cut curves above the tabs, outer first, as polygons in board coordinates. */
  readonly outlines: readonly (readonly Point[])[];
  /** Deepest cut into the part beyond its contour, and most material left standing. */
  readonly gouge: number;
  readonly excess: number;
  readonly tabs: number;
  readonly tabsWanted: number;
}

/** What a program's text would really cut, and every rule with pass or fail. */
export interface Proof {
  readonly kind: 'proof';
  readonly board: string;
  readonly pass: boolean;
  readonly rules: readonly RuleResult[];
  readonly parts: readonly AsCutPart[];
  readonly joints: readonly JointProof[];
  readonly blocks: number;
  /** Seconds that the program runs, from its feeds and the machine's accelerations. */
  readonly seconds: number;
}
