import { distance, inscribedWidth, offsetRing, type Ring, ringSegments } from '@haunch/geometry';
import type { Contour } from '@haunch/model';
import { centralEntries } from './central-entry.js';
import type { RouterPath } from './choose-router.js';
import { obstacleOf } from './clear-of.js';
import { type ClearingNode, clearingTree } from './clearing.js';
import type { Entry } from './entry.js';
import { finishFeeds } from './feeds/finish-feeds.js';
import type { FinishedPath } from './finishing.js';
import { type Path, pathLength, reversePath } from './path.js';
import type { PlanContext } from './plan-context.js';
import { cutCavity, cutRounds, finishContour } from './rounds.js';
import { speedsOf } from './speeds.js';
import { tracer } from './tracer.js';

/** Ways in among which the order of work may choose. */
const MOST_WAYS = 4;

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

/** How a cavity is cut from its middle. */
export interface CavityCut {
  readonly entry: Entry;
  /** Other ways in that are no worse. */
  readonly others: readonly Entry[];
  readonly root: ClearingNode;
  /** The ways to the contour for its finishing pass; none where it has none. */
  readonly lasts: readonly Entry[];
}

/** Finds the ways into a cavity; undefined when there is none. */
export function enterCavity(c: PlanContext, contour: Contour, r: FinishedPath): CavityCut | undefined {
  const radius = r.cutter.diameter / 2;
  const clockwise = c.direction === 'conventional';
  const rough = r.finishing?.rough ?? r;
  const width = inscribedWidth(rough.bare);
  const root = clearingTree(rough.bare, rough.path, width, radius, clockwise);
  const spine = root.children.at(-1)?.path ?? spineOf(rough.bare, rough.path, width, radius, clockwise);
  const entries = (path: RouterPath, most: number) =>
    centralEntries(
      path.path,
      spine,
      {
        own: obstacleOf([path.bare]),
        radius,
        mating: c.mating,
        wasteLeft: c.direction === 'climb',
        reliefs: contour.reliefs.map((f) => f.centre),
      },
      most,
    );
  const [entry, ...others] = entries(rough, MOST_WAYS);
  const lasts = r.finishing === undefined ? [] : entries(r, MOST_WAYS);
  if (entry === undefined || (r.finishing !== undefined && lasts.length === 0)) return undefined;
  return { entry, others, root, lasts };
}

/** The finishing pass is begun, and the cut ends, where that is nearest to where roughing ended. */
const nearest = (lasts: readonly Entry[], { from }: Entry): Entry | undefined =>
  lasts.reduce<Entry | undefined>(
    (best, e) => (best !== undefined && distance(best.from, from) <= distance(e.from, from) ? best : e),
    undefined,
  );

/** The moves from the best way in, and from the others. */
export function cutFromMiddle(c: PlanContext, r: FinishedPath, cut: CavityCut, depths: readonly number[]) {
  const make = (entry: Entry) => ({
    tabs: [],
    moves: cutFrom(c, r, cut, entry, nearest(cut.lasts, entry), depths),
  });
  const ways = cut.others.map((entry) => ({
    start: entry.from,
    end: (nearest(cut.lasts, entry) ?? entry).from,
    make: () => make(entry),
  }));
  return { ...make(cut.entry), ways };
}

function cutFrom(
  c: PlanContext,
  r: FinishedPath,
  { root }: CavityCut,
  entry: Entry,
  last: Entry | undefined,
  depths: readonly number[],
) {
  const own = obstacleOf([r.bare]);
  const speeds = speedsOf(r.cutter, c.machine);
  const t = tracer(entry.from, c.machine.clearance, speeds);
  if (root.children.length === 0) cutRounds(t, entry, depths, r.cutter, own);
  else cutCavity(t, root, entry, depths, r.cutter, own);
  if (last !== undefined && r.finishing !== undefined)
    finishContour(t, last, depths.at(-1)!, {
      mating: c.mating,
      feeds: finishFeeds(r.cutter, c.machine, r.finishing.stock),
      wasteLeft: c.direction === 'climb',
      own,
      radius: r.cutter.diameter / 2,
    });
  t.up();
  return t.moves;
}
