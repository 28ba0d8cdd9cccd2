import type { Layout, Placement } from '@haunch/model';

/**
 * A term of the objective beside the score: something else that a layout should have little of, in a unit of its own. Plugged in by the
 * caller, who knows what parts are; pure, finite, 0 where there is nothing to better.
 */
export interface ObjectiveTerm {
  readonly name: string;
  readonly unit: string;
  /** The items of whose places it asks; of all, when left out. */
  readonly concerns?: ReadonlySet<string>;
  measure(layout: Layout): number;
}

/** A term as it was measured of a layout. */
export interface TermFigure {
  readonly name: string;
  readonly unit: string;
  readonly amount: number;
}

/** What each term measures of a layout, in their order. */
export const measureTerms = (terms: readonly ObjectiveTerm[], layout: Layout): TermFigure[] =>
  terms.map((t) => ({ name: t.name, unit: t.unit, amount: t.measure(layout) }));

/** Two items that should lie where some field of their boards is alike. */
export interface AlikePair {
  readonly items: readonly [string, string];
}

/**
 * The term of pairs that should lie in like places: by how much what `valueAt` says of their placements differs by more than
 * `tolerance`, summed over all pairs, in its unit. A pair of which one is not placed counts nothing.
 */
export function alikeTerm(
  name: string,
  unit: string,
  pairs: readonly AlikePair[],
  valueAt: (placement: Placement) => number,
  tolerance: number,
): ObjectiveTerm {
  // A placement is measured once, however often layouts share it.
  const known = new WeakMap<Placement, number>();
  const valueHere = (p: Placement): number => {
    let value = known.get(p);
    if (value === undefined) {
      value = valueAt(p);
      known.set(p, value);
    }
    return value;
  };
  return {
    name,
    unit,
    concerns: new Set(pairs.flatMap((p) => p.items)),
    measure({ placements }) {
      const lies = new Map(placements.map((p) => [p.item, p]));
      return pairs.reduce((sum, { items: [a, b] }) => {
        const [p, q] = [lies.get(a), lies.get(b)];
        return p && q ? sum + Math.max(0, Math.abs(valueHere(p) - valueHere(q)) - tolerance) : sum;
      }, 0);
    },
  };
}
