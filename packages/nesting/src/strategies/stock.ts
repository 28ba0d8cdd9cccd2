import { ringArea } from '@haunch/geometry';
import type { NestingInstance } from '@haunch/model';
import { type Bed, bareObstacles, bedOf, facesShown, needsBare } from './bed.js';
import { type NoFit, noFit } from './no-fit.js';
import { numberOutlines } from './number-outlines.js';
import type { GridPolygon } from './outer-polygon.js';
import { halfTurned, type Shape, shapeOf } from './shape.js';
import type { Coarseness } from './simplify-outward.js';
import { isSound } from './sound.js';

/** A turn that an item may take, with its shape; turns that look the same to a strategy are one. */
export interface Stance {
  readonly turn: number;
  /** Number of the shape in the stock. */
  readonly shape: number;
  /** From the box's corner to the origin of the item, steps. */
  readonly cornerX: number;
  readonly cornerY: number;
}

/** An item ready to be placed. */
export interface StockItem {
  readonly id: string;
  readonly area: number;
  readonly stances: readonly Stance[];
  /** The shape of each of the item's turns; none where it cannot be placed. */
  readonly ofTurn: readonly number[];
  /** Numbers of the beds it may lie on, in order of preference. */
  readonly beds: readonly number[];
  /** Equal for items that are exchangeable. */
  readonly kind: number;
}

/** An instance prepared for strategies: whole grid steps, shapes shared, no-fit polygons made when first asked for. */
export interface Stock {
  readonly items: readonly StockItem[];
  readonly beds: readonly Bed[];
  readonly shapes: readonly Shape[];
  /** Where shape `moving` may not be round shape `fixed`. */
  between(fixed: number, moving: number): NoFit;
  /** Where shape `moving` may not be on a bed: the bed's obstacles, in bed coordinates. */
  onBed(bed: number, moving: number): readonly NoFit[];
}

const isThere = (pieces: readonly GridPolygon[]): boolean => pieces.length > 0;

/** Prepares an instance. */
export function stockOf(instance: NestingInstance, coarseness: Coarseness): Stock {
  const beds = instance.boards.map((b) => bedOf(b, instance.spacing, instance.edgeMargin, coarseness));
  const bare = needsBare(beds);
  const bedNumber = new Map(beds.map((b, i) => [b.id, i]));
  const shapes: Shape[] = [];
  const numbers = new Map<string, number>();
  const made = new Map<string, Shape>();
  const kinds = new Map<string, number>();
  const sounds = new Map<number, boolean>();
  const areas = new Map<number, number>();
  const numberOf = numberOutlines();

  const items = instance.items.map((item): StockItem => {
    const stances: Stance[] = [];
    const ofTurn: number[] = [];
    const shows = facesShown(beds, item);
    const look = numberOf(item);
    const sound = sounds.get(look) ?? isSound(item);
    sounds.set(look, sound);
    const area = areas.get(look) ?? Math.abs(ringArea(item.outline));
    areas.set(look, area);
    for (const turn of sound ? item.turns : []) {
      const name = `${turn}:${look}${shows.join('')}`;
      const opposite = coarseness.hull && !bare ? made.get(`${turn - Math.PI}:${look}`) : undefined;
      const shape =
        made.get(name) ??
        (opposite
          ? halfTurned(opposite)
          : shapeOf(item.outline, turn, instance.spacing, coarseness, bare, item.holes, shows));
      made.set(name, shape);
      let number = numbers.get(shape.key);
      if (number === undefined) {
        number = shapes.push(shape) - 1;
        numbers.set(shape.key, number);
      }
      ofTurn.push(number);
      if (stances.some((s) => s.shape === number)) continue;
      stances.push({ turn, shape: number, cornerX: shape.cornerX, cornerY: shape.cornerY });
    }
    const allowed = new Set(item.boards.flatMap((b) => bedNumber.get(b) ?? []));
    const onBeds = beds.flatMap((_, i) => (allowed.has(i) ? [i] : []));
    const kindText = JSON.stringify([stances.map((s) => s.shape).sort((a, b) => a - b), onBeds]);
    const kind = kinds.get(kindText) ?? kinds.size;
    kinds.set(kindText, kind);
    return { id: item.id, area, stances, ofTurn, beds: onBeds, kind };
  });

  const pairs = new Map<number, NoFit>();
  const bedPairs = new Map<number, readonly NoFit[]>();
  return {
    items,
    beds,
    shapes,
    between(fixed, moving) {
      const key = fixed * shapes.length + moving;
      let f = pairs.get(key);
      if (!f) {
        f = noFit(shapes[fixed]!.grown, shapes[moving]!.grown);
        pairs.set(key, f);
      }
      return f;
    },
    onBed(bed, moving) {
      const key = bed * shapes.length + moving;
      let f = bedPairs.get(key);
      if (!f) {
        const shape = shapes[moving]!;
        f = [
          ...bareObstacles(beds[bed]!, shape.shows).map((pieces) => noFit(pieces, shape.bare)),
          ...beds[bed]!.keepOuts.filter(isThere).map((pieces) => noFit(pieces, shape.grown)),
        ];
        bedPairs.set(key, f);
      }
      return f;
    },
  };
}
