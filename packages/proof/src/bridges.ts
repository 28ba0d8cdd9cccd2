import {
  type Box,
  type Clip,
  distance,
  flattenRing,
  type Point,
  type Polygon,
  ringPerimeter,
} from '@haunch/geometry';
import type { Holding } from '@haunch/model';
import { insidePiece, type Piece, patchesIn, piecesOf } from './sweep/pieces.js';
import { boxesMeet, boxOf, insidePolygon, type Patch } from './sweep/sweeper.js';
import type { WantedContour } from './wanted/wanted-contour.js';

/** Curves that only decide what hangs together are followed within this, mm. */
const COARSE = 0.005;
/** Share of a tab's wanted width and height that still counts as a tab. */
export const LEAST_WIDTH = 0.8;
export const LEAST_HEIGHT = 0.5;
/** Tabs are taken to end this far above their height at most, mm. */
export const TAB_SPARE = 0.05;
/** Bridges up to so many tabs long are tabs. */
const LONG = 4;
/** Half the width of the strip in the middle of the kerf in which tabs are counted, mm. */
const STRIP = 0.15;
/** Smaller bits than this are chips, mm². */
export const CHIP = 1;

/** A stretch of material across the kerf of a contour. */
export interface Bridge {
  /** A place in it, in the middle of the kerf. */
  readonly at: Point;
  /** Its length along the middle of the kerf at half a tab's height, mm. */
  readonly length: number;
  /** Its outline there. */
  readonly polygon: Polygon;
}

/** What is known of the kerf along one contour at half a tab's height. */
export interface Kerf {
  readonly contour: WantedContour;
  /** All material across the kerf, and what of it is at least 0.8 of a tab wide. */
  readonly any: readonly Bridge[];
  readonly strong: readonly Bridge[];
  /** The tabs that a piece with this contour must hang on counts from this. mm */
  readonly perimeter: number;
}

/** The longest bridge that is still a tab, mm; where one is longer the cut is not made. */
export const longestTab = (holding: Holding): number => LONG * holding.tabWidth;

const middle = (polygon: Polygon): Point => {
  // The corner nearest to the middle of the box: it lies on the strip, whatever its bend.
  const b = boxOf([polygon]);
  const c = { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 };
  return polygon.reduce((best, p) => (distance(p, c) < distance(best, c) ? p : best));
};

const bridgeOf = (piece: Piece): Bridge => ({
  at: middle(piece.outer),
  length: piece.area / (2 * STRIP),
  polygon: piece.outer,
});

/** A box as a polygon, grown on all sides. mm */
const growBox = (b: Box, by: number): Polygon => [
  { x: b.minX - by, y: b.minY - by },
  { x: b.maxX + by, y: b.minY - by },
  { x: b.maxX + by, y: b.maxY + by },
  { x: b.minX - by, y: b.maxY + by },
];

/** What a kerf is looked at with. */
export interface KerfInput {
  readonly clip: Clip;
  readonly contour: WantedContour;
  /** Radii of the smallest and largest router used. */
  readonly least: number;
  readonly most: number;
  readonly holding: Holding;
  readonly board: Polygon;
}

/**
 * Finds the material that stands across the kerf of a contour, of what is removed at a height: in the strip along the kerf's middle, what is not
 * removed; and of it what is still there when the kerf is widened on both sides by half of the least width. Of the
 * removed, only the kerf itself counts (one cutter wide), so that neighbouring cuts do not thin what stands.
 */
export function kerfIn({
  clip,
  contour,
  least,
  most,
  holding,
  board,
}: KerfInput): (patches: readonly Patch[]) => Kerf {
  const out = contour.kind === 'outline' ? 1 : -1;
  const ring = [flattenRing(contour.ring, { tolerance: COARSE })];
  const far = clip.grow(ring, out * 2 * most, COARSE);
  const band = out > 0 ? clip.difference(far, ring) : clip.difference(ring, far);
  const a = clip.grow(ring, out * (least + STRIP), COARSE);
  const b = clip.grow(ring, out * (least - STRIP), COARSE);
  const strip = clip.intersection(out > 0 ? clip.difference(a, b) : clip.difference(b, a), [board]);
  const perimeter = ringPerimeter(contour.bare);
  if (strip.length === 0) return () => ({ contour, any: [], strong: [], perimeter });
  const around = boxOf(band);
  const by = (LEAST_WIDTH * holding.tabWidth) / 2 - COARSE;
  const bits = (of: readonly Polygon[], removed: readonly Polygon[]): Piece[] =>
    piecesOf(removed.length === 0 ? of : clip.difference(of, removed)).filter(
      (p) => p.area > 2 * STRIP * 0.05,
    );
  return (patches) => {
    const gone = patchesIn(patches, around);
    const kerf = gone.length === 0 ? [] : clip.intersection(gone, band);
    const any = bits(strip, kerf);
    // Widened only near the bridges: what lies farther off thins none of them.
    const near = any.map((b) => growBox(b.box, by + 1));
    const beside = any.length === 0 || kerf.length === 0 ? [] : clip.intersection(kerf, clip.union(near));
    const strong =
      beside.length === 0
        ? any
        : bits(
            any.flatMap((b) => [b.outer, ...b.holes]),
            clip.grow(beside, by, COARSE),
          );
    return { contour, any: any.map(bridgeOf), strong: strong.map(bridgeOf), perimeter };
  };
}

/** How the items of a board hang together at half a tab's height. */
export interface Attachment {
  /** Whether a bridge of an item leads to the rest of the board without passing through that item. */
  anchored(item: string, bridge: Bridge): boolean;
}

/**
 * Follows bridges to the board's edge: what stands of the board without its items falls into pieces; a piece that
 * reaches the edge holds, and so does what hangs on it, item by item.
 */
export function attachmentOf(
  clip: Clip,
  board: Polygon,
  patches: readonly Patch[],
  items: readonly { readonly item: string; readonly kerf: Kerf }[],
): Attachment {
  const outlines = items.map((i) => flattenRing(i.kerf.contour.ring, { tolerance: COARSE }));
  const rest = piecesOf(clip.difference([board], [...patches.flatMap((p) => p.polygons), ...outlines]));
  const edge = boxOf([board]);
  const onEdge = (p: Point): boolean =>
    onPolygon(board, p) || p.x <= edge.minX || p.x >= edge.maxX || p.y <= edge.minY || p.y >= edge.maxY;
  const frames = rest.map((piece) => piece.outer.some(onEdge));
  const pieceAt = (p: Point): number =>
    rest.findIndex(
      (piece) =>
        boxesMeet(piece.box, { minX: p.x, minY: p.y, maxX: p.x, maxY: p.y }) && insidePiece(piece, p),
    );
  const links = new Map<string, number[]>();
  for (const { item, kerf } of items)
    links.set(item, [...new Set(kerf.strong.map((b) => pieceAt(insideOf(b))))]);
  const heldWithout = new Map<string, ReadonlySet<number>>();
  const heldPieces = (without: string): ReadonlySet<number> => {
    const old = heldWithout.get(without);
    if (old) return old;
    const held = new Set(frames.flatMap((f, i) => (f ? [i] : [])));
    for (let grew = true; grew; ) {
      grew = false;
      for (const [item, pieces] of links) {
        if (item === without || !pieces.some((i) => held.has(i))) continue;
        for (const i of pieces)
          if (i >= 0 && !held.has(i)) {
            held.add(i);
            grew = true;
          }
      }
    }
    heldWithout.set(without, held);
    return held;
  };
  return { anchored: (item, bridge) => heldPieces(item).has(pieceAt(insideOf(bridge))) };
}

/** A point within a bridge: its place, moved off the strip's edge. */
function insideOf(b: Bridge): Point {
  const p = b.at;
  // The strip is 0.3 mm wide; one of the places around the corner lies in it.
  for (let k = 0; k < 16; k++) {
    const a = (Math.PI * 2 * k) / 16;
    const q = { x: p.x + 0.05 * Math.cos(a), y: p.y + 0.05 * Math.sin(a) };
    if (insidePolygon(b.polygon, q)) return q;
  }
  return p;
}

const onPolygon = (polygon: Polygon, p: Point): boolean => {
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[j]!;
    const b = polygon[i]!;
    const l2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
    const t =
      l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / l2));
    if (Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y)) < 1e-4) return true;
  }
  return false;
};
