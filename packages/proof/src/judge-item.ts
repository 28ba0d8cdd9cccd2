import { type Clip, flattenRing, type Point, type Polygon } from '@haunch/geometry';
import type { AsCutItem, AsCutLevel, Field } from './as-cut-board.js';
import { type Deviation, deviationOf, type Spot } from './deviation.js';
import type { PlacedItem } from './prove-input.js';
import type { Level } from './sweep/level.js';
import { insidePiece, type Piece, standing } from './sweep/pieces.js';
import { boxesMeet, boxOf, type Patch } from './sweep/sweeper.js';
import { insidePoint } from './wanted/inside-point.js';
import type { Reachable } from './wanted/reachable.js';
import { openOver, type WantedContour, wantedContours } from './wanted/wanted-contour.js';
import { indexWanted } from './wanted/wanted-index.js';

/** One item as cut, compared with what it was to become. */
export interface JudgedItem {
  readonly item: PlacedItem;
  readonly asCut: AsCutItem;
  readonly contours: readonly WantedContour[];
  readonly inside: Point;
  /** The item with its kerf round it: where its piece is looked for. */
  readonly window: readonly Polygon[];
  /** Whether it is cut free all round above the tabs. */
  readonly cut: boolean;
  readonly gouge: number;
  readonly excess: number;
  /** How much more its edges would bear; negative where one no longer does. */
  readonly roomIn: number;
  readonly roomOut: number;
  readonly gouges: readonly Spot[];
  readonly excesses: readonly Spot[];
  readonly bridges: readonly Spot[];
  /** The piece above the tabs; null when nothing is left of it. */
  readonly piece: Piece | null;
}

/** What items are judged with. */
export interface JudgeItemInput {
  readonly clip: Clip;
  readonly item: PlacedItem;
  readonly levels: readonly Level[];
  /** What is removed over each slab, in the same order. */
  readonly patches: readonly (readonly Patch[])[];
  readonly field: Field;
  readonly top: number;
  /** Height up to which tabs may stand. */
  readonly tabTop: number;
  readonly radius: number;
  readonly tolerance: number;
  readonly edges?: Readonly<Record<string, number>>;
  readonly board: Polygon;
}

/** Keeps the window of an item short of the kerf's far side, mm. */
const SHORT = 0.02;
/** The window's own edge is followed within this, well inside what it keeps short, mm. */
const EDGE = 0.004;

/** Cuts an item out of the board, slab by slab, and compares it. Equal slabs are compared once. */
export function judgeItem(i: JudgeItemInput): JudgedItem {
  const { clip, item, radius } = i;
  const contours = wantedContours(item.part, i.top);
  const wanted = indexWanted(contours);
  const inside = insidePoint(contours);
  const kerf = 2 * radius - SHORT;
  // A part may use the board's own edge, where no kerf is needed.
  const grown = clip.grow([flattenRing(item.part.outline.ring, { tolerance: EDGE })], kerf, EDGE);
  const window = clip.intersection(grown, [i.board]);
  const box = boxOf(window);
  const corners = new Map<string, Reachable>();
  const pieces = new Map<string, Piece | null>();
  const compared = new Map<string, Deviation>();
  const asCut: AsCutLevel[] = [];
  const gouges: Spot[] = [];
  const excesses: Spot[] = [];
  const bridges: Spot[] = [];
  let [gouge, excess, cut] = [0, 0, true];
  let [roomIn, roomOut] = [i.tolerance, i.tolerance];
  let above: Piece | null = null;
  i.levels.forEach((level, k) => {
    const near = i.patches[k]!.filter((p) => boxesMeet(p.box, box));
    const name = near.map((p) => p.id).join(' ');
    let piece = pieces.get(name);
    if (piece === undefined) {
      piece = standing(clip, window, near).find((p) => insidePiece(p, inside)) ?? null;
      pieces.set(name, piece);
    }
    asCut.push({ ...level, outer: piece?.outer ?? null, holes: piece?.holes ?? [] });
    const tabs = level.high <= i.tabTop;
    if (!tabs && above === null) above = piece;
    if (piece === null) {
      const outline = contours[0]!;
      gouges.push({ contour: outline, tag: null, at: inside, amount: radius, level });
      gouge = Math.max(gouge, radius);
      roomIn = Math.min(roomIn, i.tolerance - radius);
      cut = false;
      return;
    }
    const open = contours.map((c) => openOver(c, level, i.tolerance));
    const key = `${name}|${tabs}|${open.join()}`;
    const old = compared.get(key);
    const d =
      old ??
      deviationOf({
        clip,
        wanted,
        radius,
        tolerance: i.tolerance,
        ...(i.edges === undefined ? {} : { edges: i.edges }),
        level,
        top: i.top,
        piece,
        removed: i.field.at(level.at),
        kerf,
        tabs,
        corners,
      });
    compared.set(key, d);
    if (!tabs && d.bridges.some((b) => b.contour.kind === 'outline')) cut = false;
    if (old !== undefined) return;
    gouge = Math.max(gouge, d.gouge);
    excess = Math.max(excess, d.excess);
    roomIn = Math.min(roomIn, d.roomIn);
    roomOut = Math.min(roomOut, d.roomOut);
    gouges.push(...d.gouges);
    excesses.push(...d.excesses);
    bridges.push(...d.bridges);
  });
  return {
    item,
    asCut: { item: item.item, piece: item.piece, part: item.part, levels: asCut },
    contours,
    inside,
    window,
    cut,
    gouge,
    excess,
    roomIn,
    roomOut,
    gouges,
    excesses,
    bridges,
    piece: above,
  };
}
