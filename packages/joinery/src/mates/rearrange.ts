import type { DryRun } from '../dryfit/dry-run.js';
import type { Piece } from './piece.js';
import type { Plate } from './plate-layers.js';
import { isJoint, type PoseBook, value } from './pose-book.js';
import type { Standing } from './standing-plate.js';
import { inSweep } from './sweep.js';

/** How much more misfit than in the middle one of the piece's plates marks one that may stand in a wrong place. mm² */
const ROUGH = 0.05;

/** How much two plates that exchange places may differ in each extent, and their middles from each other's. mm */
const ALIKE = 30;

/** How many ways of standing in the other's place are tried. */
const TRIED = 4;

/** How many arrangements are kept side by side. */
const KEPT = 64;

/** While some of them have no place yet, only what is held by about as much as anything in the piece counts. */
const FULLY = 0.75;

/** How many plates of one size are arranged anew at the most. */
const MOST = 16;

/** The least by which a piece is better. */
const BETTER = 0.01;

type Standings = ReadonlyMap<number, Standing>;

/** What speaks for a piece, with what stands open in its joints taken off. */
export function standingValue(standing: Standings, book: PoseBook): number {
  const all = [...standing.values()];
  let sum = 0;
  all.forEach((a, i) => {
    for (let j = i + 1; j < all.length; j++) {
      const met = book.meeting(a, all[j]!);
      sum += met === null ? -Infinity : value(met);
    }
  });
  return sum;
}

interface Mates {
  readonly of: ReadonlyMap<number, readonly number[]>;
  /** The greatest misfit of a plate's joints. mm² */
  readonly rough: ReadonlyMap<number, number>;
}

function matesIn(standing: Standings, book: PoseBook): Mates {
  const of = new Map<number, number[]>([...standing.keys()].map((k) => [k, []]));
  const rough = new Map<number, number>([...standing.keys()].map((k) => [k, 0]));
  for (const [i, a] of standing)
    for (const [j, b] of standing) {
      if (i === j) continue;
      const met = book.meeting(a, b);
      if (met === null || !isJoint(met)) continue;
      of.get(i)!.push(j);
      rough.set(i, Math.max(rough.get(i)!, met.misfit));
    }
  return { of, rough };
}

/** Plates that fit worse than most. */
function misfits({ rough }: Mates): number[] {
  const sorted = [...rough.values()].sort((a, b) => a - b);
  const least = sorted[Math.floor(sorted.length / 2)]! + ROUGH;
  return [...rough].filter(([, r]) => r > least).map(([k]) => k);
}

const extents = (s: Standing): number[] => [0, 1, 2].map((k) => s.high[k]! - s.low[k]!);
const middle = (s: Standing): number[] => [0, 1, 2].map((k) => (s.high[k]! + s.low[k]!) / 2);
const close = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((x, k) => Math.abs(x - b[k]!) <= ALIKE);

/** The difference along an axis, to the millimetre, so that a row is in order whatever its numbers end in. */
const apart = (a: readonly number[], b: readonly number[], k: number): number =>
  Math.round(a[k]!) - Math.round(b[k]!);

interface Place {
  readonly standing: Standing;
  readonly score: number;
}

/** The places for plates of a kind that what stands leaves free, best first. */
function placesFor(plate: Plate, there: readonly Standing[], book: PoseBook): Place[] {
  const seen = new Set<number>();
  const out: Place[] = [];
  for (const o of there)
    for (const s of book.around(o, plate)) {
      if (seen.has(s.id)) continue;
      seen.add(s.id);
      let score = 0;
      for (const x of there) {
        const met = book.meeting(x, s);
        score += met === null ? -Infinity : value(met);
        if (met === null) break;
      }
      if (score > 0) out.push({ standing: s, score });
    }
  return out.sort((a, b) => b.score - a.score || a.standing.id - b.standing.id);
}

/** Those of the places that go together and for which there are plates, in the order in which they are given. */
function together(
  places: readonly Place[],
  count: ReadonlyMap<number, number>,
  book: PoseBook,
): { readonly taken: readonly Standing[]; readonly sum: number } {
  const open = new Map(count);
  const taken: Standing[] = [];
  let sum = 0;
  for (const { standing: s, score } of places) {
    const left = open.get(s.plate.family)!;
    if (left === 0 || taken.some((o) => book.meeting(o, s) === null)) continue;
    open.set(s.plate.family, left - 1);
    taken.push(s);
    sum += score;
  }
  return { taken, sum };
}

/**
 * What stands with the plates that are left in the best places that do not exclude each other. Places as good as each
 * other are taken in a sweep along each axis, since in a row of which each excludes the next a sweep finds the most.
 */
function filled(
  standing: Standings,
  left: readonly number[],
  plates: readonly Plate[],
  book: PoseBook,
  least: number,
): Standings {
  const there = [...standing.values()];
  const families = new Map<number, number[]>();
  for (const k of left) families.set(plates[k]!.family, [...(families.get(plates[k]!.family) ?? []), k]);
  const places = [...families.values()]
    .flatMap(([k]) => placesFor(plates[k!]!, there, book))
    .filter((p) => p.score >= least);
  const count = new Map([...families].map(([family, own]) => [family, own.length]));
  let best: ReturnType<typeof together> = { taken: [], sum: -1 };
  for (const k of [0, 1, 2] as const) {
    const swept = [...places].sort(
      (a, b) =>
        Math.round((b.score - a.score) * 1e6) ||
        inSweep(a.standing, b.standing, k) ||
        a.standing.id - b.standing.id,
    );
    const found = together(swept, count, book);
    if (found.sum > best.sum + 1e-6) best = found;
  }
  const out = new Map(standing);
  for (const s of best.taken) out.set(families.get(s.plate.family)!.shift()!, s);
  return out;
}

/** Plates of about one size that hold others between them, where one of them or of what hangs on them fits badly. */
function sizesInDoubt(standing: Standings, mates: Mates): number[][] {
  const bad = misfits(mates);
  const doubtful = new Set(bad.flatMap((k) => [k, ...mates.of.get(k)!]));
  const out: number[][] = [];
  for (const k of doubtful) {
    if (out.some((g) => g.includes(k)) || hangs(mates, k)) continue;
    const size = extents(standing.get(k)!);
    const group = [...standing].filter(([o, s]) => !hangs(mates, o) && close(extents(s), size));
    const kinds = new Set(group.map(([, s]) => s.plate.family));
    if (kinds.size > 1 && group.length <= MOST) out.push(group.map(([o]) => o));
  }
  return out;
}

/** True for a plate that joins only such as have more mates than it. */
const hangs = ({ of }: Mates, k: number): boolean =>
  of.get(k)!.every((o) => of.get(o)!.length > of.get(k)!.length);

/** What speaks for the place of one plate in a piece. */
function heldBy(standing: Standings, k: number, book: PoseBook): number {
  let sum = 0;
  for (const [o, s] of standing) {
    const met = o === k ? null : book.meeting(s, standing.get(k)!);
    if (met !== null) sum += value(met);
  }
  return sum;
}

interface Arranged {
  readonly seated: Standings;
  readonly whole: Standings;
  readonly worth: number;
}

/** The piece with the plates of a group in each other's places, and what hangs put back as it fits best: the best way. */
function rearranged(
  standing: Standings,
  mates: Mates,
  group: readonly number[],
  plates: readonly Plate[],
  book: PoseBook,
  run: DryRun | undefined,
): Arranged | null {
  const hanging = [...standing.keys()].filter((k) => hangs(mates, k) && !group.includes(k));
  const fixed = new Map([...standing].filter(([k]) => !group.includes(k) && !hanging.includes(k)));
  const seats = group
    .map((k) => middle(standing.get(k)!))
    .sort((a, b) => apart(a, b, 0) || apart(a, b, 1) || apart(a, b, 2));
  const fully = FULLY * Math.max(...hanging.map((k) => heldBy(standing, k, book)));
  const bound = [...fixed.values()];
  const places = new Map<number, Standing[]>();
  for (const k of group) {
    const { family } = plates[k]!;
    if (!places.has(family))
      places.set(
        family,
        placesFor(plates[k]!, bound, book).map((p) => p.standing),
      );
  }
  let ways: Arranged[] = [{ seated: fixed, whole: fixed, worth: 0 }];
  for (const seat of seats) {
    const next: Arranged[] = [];
    for (const { seated } of ways) {
      if (run?.tick() === false) return null;
      for (const [family, all] of places) {
        const k = group.find((o) => plates[o]!.family === family && !seated.has(o));
        if (k === undefined) continue;
        for (const s of all.filter((o) => close(middle(o), seat)).slice(0, TRIED)) {
          if ([...seated.values()].some((o) => book.meeting(o, s) === null)) continue;
          const more = new Map(seated).set(k, s);
          const whole = filled(
            more,
            hanging,
            plates,
            book,
            more.size < fixed.size + group.length ? fully : 0,
          );
          next.push({ seated: more, whole, worth: standingValue(whole, book) });
        }
      }
    }
    ways = next.sort((a, b) => b.worth - a.worth).slice(0, KEPT);
  }
  return ways.find((w) => w.whole.size === standing.size) ?? null;
}

/**
 * The piece bettered where something fits badly: plates that are alike in size but of different kinds, as the uprights
 * of a row, are arranged anew in their places, a bounded number of ways side by side, and what hangs between them is
 * put back as it fits best. The piece itself where none fits better; stops when `run` says so.
 */
export function bettered(piece: Piece, plates: readonly Plate[], book: PoseBook, run?: DryRun): Piece {
  let best = piece;
  let least = standingValue(piece.standing, book) + BETTER;
  const mates = matesIn(piece.standing, book);
  for (const group of sizesInDoubt(piece.standing, mates)) {
    const other = rearranged(piece.standing, mates, group, plates, book, run);
    if (other === null || other.worth <= least) continue;
    best = { standing: other.whole, score: other.worth };
    least = other.worth;
  }
  return best;
}
