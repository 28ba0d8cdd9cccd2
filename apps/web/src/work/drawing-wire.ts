import type { ReadResult } from '@haunch/job';
import type { Diagnostic } from '@haunch/model';

/** A curve of a part, ready to be drawn and clicked: SVG path data with Y up turned down, mm. */
export interface DrawnCurve {
  readonly id: string;
  readonly kind: 'outline' | 'through' | 'pocket' | 'hole';
  readonly d: string;
  readonly says: string;
}

/** A stretch of a curve that follows thickness. */
export interface FollowingEdge {
  readonly id: string;
  readonly d: string;
  /** The marks that it lies on. */
  readonly marks: readonly string[];
  /** Shares of plates' thicknesses that move it. */
  readonly follows: Readonly<Record<string, number>>;
  /** Why, where that is known. */
  readonly reason: string | null;
}

/** A part to be drawn: its curves in a box whose corner is (0, 0), mm. */
export interface DrawnPart {
  readonly id: string;
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly thickness: number | null;
  readonly grain: 'u' | 'v' | null;
  readonly curves: readonly DrawnCurve[];
  readonly edges: readonly FollowingEdge[];
}

/** What is in a drawing or a master. */
export interface DescribedSource {
  readonly name: string;
  readonly kind: 'master' | 'drawing';
  readonly read: ReadResult;
  readonly parts: readonly DrawnPart[];
  /** How the piece stands, as SVG text; null where nothing says it. */
  readonly standing: string | null;
  /** Whether it was found from a drawing here: its answers can be changed. */
  readonly found: { readonly from: string; readonly said: SaidOf } | null;
}

/** Answers and follows as a master keeps them. */
export interface SaidOf {
  readonly answers: Readonly<Record<string, number>>;
  readonly follows: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

/** A question that stands before a master, with its choices. */
export interface DrawnQuestion {
  readonly id: string;
  readonly text: string;
  readonly choices: readonly string[];
  /** The number of the choice that holds, from 1; null while it is open. */
  readonly taken: number | null;
  /** A picture of each choice, as far as there are. */
  readonly pictures: readonly (string | null)[];
}

/** What was found from flat parts. */
export interface FoundSource {
  /** The master as the text of its file; null while questions are open. */
  readonly text: string | null;
  readonly questions: readonly DrawnQuestion[];
  readonly unanswered: readonly Diagnostic[];
}
