import { ringArea } from '@haunch/geometry';
import type { NestingInstance, NestingItem } from '@haunch/model';
import { type Bed, facesShown, needsBare } from '../bed.js';
import { convexHull } from '../convex-pieces.js';
import { doubleArea, type GridPolygon, STEPS } from '../outer-polygon.js';
import { fromLeastCorner, type Shape, shapeOf } from '../shape.js';
import type { Coarseness } from '../simplify-outward.js';
import { isSound } from '../sound.js';
import { type Quarter, quarter, turnedBox, turnedPoint, turnedPolygon } from './quarter.js';

/** A shape in one of its turns, all numbers in grid steps. Its reference is the lower left corner of its box. */
export interface Variant {
  /** Number of the shape; a variant is a shape taken a whole number of quarter turns further. */
  readonly shape: number;
  readonly quarter: Quarter;
  /** The turn of the item as the contract has it, radians. */
  readonly turn: number;
  /** From the shape's own reference, turned, to the variant's. */
  readonly offX: number;
  readonly offY: number;
  /** From the item's origin to the variant's reference. */
  readonly cornerX: number;
  readonly cornerY: number;
  readonly width: number;
  readonly height: number;
}

/** An item as the search sees it. */
export interface Piece {
  readonly id: string;
  /** Area of the true outline without its holes, mm². */
  readonly area: number;
  /** The same of its outline on the grid, grown by half of the spacing; square steps. */
  readonly squareSteps: number;
  /** A length that stands for its size: the square root of its hull's area, steps. */
  readonly size: number;
  /** Numbers of the variants that differ, in the order of the item's turns. */
  readonly variants: readonly number[];
  /** The variant of each of the item's turns. */
  readonly ofTurn: readonly number[];
  readonly beds: readonly number[];
  /** Equal for items that are exchangeable. */
  readonly kind: number;
}

/** All items of an instance with their shapes and variants. */
export interface Wares {
  readonly pieces: readonly Piece[];
  readonly shapes: readonly Shape[];
  readonly variants: readonly Variant[];
}

/** Two turns differ by whole quarters when they do so within this, radians: the rounding of doubles. */
const SAME_TURN = 1e-12;

/** The quarter turns from one turn to another; undefined where it is no whole number. */
function quartersBetween(from: number, to: number): Quarter | undefined {
  const k = Math.round((to - from) / (Math.PI / 2));
  return Math.abs(to - from - (k * Math.PI) / 2) <= SAME_TURN ? quarter(k) : undefined;
}

function variantOf(shape: Shape, number: number, q: Quarter, turn: number): Variant {
  const box = turnedBox([0, 0, shape.width, shape.height], q);
  const [cx, cy] = turnedPoint(shape.cornerX, shape.cornerY, q);
  return {
    shape: number,
    quarter: q,
    turn,
    offX: box[0],
    offY: box[1],
    cornerX: box[0] + cx,
    cornerY: box[1] + cy,
    width: box[2] - box[0],
    height: box[3] - box[1],
  };
}

/** Whether two variants look the same. */
const lookOf = (shape: Shape, v: Variant): string =>
  JSON.stringify([
    v.width,
    v.height,
    ...[shape.outline, ...shape.holes].map((p) =>
      fromLeastCorner(turnedPolygon(p, v.quarter, -v.offX, -v.offY)),
    ),
  ]);

/** The area of an item without its holes, mm². */
const materialArea = (item: NestingItem): number =>
  Math.abs(ringArea(item.outline)) - (item.holes ?? []).reduce((sum, h) => sum + Math.abs(ringArea(h)), 0);

/** Area of an outline grown by half of the spacing, square steps; less where it is hollow. */
function grownArea({ outline, holes }: Shape, spacing: number): number {
  const r = (spacing * STEPS) / 2;
  const around = outline.reduce((sum, x, i) => {
    if (i % 2 === 1) return sum;
    const j = (i + 2) % outline.length;
    return sum + Math.hypot(outline[j]! - x, outline[j + 1]! - outline[i + 1]!);
  }, 0);
  const open = holes.reduce((sum, h) => sum - doubleArea(h) / 2, 0);
  const convex = doubleArea(convexHull(outline)) === doubleArea(outline);
  return doubleArea(outline) / 2 - open + (convex ? around * r + Math.PI * r * r : 0);
}

const hullSize = (outline: GridPolygon): number => Math.sqrt(doubleArea(convexHull(outline)) / 2);

/**
 * Prepares the items of an instance: outlines on the grid (covered outward, grown by half of the spacing), one
 * shape for every turn that is no whole number of quarters from another, variants that look alike once.
 */
export function waresOf(instance: NestingInstance, coarseness: Coarseness, beds: readonly Bed[]): Wares {
  const bare = needsBare(beds);
  const shapes: Shape[] = [];
  const variants: Variant[] = [];
  const known = new Map<string, readonly number[]>();
  const kinds = new Map<string, number>();
  const bedNumber = new Map(beds.map((b, i) => [b.id, i]));
  const variantsOf = (item: NestingInstance['items'][number]): readonly number[] => {
    const shows = facesShown(beds, item);
    const name = JSON.stringify([
      item.turns,
      shows,
      [item.outline, ...(item.holes ?? [])].map((r) => r.vertices.map((w) => [w.x, w.y, w.bulge])),
    ]);
    const before = known.get(name);
    if (before) return before;
    const bases: { readonly turn: number; readonly shape: number }[] = [];
    const looks = new Map<string, number>();
    const mine: number[] = [];
    for (const turn of isSound(item) ? item.turns : []) {
      let base = bases.find((b) => quartersBetween(b.turn, turn) !== undefined);
      if (!base) {
        const shape =
          shapes.push(shapeOf(item.outline, turn, instance.spacing, coarseness, bare, item.holes, shows)) - 1;
        base = { turn, shape };
        bases.push(base);
      }
      const shape = shapes[base.shape]!;
      const v = variantOf(shape, base.shape, quartersBetween(base.turn, turn)!, turn);
      const look = lookOf(shape, v);
      const number = looks.get(look) ?? variants.push(v) - 1;
      looks.set(look, number);
      mine.push(number);
    }
    known.set(name, mine);
    return mine;
  };
  const pieces = instance.items.map((item): Piece => {
    const ofTurn = variantsOf(item);
    const mine = [...new Set(ofTurn)];
    const beds = [...new Set(item.boards.flatMap((b) => bedNumber.get(b) ?? []))].sort((a, b) => a - b);
    const key = JSON.stringify([mine, beds]);
    const kind = kinds.get(key) ?? kinds.size;
    kinds.set(key, kind);
    const first = variants[mine[0] ?? -1];
    const size = first ? hullSize(shapes[first.shape]!.outline) : 0;
    const squareSteps = first ? grownArea(shapes[first.shape]!, instance.spacing) : 0;
    return {
      id: item.id,
      squareSteps,
      area: materialArea(item),
      size,
      variants: mine,
      ofTurn,
      beds,
      kind,
    };
  });
  return { pieces, shapes, variants };
}
