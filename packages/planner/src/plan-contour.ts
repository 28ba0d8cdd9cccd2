import {
  distance,
  inscribedWidth,
  offsetRing,
  type Point,
  pointInRing,
  type Ring,
  ringArea,
  ringPerimeter,
  ringSegments,
} from '@haunch/geometry';
import {
  type Contour,
  type Diagnostic,
  fail,
  type Outcome,
  ok,
  type Pocket,
  type Tab,
  tabsWanted,
} from '@haunch/model';
import { centralEntries } from './central-entry.js';
import { chooseRouter, type RouterPath } from './choose-router.js';
import { distanceTo, obstacleOf } from './clear-of.js';
import { type ClearingNode, clearingTree } from './clearing.js';
import { depthPasses } from './depth-passes.js';
import * as say from './diagnostics.js';
import type { Entry } from './entry.js';
import { plateWeight, tabsAgainst, vacuumCapacity } from './forces/hold-down.js';
import { passForce, passThicknesses } from './forces/pass-force.js';
import type { Operation } from './operation.js';
import { type Path, pathLength, reversePath } from './path.js';
import { type PlanContext, throughDepth, where } from './plan-context.js';
import { cutCavity, cutRounds, type StandingTabs } from './rounds.js';
import { type Surroundings, sideEntries } from './side-entry.js';
import { speedsOf } from './speeds.js';
import { type TabPlace, tabFigures, tabPlaces } from './tab-places.js';
import { tracer } from './tracer.js';

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

interface Held extends HeldBy {
  readonly unsupported: number;
  /** Other entries that are no worse. */
  readonly others: readonly HeldBy[];
}

/** How a held piece is cut: the best way, and others that are no worse. */
const waysOf = (c: PlanContext, r: RouterPath, held: Held, depths: readonly number[]) => {
  const make = (h: HeldBy) => ({ tabs: tabsOf(h.places, c), moves: cutHeld(c, r, h, depths) });
  return { ...make(held), ways: held.others.map((h) => ({ at: h.entry.from, make: () => make(h) })) };
};

const tabsOf = (places: readonly TabPlace[], c: PlanContext): Tab[] =>
  places.map(({ at, edge }) => ({
    at,
    width: c.holding.tabWidth,
    height: c.holding.tabHeight,
    edge,
  }));

/** A loose piece cut round and left hanging on its tabs; the fewest found places when there is no room. */
function holdBy(
  c: PlanContext,
  contour: Contour,
  r: RouterPath,
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
  const least = tabsWanted(c.holding, ringPerimeter(r.bare));
  // A descent along the wall would touch it with the up-cut edges of a compression cutter alone.
  const entries = sideEntries(r.path, surroundings, first / Math.tan(cutter.rampAngle) / 2).filter(
    (e) => !e.onWall || cutter.upCutLength === null,
  );
  if (entries.length === 0) return { found: null };
  const rise = depth - c.board.thickness + c.holding.tabHeight;
  // Beyond an outline's kerf there must stand something that no neighbour's kerf takes away.
  const supported = (p: Point) =>
    side === 'inside' ||
    (pointInRing(c.board.outline, p) === 'inside' &&
      distanceTo(c.others, p) >= cutter.diameter + 1 &&
      distanceTo(surroundings.own, p) >= cutter.diameter + 0.99);
  const placesFor = (entry: Entry, strict: boolean, wanted: number) =>
    tabPlaces(entry.path, wanted, {
      holding: c.holding,
      diameter: cutter.diameter,
      rise,
      mating: c.mating,
      zone: entry.zone,
      wasteLeft,
      holds: strict ? supported : () => true,
    });
  const strong = Math.max(least, tabsByForce(c, r, depth));
  let most = 0;
  // As many as force and weight ask for, where there is room; as many as the job asks for in any case.
  for (const wanted of strong > least ? [strong, least] : [least])
    for (const strict of [true, false])
      for (const entry of entries.slice(0, ENTRIES_TRIED)) {
        const places = placesFor(entry, strict, wanted);
        if (places.length < wanted) {
          most = Math.max(most, places.length);
          continue;
        }
        const doubtful = (found: readonly TabPlace[]) =>
          strict ? 0 : found.filter((p) => !supported(p.beyond)).length;
        const unsupported = doubtful(places);
        const others = (entry.onWall ? [] : alike(entry, entries)).flatMap((e) => {
          const found = placesFor(e, strict, wanted);
          return found.length >= wanted && doubtful(found) <= unsupported
            ? [{ entry: e, places: found }]
            : [];
        });
        return { entry, places, unsupported, others };
      }
  return { found: most };
}

/** Tabs that the force of the deepest pass and the weight of the piece ask for, less what vacuum holds. */
function tabsByForce(c: PlanContext, r: RouterPath, depth: number): number {
  const { tabWidth: width, tabHeight: height, vacuum } = c.holding;
  const area = ringArea(r.bare);
  const last = Math.max(...passThicknesses(depthPasses(depth, r.cutter).depths));
  const { peak } = passForce(r.cutter, c.machine, last);
  const sucked = vacuum === undefined ? 0 : vacuumCapacity(area, vacuum.pressure, vacuum.friction);
  return Math.min(
    MOST_TABS,
    tabsAgainst(peak, plateWeight(area, c.board.thickness), { width, height }, sucked),
  );
}

/** Entries of the same grade on other edges, some way off, a few. */
function alike(entry: Entry, all: readonly Entry[]): Entry[] {
  const chosen = [entry];
  for (const e of all) {
    if (chosen.length >= MOST_WAYS) break;
    const far = chosen.every((o) => o.edge !== e.edge && distance(o.from, e.from) >= WAYS_APART);
    if (e.grade === entry.grade && far) chosen.push(e);
  }
  return chosen.slice(1);
}

function cutHeld(c: PlanContext, r: RouterPath, held: HeldBy, depths: readonly number[]) {
  const { cutter } = r;
  const speeds = speedsOf(cutter, c.machine);
  const t = tracer(held.entry.from, c.machine.clearance, speeds);
  const tabs: StandingTabs = {
    places: held.places,
    top: c.holding.tabHeight - c.board.thickness,
    holding: c.holding,
    diameter: cutter.diameter,
  };
  cutRounds(t, held.entry, depths, cutter, obstacleOf([r.bare]), tabs);
  return t.moves;
}

/** The outline of an item: cut round on the outside, left hanging on tabs. */
export function planOutline(c: PlanContext): Outcome<Operation> {
  const contour = c.placed.part.outline;
  const depth = throughDepth(c.board, c.machine);
  const chosen = chooseRouter(c, contour, 'outside', depth);
  if (!chosen.ok) return chosen;
  const r = chosen.value;
  const notes: Diagnostic[] = [];
  const depths = depthPasses(depth, r.cutter).depths;
  const held = holdBy(c, contour, r, depth, 'outside');
  const w = where(c, contour.id);
  if (!('entry' in held)) {
    if (held.found === null) return fail(say.noEntry(w));
    const figures = tabFigures(c.holding, r.cutter.diameter, depth - c.board.thickness + c.holding.tabHeight);
    const wanted = tabsWanted(c.holding, ringPerimeter(r.bare));
    return fail(say.noRoomForTabs(w, wanted, held.found, figures.lifted, figures.margin));
  }
  if (held.entry.onWall) notes.push(say.entryOnWall(w, held.entry.from));
  if (held.unsupported > 0)
    notes.push(say.tabOnNeighbour(w, held.unsupported, held.places.length, 2 * r.cutter.diameter + 1));
  return ok(
    {
      kind: 'outside profile',
      item: c.placed.item,
      feature: contour.id,
      cutter: r.cutter,
      area: ringArea(r.bare),
      depths,
      ...waysOf(c, r, held, depths),
      slug: null,
      encloses: [],
    },
    notes,
  );
}

/** A closed path well clear of the walls of a cavity that the cutter clears without rings of its own. */
function spineOf(bare: Ring, contour: Path, width: number, radius: number, reversed: boolean): Path {
  const room = width / 2 - radius;
  let best: Path | undefined;
  for (const share of [0.9, 0.75, 0.5, 0.3]) {
    const rings = room > 0.01 ? offsetRing(bare, { by: -(radius + room * share) }) : [];
    const paths = rings.map(ringSegments).sort((a, b) => pathLength(b) - pathLength(a));
    if (paths[0] === undefined) continue;
    best = reversed ? reversePath(paths[0]) : paths[0];
    if (pathLength(best) >= 3 * radius) break;
  }
  return best ?? contour;
}

interface CavityCut {
  readonly entry: Entry;
  /** Other ways in that are no worse. */
  readonly others: readonly Entry[];
  readonly root: ClearingNode;
}

function enterCavity(c: PlanContext, contour: Contour, r: RouterPath, width: number): CavityCut | undefined {
  const radius = r.cutter.diameter / 2;
  const clockwise = c.direction === 'conventional';
  const root = clearingTree(r.bare, r.path, width, radius, clockwise);
  const lastChild = root.children.at(-1);
  const spine = lastChild?.path ?? spineOf(r.bare, r.path, width, radius, clockwise);
  const [entry, ...others] = centralEntries(
    r.path,
    spine,
    {
      own: obstacleOf([r.bare]),
      radius,
      mating: c.mating,
      wasteLeft: c.direction === 'climb',
      reliefs: contour.reliefs.map((f) => f.centre),
    },
    MOST_WAYS,
  );
  return entry === undefined ? undefined : { entry, others, root };
}

function cutFromMiddle(c: PlanContext, r: RouterPath, cut: CavityCut, depths: readonly number[]) {
  const ways = cut.others.map((entry) => ({
    at: entry.from,
    make: () => ({ tabs: [], moves: cutFrom(c, r, { ...cut, entry }, depths) }),
  }));
  return { tabs: [], moves: cutFrom(c, r, cut, depths), ways };
}

function cutFrom(c: PlanContext, r: RouterPath, cut: CavityCut, depths: readonly number[]) {
  const own = obstacleOf([r.bare]);
  const speeds = speedsOf(r.cutter, c.machine);
  const t = tracer(cut.entry.from, c.machine.clearance, speeds);
  if (cut.root.children.length === 0) cutRounds(t, cut.entry, depths, r.cutter, own);
  else cutCavity(t, cut.root, cut.entry, depths, r.cutter, own);
  return t.moves;
}

const usable = (edges: Path, mating: ReadonlySet<string>): boolean =>
  edges.some((s) => s.tag !== undefined && !mating.has(s.tag));

/** A cut through the sheet inside an item, with what becomes of the piece inside. */
export function planThrough(
  c: PlanContext,
  contour: Contour,
  kind: 'inside profile' | 'hole',
): Outcome<Operation> {
  const depth = throughDepth(c.board, c.machine);
  const chosen = chooseRouter(c, contour, 'inside', depth);
  if (!chosen.ok) return chosen;
  const r = chosen.value;
  const { cutter } = r;
  const w = where(c, contour.id);
  const notes: Diagnostic[] = [];
  const depths = depthPasses(depth, r.cutter).depths;
  const width = inscribedWidth(r.bare);
  const left = width - 2 * cutter.diameter;
  const encloses = c.enclosedBy(r.bare);
  const base = {
    kind,
    item: c.placed.item,
    feature: contour.id,
    cutter,
    area: ringArea(r.bare),
    depths,
    encloses,
  };
  let why: string | undefined;
  if (left > 0) {
    if (encloses.length === 0 && left < c.holding.clearSlugsBelow)
      why = `it is narrower than ${c.holding.clearSlugsBelow} mm`;
    else {
      const held = usable(ringSegments(r.bare), c.mating)
        ? holdBy(c, contour, r, depth, 'inside')
        : undefined;
      if (held !== undefined && 'entry' in held && !(held.entry.onWall && encloses.length === 0)) {
        if (held.entry.onWall) notes.push(say.entryOnWall(w, held.entry.from));
        return ok({ ...base, ...waysOf(c, r, held, depths), slug: 'held' }, notes);
      }
      if (encloses.length > 0) {
        const figures = tabFigures(
          c.holding,
          cutter.diameter,
          depth - c.board.thickness + c.holding.tabHeight,
        );
        const wanted = tabsWanted(c.holding, ringPerimeter(r.bare));
        const found = held !== undefined && 'found' in held ? (held.found ?? 0) : 0;
        return fail(say.noRoomForTabs(w, wanted, found, figures.lifted, figures.margin));
      }
      why = 'no edge has room for its tabs';
    }
  }
  const cut = enterCavity(c, contour, r, width);
  if (cut === undefined) return fail(say.noEntry(w));
  if (why !== undefined) notes.push(say.slugToChips(w, left, why));
  return ok(
    {
      ...base,
      ...cutFromMiddle(c, r, cut, depths),
      slug: why === undefined ? 'none' : 'cut to chips',
    },
    notes,
  );
}

/** A pocket of constant depth below the sheet's top, cleared from its middle outwards. */
export function planPocket(c: PlanContext, pocket: Pocket, kind: 'pocket' | 'hole'): Outcome<Operation> {
  const w = where(c, pocket.id);
  if (pocket.face !== c.placed.part.cutFace) return fail(say.needsTurnOver(w, pocket.bare.vertices[0]));
  if (pocket.depth >= c.board.thickness) return fail(say.tooDeep(w, pocket.depth, c.board.thickness));
  const chosen = chooseRouter(c, pocket, 'inside', pocket.depth);
  if (!chosen.ok) return chosen;
  const r = chosen.value;
  const notes: Diagnostic[] = [];
  const depths = depthPasses(pocket.depth, r.cutter).depths;
  const cut = enterCavity(c, pocket, r, inscribedWidth(r.bare));
  if (cut === undefined) return fail(say.noEntry(w));
  return ok(
    {
      kind,
      item: c.placed.item,
      feature: pocket.id,
      cutter: r.cutter,
      area: ringArea(r.bare),
      depths,
      ...cutFromMiddle(c, r, cut, depths),
      slug: null,
      encloses: [],
    },
    notes,
  );
}
