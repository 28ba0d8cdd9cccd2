import {
  cornerRelief,
  type Point,
  type Ring,
  rectangleRing,
  relieveRing,
  ringSegments,
} from '@haunch/geometry';
import type { ReliefForm } from '@haunch/model';

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

/**
 * A rectangle of air with its corners relieved, those at `open` sides left out: they lie beyond the plate.
 * @throws RangeError when a relief has no room.
 */
export function air(
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
  if (!(x1 > x0 && y1 > y0)) throw new RangeError(`air: nothing between ${x0} and ${x1}, ${y0} and ${y1}`);
  const ring = rectangleRing(x0, y0, x1, y1);
  if (!relief) return ring;
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
    if ('problem' in disc) throw new RangeError(`air: ${disc.problem}`);
    return [{ ...disc, corner: after.from, tag: `relief-${i}` }];
  });
  const relieved = relieveRing(ring, 'inside', discs);
  if ('problem' in relieved) throw new RangeError(`air: ${relieved.problem}`);
  return relieved.ring;
}

/** @throws RangeError naming the first figure that is not positive. */
export function assertPositive(builder: string, figures: Readonly<Record<string, number>>): void {
  for (const [name, v] of Object.entries(figures))
    if (!(v > 0) || !Number.isFinite(v)) throw new RangeError(`${builder}: ${name} ${v} must be positive`);
}
