import type { Plate } from './plate-layers.js';
import { type PoseBook, worth } from './pose-book.js';
import type { Standing } from './standing-plate.js';

/** A place, and what speaks for it. */
export interface Candidate {
  readonly standing: Standing;
  readonly score: number;
}

/** How many open places are asked for what they would hold. */
const ASKED = 64;

/** How many of the places that are held by most are looked at closely. */
const WEIGHED = 24;

/**
 * Places that nothing which stands touches yet, but that two or more open places would hold up together, such as the
 * next upright of a row, which all shelves between want in one and the same place wherever each of them goes. Best first.
 */
export function supported(
  open: readonly Candidate[],
  standing: readonly Standing[],
  left: ReadonlyMap<number, readonly number[]>,
  plates: readonly Plate[],
  book: PoseBook,
): Candidate[] {
  const direct = new Set(open.map((c) => c.standing.id));
  const held = new Map<number, { readonly standing: Standing; readonly by: Standing[] }>();
  for (const { standing: c } of open.slice(0, ASKED))
    for (const [family, [q]] of left)
      if (family !== c.plate.family)
        for (const s of book.around(c, plates[q!]!)) {
          if (direct.has(s.id)) continue;
          const known = held.get(s.id);
          if (known === undefined) held.set(s.id, { standing: s, by: [c] });
          else known.by.push(c);
        }
  const out: Candidate[] = [];
  const most = [...held.values()]
    .filter((h) => h.by.length >= 2)
    .sort((a, b) => b.by.length - a.by.length || a.standing.id - b.standing.id);
  for (const { standing: s, by } of most) {
    if (out.length >= WEIGHED) break;
    if (standing.some((o) => book.meeting(o, s) === null)) continue;
    const apart: Standing[] = [];
    let score = 0;
    for (const c of by) {
      const met = book.meeting(c, s);
      if (met === null || apart.some((o) => book.meeting(o, c) === null)) continue;
      apart.push(c);
      score += worth(met);
    }
    if (apart.length >= 2) out.push({ standing: s, score });
  }
  return out.sort((a, b) => b.score - a.score || a.standing.id - b.standing.id);
}
