import type { Outcome, Part } from '@haunch/model';
import type { DryRun } from '../dryfit/dry-run.js';
import { findMates, type MateFindings } from '../mates/find-mates.js';
import { type FlatPart, flatPartOf } from '../mates/flat-part.js';
import { barePart } from './bare-part.js';
import { straightPart } from './straight-part.js';

/** Drawn parts made straight and bare, with the mates that were found between them. */
export interface SearchedParts {
  readonly parts: readonly Part[];
  /** The same as the search takes them. */
  readonly flat: readonly FlatPart[];
  /** How many drawn reliefs were taken out. */
  readonly reliefs: number;
  readonly mates: Outcome<MateFindings>;
}

/** Parts are never changed, so that what was found of the same ones holds: each answer need not wait for the search again. */
const known = new WeakMap<
  Part,
  { readonly of: readonly Part[]; readonly leans: string; readonly found: SearchedParts }
>();

/**
 * Searches the mates of drawn parts, each of which must have a thickness, with the angles (degrees, by part) at which some are
 * said to lean; the last search of the same is remembered.
 */
export function searchedParts(
  drawn: readonly Part[],
  leans: Readonly<Record<string, number>>,
  run?: DryRun,
): SearchedParts {
  const said = JSON.stringify(Object.entries(leans).sort(([a], [b]) => (a < b ? -1 : 1)));
  const [first] = drawn;
  const before = first && known.get(first);
  if (
    before &&
    before.leans === said &&
    before.of.length === drawn.length &&
    drawn.every((p, i) => p === before.of[i])
  )
    return before.found;
  const bare = drawn.map((p) => barePart(straightPart(p)));
  const parts = bare.map((b) => b.part);
  let stopped = false;
  const flat = parts.map((p): FlatPart => {
    const lean = leans[p.id];
    return { ...flatPartOf(p), ...(lean === undefined ? {} : { lean: (lean * Math.PI) / 180 }) };
  });
  const mates = findMates(
    flat,
    {},
    run && {
      tick: () => {
        const on = run.tick();
        stopped ||= !on;
        return on;
      },
    },
  );
  const found = { parts, flat, reliefs: bare.reduce((sum, b) => sum + b.reliefs, 0), mates };
  if (first && !stopped) known.set(first, { of: [...drawn], leans: said, found });
  return found;
}
