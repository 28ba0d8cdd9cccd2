import type { NestingInstance } from '@haunch/model';
import { isPlain } from '../bed.js';
import { boxOf } from '../no-fit.js';
import { ON_GRID, STEPS } from '../outer-polygon.js';
import { turnedBox } from '../overlap/quarter.js';
import type { Axis } from '../overlap/shrink.js';
import type { Stage } from '../overlap/stage.js';
import type { Slab, Slabs } from './skyline.js';

/** Rectangles on one board, as slabs along an axis of it; half of the spacing is round each, and round the board. */
export interface FoundSlabs {
  readonly slabs: readonly Slab[];
  readonly axis: Axis;
  readonly bed: number;
  /** Across the axis. */
  readonly width: number;
  readonly length: number;
  readonly half: number;
  /** The variant of each that lies as the slab does, and of the one that lies the other way. */
  readonly variants: readonly (readonly [number, number])[];
}

/** A polygon of four corners that fills its box. */
const isBox = (p: readonly number[]): boolean => {
  const [x0, y0, x1, y1] = boxOf([p]);
  return p.length === 8 && p.every((v, i) => (i % 2 === 0 ? v === x0 || v === x1 : v === y0 || v === y1));
};

/** The pieces of a stage as slabs, where all are rectangles and there is one board, a rectangle too. */
export function slabsOf(instance: NestingInstance, stage: Stage, axis: Axis): FoundSlabs | undefined {
  const { wares, beds, possible } = stage;
  const [bed] = beds;
  if (!bed || beds.length > 1 || !isPlain(bed)) return undefined;
  const half = Math.ceil((instance.spacing * STEPS) / 2 - ON_GRID);
  const found = possible.map(({ variants }) => {
    const sizes = variants.map((k) => {
      const v = wares.variants[k]!;
      const { grown } = wares.shapes[v.shape]!;
      if (grown.length !== 1 || !isBox(grown[0]!)) return undefined;
      const box = turnedBox(boxOf(grown), v.quarter);
      const [w, h] = [box[2] - box[0], box[3] - box[1]];
      // Rounding may have grown it by a step more: then this is not for it.
      if (w !== v.width + 2 * half || h !== v.height + 2 * half) return undefined;
      return axis === 'x' ? ([w, h] as const) : ([h, w] as const);
    });
    const first = sizes[0];
    if (!first || sizes.some((s) => !s)) return undefined;
    const other = sizes.findIndex((s) => s![0] === first[1] && s![1] === first[0]);
    const turns = other > 0 && first[0] !== first[1];
    return {
      slab: { long: first[0], wide: first[1], turns },
      variants: [variants[0]!, variants[turns ? other : 0]!] as const,
    };
  });
  if (found.some((f) => !f)) return undefined;
  const [x0, y0, x1, y1] = bed.usable;
  const [w, h] = [x1 - x0 + 2 * half, y1 - y0 + 2 * half];
  return {
    slabs: found.map((f) => f!.slab),
    axis,
    bed: 0,
    width: axis === 'x' ? h : w,
    length: axis === 'x' ? w : h,
    half,
    variants: found.map((f) => f!.variants),
  };
}

/** Writes where slabs lie into an arrangement of the stage's possible pieces. */
export function writeSlabs(
  found: FoundSlabs,
  lying: Slabs,
  stage: Stage,
  to: { x: Float64Array; y: Float64Array; variant: Int32Array; room: Int32Array },
): void {
  const [x0, y0] = stage.beds[found.bed]!.usable;
  found.slabs.forEach((_, i) => {
    const [x, y] =
      found.axis === 'x' ? [lying.along[i]!, lying.across[i]!] : [lying.across[i]!, lying.along[i]!];
    to.x[i] = x0 + x;
    to.y[i] = y0 + y;
    to.variant[i] = found.variants[i]![lying.turned[i]!]!;
    to.room[i] = found.bed;
  });
}
