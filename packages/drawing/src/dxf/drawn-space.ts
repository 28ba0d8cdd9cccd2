import type { Diagnostic } from '@haunch/model';
import {
  annotationLeftOut,
  drawnThrough,
  noSize,
  notFlat,
  paperSpace,
  type Tally,
  unknownEntity,
} from '../diagnostics.js';
import type { Item, LeftOut } from './raw-entity.js';
import type { Tags } from './tags.js';

/** What is counted instead of told one by one: what is left out, and splines known by points alone. */
export type Counted = LeftOut | 'drawn through points';

interface Count {
  count: number;
  readonly first: Tally['first'];
}

/** After so many errors a file is not worth reading on. */
export const ENOUGH_ERRORS = 20;

const SAYS: readonly (readonly [Counted, (file: string, type: string, t: Tally) => Diagnostic])[] = [
  ['unknown', unknownEntity],
  ['not flat', notFlat],
  ['no size', noSize],
  ['hidden', (file, _, t) => paperSpace(file, t)],
  ['annotation', annotationLeftOut],
  ['drawn through points', (file, _, t) => drawnThrough(file, t)],
];

/** The model space or a block while it is read: its items, what was said of them, and what was left out. */
export class DrawnSpace {
  readonly items: Item[] = [];
  readonly said: Diagnostic[] = [];
  errors = 0;
  readonly #counts = new Map<Counted, Map<string, Count>>();

  report(d: Diagnostic): void {
    if (d.level === 'error') this.errors++;
    if (d.level !== 'error' || this.errors <= ENOUGH_ERRORS) this.said.push(d);
  }

  /** Counts an entity, by reason and type in the order of first sight. */
  count(
    reason: Counted,
    type: string,
    t: Tags | { readonly line: number; readonly handle: string | null },
  ): void {
    this.#add(reason, reason === 'hidden' ? 'any' : type, 1, { line: t.line, handle: t.handle });
  }

  /** Takes over what was said and counted in a block that is used. */
  takeOver(block: DrawnSpace): void {
    for (const d of block.said) this.report(d);
    for (const [reason, types] of block.#counts)
      for (const [type, c] of types) this.#add(reason, type, c.count, c.first);
  }

  /** Reports what was counted: once for each reason and type. */
  sayCounts(file: string): void {
    for (const [reason, make] of SAYS)
      for (const [type, c] of this.#counts.get(reason) ?? []) this.report(make(file, type, c));
  }

  #add(reason: Counted, type: string, count: number, first: Tally['first']): void {
    const types = this.#counts.get(reason) ?? new Map<string, Count>();
    this.#counts.set(reason, types);
    const known = types.get(type);
    if (known === undefined) types.set(type, { count, first });
    else known.count += count;
  }
}
