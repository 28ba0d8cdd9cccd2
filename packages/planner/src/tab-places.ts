import { distance, type Point } from '@haunch/geometry';
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
  /** The way in and out of the contour. */
  readonly zone: Path;
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

function candidates(path: Path, r: TabRules, figures: TabFigures, arcs: boolean): TabPlace[] {
  const margin = Math.max(figures.margin, r.holding.tabWidth / 2 + r.corner);
  const out: TabPlace[] = [];
  const zone = r.zone.flatMap(pointsOn);
  const away = figures.flat / 2 + r.diameter / 2 + 1;
  let before = 0;
  for (const s of path) {
    const length = segmentLength(s);
    const fits = s.kind === 'line' || (arcs && s.radius > TAB_ARC_RADIUS);
    if (s.tag !== undefined && !r.mating.has(s.tag) && fits) {
      const room = length - 2 * margin;
      const count = room < 0 ? 0 : Math.max(1, Math.round(room / STEP));
      for (let i = 0; i <= count && room >= 0; i++) {
        const along = margin + (room * i) / count;
        const at = pointAlong(s, along);
        const waste = leftOf(directionAlong(s, along));
        const beyond = moved(at, waste, (r.wasteLeft ? 1 : -1) * (r.diameter / 2 + BEYOND));
        const near = zone.some((z) => distance(z, at) < away);
        if (!near && r.holds(beyond)) out.push({ along: before + along, at, beyond, edge: s.tag });
      }
    }
    before += length;
  }
  return out;
}

/** Its ends and seven places between them. */
const pointsOn = (s: Path[number]): Point[] => {
  const length = segmentLength(s);
  return Array.from({ length: 9 }, (_, i) => pointAlong(s, (length * i) / 8));
};

const apart = (a: number, b: number, round: number): number => {
  const d = Math.abs(a - b) % round;
  return Math.min(d, round - d);
};

/** The choice whose members lie nearest to `wanted` even places, over many phases. */
function evenly(
  all: readonly TabPlace[],
  wanted: number,
  round: number,
  least: number,
): TabPlace[] | undefined {
  let best: { places: TabPlace[]; cost: number } | undefined;
  const pitch = round / wanted;
  const phases = 64;
  for (let k = 0; k < phases; k++) {
    const places: TabPlace[] = [];
    let cost = 0;
    for (let i = 0; i < wanted; i++) {
      const ideal = (pitch * k) / phases + pitch * i;
      let pick: TabPlace | undefined;
      let gap = Infinity;
      for (const c of all) {
        const g = apart(c.along, ideal, round);
        if (!(g < gap - 1e-9) || !places.every((p) => apart(p.along, c.along, round) >= least)) continue;
        pick = c;
        gap = g;
      }
      if (pick === undefined) break;
      places.push(pick);
      cost += gap * gap;
      if (best !== undefined && cost >= best.cost - 1e-9) break;
    }
    if (places.length === wanted && (best === undefined || cost < best.cost - 1e-9)) best = { places, cost };
  }
  return best?.places;
}

/** As many as fit, one after the other. */
function packed(all: readonly TabPlace[], round: number, least: number): TabPlace[] {
  const out: TabPlace[] = [];
  for (const c of all) if (out.every((p) => apart(p.along, c.along, round) >= least)) out.push(c);
  return out;
}

/**
 * Places for `wanted` tabs round a closed path, spread as evenly as its free edges allow: on straight edges that
 * no other plate touches (on flat arcs where there is nothing else), away from corners, reliefs and the way in.
 * Answers with fewer than wanted when there is no room; the caller must refuse them.
 */
export function tabPlaces(path: Path, wanted: number, r: TabRules): TabPlace[] {
  if (wanted === 0) return [];
  const figures = tabFigures(r.holding, r.diameter, r.rise);
  const round = pathLength(path);
  const least = figures.lifted + 1;
  let most: TabPlace[] = [];
  for (const arcs of [false, true]) {
    const all = candidates(path, r, figures, arcs);
    const dense = packed(all, round, least);
    // One after the other misses the most that fit by one at the most.
    const places =
      (dense.length + 1 < wanted ? undefined : evenly(all, wanted, round, least)) ??
      (dense.length >= wanted ? dense.slice(0, wanted) : undefined);
    if (places !== undefined) return places.sort((a, b) => a.along - b.along);
    if (dense.length > most.length) most = dense;
  }
  return most;
}
