import type { Point } from '@haunch/geometry';
import type { Holding } from '@haunch/model';
import { directionAlong, leftOf, moved, type Path, pathLength, pointAlong, segmentLength } from './path.js';
import { TAB_ARC_RADIUS, TAB_MARGIN, TAB_SLOPE } from './practice.js';

/** A tab's middle on a path. */
export interface TabPlace {
  /** Distance along the path from its start, mm. */
  readonly along: number;
  readonly at: Point;
  /** The waste just beyond the kerf there. */
  readonly beyond: Point;
  readonly edge: string;
}

/** What tabs on a contour must respect. */
export interface TabRules {
  readonly holding: Holding;
  readonly diameter: number;
  /** How far the cutter rises from the deepest pass to a tab's top. */
  readonly rise: number;
  readonly mating: ReadonlySet<string>;
  /** Whether the waste just beyond the kerf holds a tab there. */
  holds(beyond: Point): boolean;
  readonly wasteLeft: boolean;
  /** From a tab's edge to the end of its edge at the least, mm. */
  readonly corner: number;
}

/** The figures of a tab on a path, mm. */
export interface TabFigures {
  /** Length over which the cutter runs at the tab's top: what stands, and the cutter's diameter. */
  readonly flat: number;
  /** From where it leaves the deepest pass to where it is back there. */
  readonly lifted: number;
  /** From a tab's middle to the end of its edge's path. */
  readonly margin: number;
}

/**
 * A flat cutter of diameter D leaves standing, between kerf walls, what no position of its disc covers; where
 * its tip is at the tab's top over `tabWidth + D`, at least `tabWidth` stands at full height, and lower down the
 * slopes only add to it.
 */
export function tabFigures(holding: Holding, diameter: number, rise: number): TabFigures {
  const flat = holding.tabWidth + diameter;
  const lifted = flat + (2 * rise) / Math.tan(TAB_SLOPE);
  return {
    flat,
    lifted,
    margin: Math.max(holding.tabWidth / 2 + TAB_MARGIN + diameter, lifted / 2 + 0.5),
  };
}

/** How far beyond the kerf the waste is asked for, mm. */
const BEYOND = 1;
/** Distance between places that are considered, mm. */
const STEP = 4;

/** A place on a segment that might carry a tab, the way in not asked. */
interface Spot {
  /** From the segment's start, mm. */
  readonly along: number;
  readonly at: Point;
  readonly beyond: Point;
}

/** The places of one segment that might carry tabs. */
function spotsOn(s: Path[number], r: TabRules, figures: TabFigures): Spot[] {
  const length = segmentLength(s);
  const margin = Math.max(figures.margin, r.holding.tabWidth / 2 + r.corner);
  const room = length - 2 * margin;
  if (s.tag === undefined || r.mating.has(s.tag) || room < 0) return [];
  const count = Math.max(1, Math.round(room / STEP));
  return Array.from({ length: count + 1 }, (_, i) => {
    const along = margin + (room * i) / count;
    const at = pointAlong(s, along);
    const waste = leftOf(directionAlong(s, along));
    const beyond = moved(at, waste, (r.wasteLeft ? 1 : -1) * (r.diameter / 2 + BEYOND));
    return { along, at, beyond };
  }).filter(({ beyond }) => r.holds(beyond));
}

/** Its ends and seven places between them. */
const pointsOn = (s: Path[number]): Point[] => {
  const length = segmentLength(s);
  return Array.from({ length: 9 }, (_, i) => pointAlong(s, (length * i) / 8));
};

/** Those that keep `away` from the points of a zone. */
function awayFrom(zone: Path, away: number, all: readonly TabPlace[]): TabPlace[] {
  const kept = zone.flatMap(pointsOn);
  const [minX, maxX] = [Math.min(...kept.map((z) => z.x)) - away, Math.max(...kept.map((z) => z.x)) + away];
  const [minY, maxY] = [Math.min(...kept.map((z) => z.y)) - away, Math.max(...kept.map((z) => z.y)) + away];
  return all.filter(
    ({ at: p }) =>
      p.x <= minX ||
      p.x >= maxX ||
      p.y <= minY ||
      p.y >= maxY ||
      kept.every((z) => (z.x - p.x) ** 2 + (z.y - p.y) ** 2 >= away * away),
  );
}

const apart = (a: number, b: number, round: number): number => {
  const d = Math.abs(a - b) % round;
  return Math.min(d, round - d);
};

/** Whether a place keeps `least` from all that are taken. */
function isFree(along: number, taken: readonly number[], round: number, least: number): boolean {
  for (let i = 0; i < taken.length; i++) if (apart(taken[i]!, along, round) < least) return false;
  return true;
}

/** Which place is nearest to `ideal` and keeps `least` from those taken; of equals the first; -1 for none. Places in order along the path. */
function nearestFree(
  all: Float64Array,
  ideal: number,
  taken: readonly number[],
  round: number,
  least: number,
): number {
  const n = all.length;
  let [low, high] = [0, n];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (all[middle]! < ideal) low = middle + 1;
    else high = middle;
  }
  // Outwards from there on both sides, round and round.
  let x = low === 0 ? n - 1 : low - 1;
  let y = low === n ? 0 : low;
  let [gx, gy] = [apart(all[x]!, ideal, round), apart(all[y]!, ideal, round)];
  for (let looked = 0; looked < n; looked++) {
    const back = Math.abs(gx - gy) > 1e-9 ? gx < gy : x < y;
    const at = back ? x : y;
    if (isFree(all[at]!, taken, round, least)) return at;
    if (back) {
      x = x === 0 ? n - 1 : x - 1;
      gx = apart(all[x]!, ideal, round);
    } else {
      y = y === n - 1 ? 0 : y + 1;
      gy = apart(all[y]!, ideal, round);
    }
  }
  return -1;
}

/** Starts of the even pitch that are tried. */
const PHASES = 64;

/** The choice whose members lie nearest to `wanted` even places, over many phases. */
function evenly(
  all: readonly TabPlace[],
  wanted: number,
  round: number,
  least: number,
): TabPlace[] | undefined {
  if (all.length === 0) return undefined;
  const alongs = Float64Array.from(all, (p) => p.along);
  let best: { places: readonly number[]; cost: number } | undefined;
  const pitch = round / wanted;
  for (let k = 0; k < PHASES; k++) {
    const places: number[] = [];
    const taken: number[] = [];
    let cost = 0;
    for (let i = 0; i < wanted; i++) {
      const ideal = (pitch * k) / PHASES + pitch * i;
      const at = nearestFree(alongs, ideal, taken, round, least);
      if (at < 0) break;
      places.push(at);
      taken.push(alongs[at]!);
      const gap = apart(alongs[at]!, ideal, round);
      cost += gap * gap;
      if (best !== undefined && cost >= best.cost - 1e-9) break;
    }
    if (places.length === wanted && (best === undefined || cost < best.cost - 1e-9)) best = { places, cost };
  }
  return best?.places.map((at) => all[at]!);
}

/** As many as fit, one after the other. Places in order along the path: the last taken and the first are the nearest. */
function packed(all: readonly TabPlace[], round: number, least: number): TabPlace[] {
  const out: TabPlace[] = [];
  for (const c of all)
    if ([out[0], out.at(-1)].every((p) => p === undefined || apart(p.along, c.along, round) >= least))
      out.push(c);
  return out;
}

/** Finds places for `wanted` tabs round a closed path whose way in and out covers `zone`. */
export type TabFinder = (path: Path, zone: Path, wanted: number) => TabPlace[];

/**
 * A finder of places for tabs, spread as evenly as the free edges of a closed path allow: on straight edges that
 * no other plate touches (on flat arcs where there is nothing else), away from corners, reliefs and the way in.
 * It answers with fewer than wanted when there is no room; the caller must refuse them. What it learns of a segment it
 * keeps, for the same contour begun elsewhere.
 */
export function tabFinder(r: TabRules): TabFinder {
  const figures = tabFigures(r.holding, r.diameter, r.rise);
  const least = figures.lifted + 1;
  const away = figures.flat / 2 + r.diameter / 2 + 1;
  const known = new Map<Path[number], readonly Spot[]>();
  const spotsOf = (s: Path[number]): readonly Spot[] => {
    const before = known.get(s);
    if (before !== undefined) return before;
    const spots = spotsOn(s, r, figures);
    known.set(s, spots);
    return spots;
  };
  const candidates = (path: Path, zone: Path, arcs: boolean): TabPlace[] => {
    const all: TabPlace[] = [];
    let before = 0;
    for (const s of path) {
      if (s.kind === 'line' || (arcs && s.radius > TAB_ARC_RADIUS))
        for (const { along, at, beyond } of spotsOf(s))
          all.push({ along: before + along, at, beyond, edge: s.tag! });
      before += segmentLength(s);
    }
    return all.length === 0 ? [] : awayFrom(zone, away, all);
  };
  return (path, zone, wanted) => {
    if (wanted === 0) return [];
    const round = pathLength(path);
    let most: TabPlace[] = [];
    const bent = path.some((s) => s.kind === 'arc' && s.radius > TAB_ARC_RADIUS);
    for (const arcs of bent ? [false, true] : [false]) {
      const all = candidates(path, zone, arcs);
      const dense = packed(all, round, least);
      // One after the other misses the most that fit by one at the most.
      const places =
        (dense.length + 1 < wanted ? undefined : evenly(all, wanted, round, least)) ??
        (dense.length >= wanted ? dense.slice(0, wanted) : undefined);
      if (places !== undefined) return places.sort((a, b) => a.along - b.along);
      if (dense.length > most.length) most = dense;
    }
    return most;
  };
}
