import { type Diagnostic, fail, type Master, type Outcome, ok } from '@haunch/model';
import { dot } from '../frame.js';
import { type Blocking, blockingOf } from './blocking.js';
import { interference, stopped, stuck } from './diagnostics.js';
import { back, directionName } from './direction.js';
import { type DryPiece, type StandingPiece, standPiece } from './dry-piece.js';
import type { DryRun } from './dry-run.js';
import { placesOf } from './joint-place.js';
import { volumeBetween } from './judge-piece.js';
import { strongComponents } from './strong-components.js';

/** A joint that a step brings together, with the features that engage in that one move. */
export interface Engagement {
  readonly joint: string;
  readonly features: readonly string[];
}

/** One step of putting together: a part or sub-assembly moved home onto others. */
export interface PlannedStep {
  readonly step: number;
  readonly moving: readonly string[];
  readonly fixed: readonly string[];
  /** The way it goes home: `+X`, or the components of a unit vector. */
  readonly direction: string;
  /** From how far off it comes at the most before it is clear of what it joins, mm. */
  readonly travel: number;
  /** What goes together in this one move. */
  readonly engages: readonly Engagement[];
  /** How many separate things must be held in place at once. */
  readonly hands: number;
  /** The step in plain words. */
  readonly text: string;
}

/** A part that cannot be taken from the whole piece by itself, and the parts that keep it in. */
export interface CaptivePart {
  readonly part: string;
  readonly keptBy: readonly string[];
}

/** An order in which a piece can be put together. Plain data. */
export interface AssemblyPlan {
  readonly kind: 'assembly-plan';
  readonly steps: readonly PlannedStep[];
  /** The most hands that any step needs. */
  readonly hands: number;
  readonly captive: readonly CaptivePart[];
}

/** A way of parting a set: some of it goes off along a direction. */
interface Parting {
  readonly moving: readonly number[];
  readonly rest: readonly number[];
  /** The number of the direction in which `moving` leaves. */
  readonly direction: number;
  readonly hands: number;
}

/** The connected groups within a set. */
function groups(set: readonly number[], joined: Blocking['joined']): number[][] {
  return strongComponents(set.length, (i) =>
    set.flatMap((_, k) => (k !== i && joined(set[i]!, set[k]!) ? [k] : [])),
  ).map((g) => g.map((i) => set[i]!));
}

/** The least sets that can leave along a direction: a part with all that would be pushed, and what those push. */
function leavingSets(set: readonly number[], d: number, b: Blocking): number[][] {
  const next = set.map((i) => set.flatMap((k, at) => (k !== i && b.travel(i, k, d) < Infinity ? [at] : [])));
  const closures: Set<number>[] = [];
  const of = new Map<number, Set<number>>();
  for (const component of strongComponents(set.length, (i) => next[i]!)) {
    const closure = new Set(component);
    for (const i of component) for (const k of next[i]!) for (const m of of.get(k) ?? []) closure.add(m);
    for (const i of component) of.set(i, closure);
    closures.push(closure);
  }
  return closures.map((c) => [...c].sort((x, y) => x - y).map((i) => set[i]!));
}

/** The best way of parting a set: fewest hands, then the smaller part of it moved, then the order of directions. */
function partingOf(set: readonly number[], b: Blocking): Parting | undefined {
  let best: Parting | undefined;
  // Nothing is better than one part moved onto one thing; later directions could only draw level.
  for (let d = 0; d < b.directions.length && !(best?.hands === 2 && best.moving.length === 1); d++)
    for (const leaving of leavingSets(set, d, b)) {
      if (leaving.length === set.length) continue;
      const away = new Set(leaving);
      const others = set.filter((i) => !away.has(i));
      const hands = groups(leaving, b.joined).length + groups(others, b.joined).length;
      const swap = others.length < leaving.length;
      const parting: Parting = swap
        ? {
            moving: others,
            rest: leaving,
            direction: b.directions.findIndex((e) => dot(e, b.directions[d]!) < -1 + 1e-6),
            hands,
          }
        : { moving: leaving, rest: others, direction: d, hands };
      if (!best || before(parting, best)) best = parting;
    }
  return best;
}

const before = (a: Parting, b: Parting): boolean => {
  const by = a.hands - b.hands || a.moving.length - b.moving.length || a.direction - b.direction;
  if (by !== 0) return by < 0;
  for (let i = 0; i < a.moving.length; i++)
    if (a.moving[i] !== b.moving[i]) return a.moving[i]! < b.moving[i]!;
  return false;
};

/** How far apart along a direction two plates must go before their boxes are past each other. */
function clearOf(piece: StandingPiece, b: Blocking, p: Parting): number {
  const d = b.directions[p.direction]!;
  let most = 0;
  const reach = (i: number, way: 1 | -1): number => {
    const { box } = piece.solids[i]!;
    return [0, 1, 2].reduce((sum, k) => {
      const high = way * d[k]! > 0 ? box[1][k]! : box[0][k]!;
      return sum + high * d[k]!;
    }, 0);
  };
  for (const i of p.moving)
    for (const k of p.rest) if (b.joined(i, k)) most = Math.max(most, reach(k, 1) - reach(i, -1));
  return Math.round(most * 1e4) / 1e4;
}

const words = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

function stepOf(piece: StandingPiece, b: Blocking, p: Parting, step: number): PlannedStep {
  const id = (i: number): string => piece.solids[i]!.id;
  const moving = p.moving.map(id);
  const fixed = p.rest.map(id);
  const direction = directionName(back(b.directions[p.direction]!));
  const solid = new Map(piece.solids.map((s) => [s.id, s]));
  const engages = piece.mates
    .filter(
      (m) =>
        (moving.includes(m.slotPart) && fixed.includes(m.enteringPart)) ||
        (fixed.includes(m.slotPart) && moving.includes(m.enteringPart)),
    )
    .map(
      (m): Engagement => ({
        joint: m.id,
        features: placesOf(m, solid.get(m.enteringPart)!, solid.get(m.slotPart)!).places.map(
          (x) => x.feature,
        ),
      }),
    );
  const features = engages.reduce((sum, e) => sum + e.features.length, 0);
  const partners = fixed.filter((f) =>
    piece.mates.some(
      (m) =>
        (m.slotPart === f && moving.includes(m.enteringPart)) ||
        (m.enteringPart === f && moving.includes(m.slotPart)),
    ),
  );
  const what = moving.length > 1 ? `${words(moving)}, put together,` : words(moving);
  const goal = partners.length > 0 ? `onto ${words(partners)}` : 'into its place beside the others';
  const together = features > 1 ? `; ${features} places engage in this one move` : '';
  const held = p.hands > 2 ? `; ${p.hands} separate things must be held` : '';
  return {
    step,
    moving,
    fixed,
    direction,
    travel: clearOf(piece, b, p),
    engages,
    hands: p.hands,
    text: `Move ${what} ${direction} ${goal}${together}${held}.`,
  };
}

/** What keeps each part in the whole piece: along the direction in which the fewest others are in its way. */
function captives(piece: StandingPiece, b: Blocking): CaptivePart[] {
  const all = piece.solids.map((_, i) => i);
  return all.flatMap((i) => {
    let least: number[] | undefined;
    for (let d = 0; d < b.directions.length; d++) {
      const inTheWay = all.filter((k) => k !== i && b.travel(i, k, d) < Infinity);
      if (!least || inTheWay.length < least.length) least = inTheWay;
    }
    return least!.length === 0
      ? []
      : [{ part: piece.solids[i]!.id, keptBy: least!.map((k) => piece.solids[k]!.id) }];
  });
}

/** Finds an order for a piece that stands without overlap; see `assemblyOrder`. */
export function planAssembly(piece: StandingPiece, run: DryRun): Outcome<AssemblyPlan> {
  const b = blockingOf(piece);
  const partings: Parting[] = [];
  const problems: Diagnostic[] = [];
  let goOn = true;
  // Taken apart from the whole; put together in the opposite order, each half before it joins.
  const part = (set: readonly number[]): void => {
    if (set.length < 2 || !goOn) return;
    if (!run.tick()) {
      goOn = false;
      return;
    }
    const parting = partingOf(set, b);
    if (!parting) {
      problems.push(
        stuck(
          set.map((i) => piece.solids[i]!.id),
          b.directions.length,
        ),
      );
      return;
    }
    part(parting.rest);
    part(parting.moving);
    partings.push(parting);
  };
  part(piece.solids.map((_, i) => i));
  if (!goOn) return fail(stopped());
  if (problems.length > 0) return fail(...problems);
  const steps = partings.map((p, i) => stepOf(piece, b, p, i + 1));
  return ok({
    kind: 'assembly-plan',
    steps,
    hands: steps.reduce((most, s) => Math.max(most, s.hands), 1),
    captive: captives(piece, b),
  });
}

/**
 * Finds an order in which a piece can be put together, from its geometry alone: takes it apart by straight moves
 * of parts or sub-assemblies that nothing blocks all the way out, fewest hands first, and turns the order round.
 * What blocks what along a direction is a directed graph, in which a set that can leave is one that nothing leads out
 * of (Wilson and Latombe 1994, non-directional blocking graphs). Directions tried: the frames' axes, the named moves
 * and the lines in which mated planes meet. mm, world. Guarantees: each step's parts come home without touching more
 * than contact; a piece that cannot be taken apart so is refused with the set that is stuck; deterministic; plain data.
 */
export function assemblyOrder(
  from: Master | DryPiece,
  run: DryRun = { tick: () => true },
): Outcome<AssemblyPlan> {
  const { piece, problems } = standPiece(from);
  if (!piece) return fail(...problems);
  const clashes: Diagnostic[] = [];
  piece.solids.forEach((a, i) => {
    for (const b of piece.solids.slice(i + 1)) {
      const volume = volumeBetween(a, b);
      if (volume > 0) clashes.push(interference(a.id, b.id, volume));
    }
  });
  return clashes.length > 0 ? fail(...clashes) : planAssembly(piece, run);
}
