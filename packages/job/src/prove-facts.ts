import type { FitFamily } from '@haunch/joinery';
import type { DialectMeaning, ReliefForm } from '@haunch/model';
import type { ReplayInput } from './replay/replay-html.js';
import type { ProveResult } from './report-schema.js';

/** What neither a program nor a drawing nor a master says; lengths mm. */
export interface ProveFacts {
  /** Diameter of every cutter, or of single ones by tool number. */
  readonly cutters: ReadonlyMap<number | 'any', number>;
  /** The real thickness of the sheet. */
  readonly thickness?: number;
  /** That of single parts of a master, where it is another. */
  readonly partThickness?: Readonly<Record<string, number>>;
  readonly zZero?: 'top' | 'bed';
  /** How high above the sheet travels are safe; 10 when left out. */
  readonly travelHeight?: number;
  /** The dialect of the program and what its words mean; where nothing is said, the report's language, if it reads so. */
  readonly dialect?: { readonly name: string; readonly meaning?: DialectMeaning };
  /** How tight joints shall be: a family with its usual clearance, or another clearance of plate in slot. */
  readonly fit?: FitFamily;
  readonly clearance?: number;
  /** How inside corners are relieved that a square arris must reach; diagonally when left out. */
  readonly relief?: ReliefForm | 'none';
  /** What holds the parts to the end: tabs when left out, or something that no program says, such as a vacuum bed. */
  readonly held?: 'tabs' | 'otherwise';
}

/** Mates for a drawing: those found in it, or a master's. */
export type MatesFor = 'found' | { readonly content: string | Uint8Array; readonly file: string };

/** A proof, and what its replay needs. */
export interface ProvenText {
  readonly result: ProveResult;
  readonly scene: Omit<ReplayInput, 'title'>;
}
