import { distance, type Point, pointInRing, ringArea, ringPerimeter } from '@haunch/geometry';
import { type Contour, type Tab, tabsWanted } from '@haunch/model';
import { distanceTo, obstacleOf } from './clear-of.js';
import { depthPasses } from './depth-passes.js';
import type { Entry } from './entry.js';
import { finishFeeds } from './feeds/finish-feeds.js';
import type { FinishedPath } from './finishing.js';
import { finishingPath } from './finishing-path.js';
import { HOLD_SAFETY, plateWeight, tabsAgainst, vacuumCapacity } from './forces/hold-down.js';
import { passForce, passThicknesses } from './forces/pass-force.js';
import { nearestOnPath, startNearest } from './nearest-on-path.js';
import type { Way } from './operation.js';
import { type PlanContext, throughDepth } from './plan-context.js';
import { SEEN_CORNER } from './practice.js';
import { cutRounds, finishContour, goTo, type StandingTabs } from './rounds.js';
import { type Surroundings, sideEntries } from './side-entry.js';
import { speedsOf } from './speeds.js';
import { type TabFinder, type TabPlace, tabFinder } from './tab-places.js';
import { descent, tracer } from './tracer.js';

/** Ways in that are tried until the tabs find room as well. */
const ENTRIES_TRIED = 24;
/** Ways in among which the order of work may choose, and how far apart they lie, mm. */
const MOST_WAYS = 4;
const WAYS_APART = 40;
/** More tabs than this are not made for the force alone. */
const MOST_TABS = 12;

interface HeldBy {
  readonly entry: Entry;
  readonly places: readonly TabPlace[];
}

/** The way in and the tabs of a held piece. */
export interface Held extends HeldBy {
  readonly unsupported: number;
  /** Nearer to a corner of a part with a seen face than is wanted. */
  readonly atCorner: boolean;
  /** Other entries that are no worse. */
  readonly others: readonly HeldBy[];
}

const waysBy = (others: readonly HeldBy[], make: (h: HeldBy) => ReturnType<Way['make']>): Way[] =>
  others.map((h) => ({ start: h.entry.from, end: h.entry.from, make: () => make(h) }));

/** How a held piece is cut: the best way, and others that are no worse. */
export const waysOf = (c: PlanContext, r: FinishedPath, held: Held, depths: readonly number[]) => {
  const make = (h: HeldBy) => ({ tabs: tabsOf(h.places, c), moves: cutHeld(c, r, h, depths) });
  return { ...make(held), ways: waysBy(held.others, make) };
};

/** The way by which the skin under a piece is entered, from `from` below the sheet's top to `depth`. */
const waySkin = ({ cutter }: FinishedPath, entry: Entry, from: number, depth: number) =>
  entry.descend((depth - from) / Math.tan(cutter.rampAngle));

/** How the skin under a piece is cut: once round at full depth, which finishes its walls as well. */
export const freeingWays = (c: PlanContext, r: FinishedPath, held: Held, from: number, depth: number) => {
  const make = ({ entry }: HeldBy) => ({ tabs: [], moves: cutSkin(c, r, entry, from, depth) });
  return { ...make(held), ways: waysBy(held.others, make) };
};

function cutSkin(c: PlanContext, r: FinishedPath, entry: Entry, from: number, depth: number) {
  const { cutter, finishing } = r;
  const speeds = speedsOf(cutter, c.machine);
  const t = tracer(entry.from, c.machine.clearance, speeds);
  t.down(-from);
  const way = waySkin(r, entry, from, depth);
  t.follow(way, descent(way, -from, -depth));
  t.follow(entry.leadIn, -depth);
  if (finishing === undefined) t.follow(entry.path, -depth);
  else {
    const { path, corners } = finishingPath(entry.path, c.mating, c.direction === 'climb');
    // The skin is cut everywhere, so no stretch is idle.
    const { wall, corner } = finishFeeds(cutter, c.machine, finishing.stock);
    const along = Math.min(wall, speeds.cut);
    t.follow(path, -depth, (s) => (corners.has(s) ? Math.min(corner, along) : along));
  }
  t.follow(entry.leadOut, -depth);
  t.up();
  return t.moves;
}

const tabsOf = (places: readonly TabPlace[], c: PlanContext): Tab[] =>
  places.map(({ at, edge }) => ({
    at,
    width: c.holding.tabWidth,
    height: c.holding.tabHeight,
    edge,
  }));

/** A loose piece cut round and left hanging on its tabs; the fewest found places when there is no room. */
export function holdBy(
  c: PlanContext,
  contour: Contour,
  r: FinishedPath,
  depth: number,
  side: 'inside' | 'outside',
): Held | { readonly found: number | null } {
  const { cutter } = r;
  const radius = cutter.diameter / 2;
  const wasteLeft = c.direction === 'climb';
  const surroundings: Surroundings = {
    own: obstacleOf([r.bare]),
    others: c.others,
    keepOuts: c.keepOuts,
    keepOff: Math.max(radius, c.machine.hoodRadius ?? 0),
    radius,
    mating: c.mating,
    wasteLeft,
    reliefs: contour.reliefs.map((f) => f.centre),
    reach: {
      minX: c.machine.envelope.x[0],
      maxX: c.machine.envelope.x[1],
      minY: c.machine.envelope.y[0],
      maxY: c.machine.envelope.y[1],
    },
  };
  const first = depthPasses(depth, cutter).depths[0]!;
  // Slots that are cut on their own belong to the outline all the same.
  const whole = side === 'outside' ? c.placed.part.outline.bare : r.bare;
  const least = tabsWanted(c.holding, ringPerimeter(whole));
  const rise = depth - c.board.thickness + c.holding.tabHeight;
  // Beyond an outline's kerf there must stand something that no neighbour's kerf takes away.
  const supported = (p: Point) =>
    side === 'inside' ||
    (pointInRing(c.board.outline, p) === 'inside' &&
      distanceTo(c.others, p) >= cutter.diameter + 1 &&
      distanceTo(surroundings.own, p) >= cutter.diameter + 0.99);
  const seen = side === 'outside' && c.placed.part.showFace !== null;
  const finder = (strict: boolean, corner: number): TabFinder =>
    tabFinder({
      holding: c.holding,
      diameter: cutter.diameter,
      rise,
      mating: c.mating,
      wasteLeft,
      corner,
      holds: strict ? supported : () => true,
    });
  const corners = seen ? [SEEN_CORNER, 0] : [0];
  const grades = corners.flatMap((corner) =>
    [true, false].map((strict) => ({ corner, strict, places: finder(strict, corner) })),
  );
  // What falls out of an opening has another way, chips, so no way in is looked for where no tabs have room.
  const anywhere = side === 'inside' ? grades.at(-1)!.places(r.path, [], least).length : least;
  if (anywhere + 1 < least) return { found: anywhere };
  // A descent along the wall would touch it with the up-cut edges of a compression cutter alone.
  const entries = sideEntries(r.path, surroundings, first / Math.tan(cutter.rampAngle) / 2).filter(
    (e) => !e.onWall || cutter.upCutLength === null,
  );
  if (entries.length === 0) return { found: null };
  const strong = c.holding.skin === undefined ? Math.max(least, tabsByForce(c, r, depth)) : 0;
  let most = 0;
  // As many as force and weight ask for, where there is room; as many as the job asks for in any case.
  for (const wanted of strong > least ? [strong, least] : [least])
    for (const { corner, strict, places: placesFor } of grades)
      for (const entry of entries.slice(0, ENTRIES_TRIED)) {
        const places = placesFor(entry.path, entry.zone, wanted);
        if (places.length < wanted) {
          most = Math.max(most, places.length);
          continue;
        }
        const doubtful = (found: readonly TabPlace[]) =>
          strict ? 0 : found.filter((p) => !supported(p.beyond)).length;
        const unsupported = doubtful(places);
        // What a skin holds is freed where its contour was entered, for elsewhere the way in still stands.
        const free = entry.onWall || c.holding.skin !== undefined ? [] : alike(entry, entries);
        const others = free.flatMap((e) => {
          const found = placesFor(e.path, e.zone, wanted);
          return found.length >= wanted && doubtful(found) <= unsupported
            ? [{ entry: e, places: found }]
            : [];
        });
        return { entry, places, unsupported, others, atCorner: seen && corner === 0 };
      }
  return { found: most };
}

/** Tabs that the force of the deepest pass and the weight of the piece ask for, less what vacuum holds. */
function tabsByForce(c: PlanContext, r: FinishedPath, depth: number): number {
  const { tabWidth: width, tabHeight: height, vacuum, tabStrength } = c.holding;
  const area = ringArea(r.bare);
  const last = Math.max(...passThicknesses(depthPasses(depth, r.cutter).depths));
  const { peak } = passForce(r.cutter, c.machine, last, c.energy);
  const sucked = vacuum === undefined ? 0 : vacuumCapacity(area, vacuum.pressure, vacuum.friction);
  return Math.min(
    MOST_TABS,
    tabsAgainst(
      peak,
      plateWeight(area, c.board.thickness),
      { width, height },
      sucked,
      HOLD_SAFETY,
      tabStrength,
    ),
  );
}

/** Entries of the same grade, a few: each the farthest from those before it, so that they lie all round. */
function alike(entry: Entry, all: readonly Entry[]): Entry[] {
  const left = all.filter((e) => e.grade === entry.grade && e !== entry);
  const gaps = left.map((e) => distance(e.from, entry.from));
  const chosen: Entry[] = [];
  while (chosen.length + 1 < MOST_WAYS) {
    const i = gaps.reduce((best, gap, k) => (gap > gaps[best]! ? k : best), 0);
    if (!(gaps[i]! >= WAYS_APART)) break;
    const next = left[i]!;
    chosen.push(next);
    left.forEach((e, k) => {
      gaps[k] = Math.min(gaps[k]!, distance(e.from, next.from));
    });
  }
  return chosen;
}

function cutHeld(c: PlanContext, r: FinishedPath, held: HeldBy, depths: readonly number[]) {
  const { cutter, finishing } = r;
  const speeds = speedsOf(cutter, c.machine);
  const t = tracer(held.entry.from, c.machine.clearance, speeds);
  const tabs: StandingTabs = {
    places: held.places,
    top: c.holding.tabHeight - c.board.thickness,
    holding: c.holding,
    diameter: cutter.diameter,
  };
  const own = obstacleOf([r.bare]);
  if (finishing === undefined) cutRounds(t, held.entry, depths, cutter, own, tabs);
  else {
    // Entries and tabs are on walls that mate with nothing: there both paths are one.
    const path = startNearest(finishing.rough.path, held.entry.path[0]!.from);
    const places = held.places
      .map((p) => ({ ...p, along: nearestOnPath(path, p.at).total }))
      .sort((a, b) => a.along - b.along);
    cutRounds(t, { ...held.entry, path }, depths, cutter, own, { ...tabs, places });
    const skin = c.holding.skin !== undefined;
    const cut = {
      mating: c.mating,
      feeds: finishFeeds(cutter, c.machine, finishing.stock),
      wasteLeft: c.direction === 'climb',
      own,
      radius: cutter.diameter / 2,
    };
    // What a skin holds is finished when it is freed.
    if (!skin) finishContour(t, held.entry, depths.at(-1)!, cut, tabs);
  }
  if (c.holding.skin !== undefined) {
    // The ramps left a slope there, and nothing but the skin is to be cut once pieces come free.
    const [from, through] = [depths.at(-1)!, throughDepth(c.board, c.machine)];
    goTo(t, held.entry.from, -from, own, cutter.diameter / 2);
    t.follow(waySkin(r, held.entry, from, through), -from);
  }
  t.up();
  return t.moves;
}
