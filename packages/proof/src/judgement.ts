import type { Polygon } from '@haunch/geometry';
import type { Cutter, JointProof } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import type { AsCutBoard, Field } from './as-cut-board.js';
import type { Attachment, Kerf } from './bridges.js';
import type { JudgedItem } from './judge-item.js';
import type { PlaceFinder } from './place-finder.js';
import type { ProveInput } from './prove-input.js';
import type { Level } from './sweep/level.js';
import type { Piece } from './sweep/pieces.js';
import type { Stretch } from './sweep/stretch.js';

/** What is left inside a through cut. */
export interface Slug {
  readonly kerf: Kerf;
  /** What crosses the kerf at the sheet's underside. */
  readonly under: Kerf;
  readonly left: readonly Piece[];
  /** Those that hang on nothing. */
  readonly loose: readonly Piece[];
}

/** How an item hangs on the board, and what is left in its through cuts on it. */
export interface HeldItem {
  readonly judged: JudgedItem;
  readonly kerf: Kerf;
  /** What crosses the kerf at the sheet's underside: tabs with their ramps, and skins that no pass has cut. */
  readonly under: Kerf;
  readonly slugs: readonly Slug[];
}

/** All that the rules may ask. Program coordinates, mm. */
export interface Judgement {
  readonly input: ProveInput;
  readonly reading: NcReading;
  readonly stretches: readonly Stretch[];
  /** The cutter taken because the text names no tool and only one is described. */
  readonly assumed: Cutter | null;
  readonly top: number;
  readonly bottom: number;
  /** The height at which rapids may travel. */
  readonly safe: number;
  readonly tolerance: number;
  readonly levels: readonly Level[];
  readonly field: Field;
  readonly boardPolygon: Polygon;
  readonly items: readonly HeldItem[];
  readonly attachment: Attachment;
  readonly place: PlaceFinder;
  readonly asCut: AsCutBoard;
  readonly joints: readonly JointProof[];
  /** Radii of the smallest and the largest router used. */
  readonly leastRadius: number;
  readonly mostRadius: number;
}
