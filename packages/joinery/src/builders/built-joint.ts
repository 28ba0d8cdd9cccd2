import {
  cornerRelief,
  type Point,
  type Ring,
  rectangleRing,
  relieveRing,
  ringSegments,
  snap,
  snapRing,
} from '@haunch/geometry';
import type { ReliefForm } from '@haunch/model';
import type { BuiltMate } from './built-mate.js';

/** What is done to one plate, in coordinates of the joint: x along the joint, y as the builder says. mm */
export interface BuiltSide {
  /** Material to add to the plate's outline. */
  readonly add: readonly Ring[];
  /** Voids to cut through it. */
  readonly cut: readonly Ring[];
  /** Recesses of constant depth below a face. */
  readonly recess: readonly { readonly ring: Ring; readonly depth: number }[];
}

/** How the entering plate goes in, in the slotted plate's coordinates of the joint. */
export type Entry = 'across the plate' | 'along the plate';

/** A joint made for two plates: what to do to each, and what it is. */
export interface BuiltJoint {
  readonly kind: 'built-joint';
  readonly type: string;
  /** The plate with the slot. */
  readonly slot: BuiltSide;
  /** The plate that enters it. */
  readonly entering: BuiltSide;
  readonly entry: Entry;
  /** How the two are joined; `mateOfJoint` makes a master's mate of it. */
  readonly mate: BuiltMate;
}

/** How inside corners are relieved: for a cutter of this radius, so far beyond the corner. mm */
export interface BuilderRelief {
  readonly radius: number;
  readonly surplus: number;
  readonly form: Exclude<ReliefForm, 'least'>;
}

/** Voids that are open at a plate's edge reach so far beyond it, mm: more than any relief. */
export const BEYOND = 20;

/** Nothing done. */
export const NOTHING: BuiltSide = { add: [], cut: [], recess: [] };

/** A rectangle of material, on the grid. */
export const wood = (x: readonly [number, number], y: readonly [number, number]): Ring =>
  snapRing(rectangleRing(x[0], y[0], x[1], y[1]));

/**
 * A rectangle of air with its corners relieved, those at `open` sides left out: they lie beyond the plate. On the grid.
 * @throws RangeError when a relief has no room.
 */
export function air(
  builder: string,
  x: readonly [number, number],
  y: readonly [number, number],
  relief: BuilderRelief | null,
  open: readonly ('low y' | 'high y' | 'low x' | 'high x')[] = [],
): Ring {
  const [x0, x1] = [
    x[0] - (open.includes('low x') ? BEYOND : 0),
    x[1] + (open.includes('high x') ? BEYOND : 0),
  ];
  const [y0, y1] = [
    y[0] - (open.includes('low y') ? BEYOND : 0),
    y[1] + (open.includes('high y') ? BEYOND : 0),
  ];
  if (!(x1 > x0 && y1 > y0))
    throw new RangeError(
      `${builder}: nothing is left between ${snap(x0)} and ${snap(x1)}, ${snap(y0)} and ${snap(y1)} mm`,
    );
  const ring = rectangleRing(x0, y0, x1, y1);
  if (!relief) return snapRing(ring);
  const kept = (p: Point): boolean =>
    !(
      (open.includes('low y') && p.y === y0) ||
      (open.includes('high y') && p.y === y1) ||
      (open.includes('low x') && p.x === x0) ||
      (open.includes('high x') && p.x === x1)
    );
  const segments = ringSegments(ring);
  const discs = segments.flatMap((after, i) => {
    const before = segments[(i + segments.length - 1) % segments.length]!;
    if (!kept(after.from)) return [];
    const disc = cornerRelief({ before, after, air: 'left', ...relief });
    if ('problem' in disc) throw new RangeError(`${builder}: no relief has room: ${disc.problem}`);
    return [{ ...disc, corner: after.from, tag: `relief-${i}` }];
  });
  const relieved = relieveRing(ring, 'inside', discs);
  if ('problem' in relieved) throw new RangeError(`${builder}: no relief has room: ${relieved.problem}`);
  return snapRing(relieved.ring);
}
