import { distance, type Point, type Segment } from '@haunch/geometry';
import type { Cutter, Holding } from '@haunch/model';
import { descendOn } from './central-entry.js';
import { type Obstacle, staysClear } from './clear-of.js';
import type { ClearingNode } from './clearing.js';
import type { Entry } from './entry.js';
import type { FinishFeeds } from './feeds/finish-feeds.js';
import { finishingPath } from './finishing-path.js';
import { nearestOnPath, startNearest } from './nearest-on-path.js';
import { line, type Path, slicePath } from './path.js';
import { type TabPlace, tabFigures } from './tab-places.js';
import { descent, type Height, type Tracer } from './tracer.js';

/** Tabs on a contour, and where their tops are. */
export interface StandingTabs {
  readonly places: readonly TabPlace[];
  /** Height of their tops in sheet coordinates, negative. mm */
  readonly top: number;
  readonly holding: Holding;
  readonly diameter: number;
}

/** Heights along a contour at a depth below the tabs' tops: up over each tab and down again. */
export function tabHeights(z: number, tabs: StandingTabs): Height[] {
  const { flat, lifted } = tabFigures(tabs.holding, tabs.diameter, tabs.top - z);
  const heights = tabs.places.flatMap(({ along }) => [
    { along: along - lifted / 2, z },
    { along: along - flat / 2, z: tabs.top },
    { along: along + flat / 2, z: tabs.top },
    { along: along + lifted / 2, z },
  ]);
  return [{ along: 0, z }, ...heights];
}

/** Once round a contour at a depth, over its tabs where the depth is below their tops. */
export function cutContour(
  t: Tracer,
  path: Path,
  z: number,
  tabs: StandingTabs | undefined,
  feedOf?: (s: Segment) => number,
): void {
  t.follow(path, tabs !== undefined && z < tabs.top - 1e-6 ? tabHeights(z, tabs) : z, feedOf);
}

/** Once round a contour whose walls were roughed, at its full depth: the stretches without stock at the feed for air. */
export function finishContour(
  t: Tracer,
  entry: Entry,
  depth: number,
  { mating, feeds, own, radius, wasteLeft }: FinishingCut,
  tabs?: StandingTabs,
): void {
  const { path, idle, corners } = finishingPath(entry.path, mating, wasteLeft);
  goTo(t, entry.from, -depth, own, radius);
  t.follow(entry.leadIn, -depth);
  cutContour(t, path, -depth, tabs, (s) =>
    idle.has(s) ? feeds.idle : corners.has(s) ? feeds.corner : feeds.wall,
  );
  t.follow(entry.leadOut, -depth);
}

/** What a finishing pass is cut with. */
export interface FinishingCut {
  readonly mating: ReadonlySet<string>;
  readonly feeds: FinishFeeds;
  readonly wasteLeft: boolean;
  readonly own: Obstacle;
  readonly radius: number;
}

/** The length of ramp that a drop needs. */
const rampLength = (drop: number, cutter: Cutter): number => drop / Math.tan(cutter.rampAngle);

/** Down to where the next pass starts: level through air already cut where that is clear, else over the sheet. */
export function goTo(t: Tracer, p: Point, cutTo: number, own: Obstacle, clear: number): void {
  const at = t.at();
  if (Math.abs(at.z - cutTo) < 1e-6) {
    if (distance(at, p) < 1e-3) return;
    if (staysClear([line(at, p)], own, clear)) {
      t.follow([line(at, p)], cutTo);
      return;
    }
  }
  t.over(p);
  t.down(cutTo);
}

/** A contour cut round and round, each pass entered by a descent that no wall feels. */
export function cutRounds(
  t: Tracer,
  entry: Entry,
  depths: readonly number[],
  cutter: Cutter,
  own: Obstacle,
  tabs?: StandingTabs,
): void {
  let z = 0;
  for (const depth of depths) {
    goTo(t, entry.from, z, own, cutter.diameter / 2);
    const way = entry.descend(rampLength(z + depth, cutter));
    t.follow(way, descent(way, z, -depth));
    z = -depth;
    t.follow(entry.leadIn, z);
    cutContour(t, entry.path, z, tabs);
    t.follow(entry.leadOut, z);
  }
}

/**
 * A cavity cleared from its middle outwards at each depth, its contour last. `entry` leads from the last of the
 * root's children to the contour.
 */
export function cutCavity(
  t: Tracer,
  root: ClearingNode,
  entry: Entry,
  depths: readonly number[],
  cutter: Cutter,
  own: Obstacle,
): void {
  const radius = cutter.diameter / 2;
  const cutNode = (node: ClearingNode, from: number, z: number, toward: Point | undefined): void => {
    for (const child of node.children)
      cutNode(child, from, z, child === node.children.at(-1) ? toward : undefined);
    if (node.children.length === 0) {
      const closed = startNearest(node.path, toward ?? node.path[0]!.from);
      goTo(t, closed[0]!.from, from, own, radius + 0.05);
      const way = descendOn(closed, rampLength(from - z, cutter));
      t.follow(way, descent(way, from, z));
      // The descent may have ended part of the way round.
      const level = startNearest(node.path, t.at());
      t.follow(level, z);
    } else {
      const at = t.at();
      const wanted = startNearest(node.path, toward ?? at);
      const direct = staysClear([line(at, wanted[0]!.from)], own, radius + 0.02);
      const closed = direct ? wanted : startNearest(node.path, at);
      t.follow([line(at, closed[0]!.from)], z);
      t.follow(closed, z);
    }
    if (toward !== undefined) {
      const rest = startNearest(node.path, t.at());
      t.follow(slicePath(rest, 0, nearestOnPath(rest, toward).total), z);
    }
  };
  let z = 0;
  for (const depth of depths) {
    for (const child of root.children)
      cutNode(child, z, -depth, child === root.children.at(-1) ? entry.from : undefined);
    z = -depth;
    t.follow(entry.leadIn, z);
    t.follow(entry.path, z);
    t.follow(entry.leadOut, z);
  }
}
