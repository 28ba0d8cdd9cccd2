import { type Point, type Ring, ringArea, ringBounds, ringSegments } from '@haunch/geometry';
import { type Board, type Diagnostic, type Tab, type Trim, tabsWanted } from '@haunch/model';
import { edgesOf } from './check-layout.js';
import { obstacleOf, tooNear } from './clear-of.js';
import { depthPasses } from './depth-passes.js';
import * as say from './diagnostics.js';
import { areaOver } from './forces/area-over.js';
import { HOLD_SAFETY, plateWeight, tabsAgainst } from './forces/hold-down.js';
import { passForce, passThicknesses } from './forces/pass-force.js';
import { BEYOND_EDGE } from './open-edges.js';
import type { Operation } from './operation.js';
import { line } from './path.js';
import { throughDepth } from './plan-context.js';
import { type CutDirection, hardestOf, type PlanInput } from './plan-input.js';
import { cutContour, type StandingTabs } from './rounds.js';
import { speedsOf } from './speeds.js';
import { type TabPlace, tabFigures } from './tab-places.js';
import { tracer } from './tracer.js';

/** More tabs than this are not made for the force alone. */
const MOST_TABS = 12;

/** The name that a board's trimming cut of this number bears in the workplan. */
export const trimName = (index: number): string => `trim-${index + 1}`;

/** A trimming cut as it lies on its board: where the cutter's centre runs, and how much sheet it frees. mm */
interface Line {
  readonly from: Point;
  readonly to: Point;
  /** Along which the kerf lies in the sheet, from `from`. */
  readonly wood: readonly [number, number];
  /** Of the sheet on the waste side. */
  readonly area: number;
}

/** Where the line x = at (or y = at) runs through a board: from its least to its greatest coordinate along it. */
function within(outline: Ring, along: 'x' | 'y', at: number): readonly [number, number] | undefined {
  const across = along === 'y' ? 'x' : 'y';
  const met = ringSegments(outline).flatMap(({ from: a, to: b }) => {
    const [p, q] = [a[across], b[across]];
    if (p === q || (p - at) * (q - at) > 0) return [];
    return [a[along] + ((b[along] - a[along]) * (at - p)) / (q - p)];
  });
  return met.length < 2 ? undefined : [Math.min(...met), Math.max(...met)];
}

/**
 * The way of a cutter along a trimming cut: beside the finished edge, on the waste's side of it, in from beyond the sheet and out beyond it.
 * Travelled so that what is kept lies right of it for climb and left for conventional. Undefined where the cut would miss the sheet.
 */
function lineOf(
  { along, at, waste }: Trim,
  { outline }: Pick<Board, 'outline'>,
  radius: number,
  direction: CutDirection,
): Line | undefined {
  const box = ringBounds(outline);
  const [least, most] = along === 'y' ? [box.minX, box.maxX] : [box.minY, box.maxY];
  if (at <= least || at >= most) return undefined;
  const centre = at + (waste === 'above' ? radius : -radius);
  const span = within(outline, along, Math.min(most - 1e-6, Math.max(least + 1e-6, centre)));
  if (span === undefined) return undefined;
  const beyond = radius + BEYOND_EDGE;
  const place = (v: number): Point => (along === 'y' ? { x: centre, y: v } : { x: v, y: centre });
  // Along +Y what lies at greater X is on the right; along +X what lies at less Y is.
  const keptRight = (waste === 'above') === (along === 'x');
  const rising = keptRight === (direction === 'climb');
  const [a, b] = rising ? [span[0] - beyond, span[1] + beyond] : [span[1] + beyond, span[0] - beyond];
  const half: readonly [number, number, number, number] =
    along === 'y'
      ? waste === 'above'
        ? [at, box.minY, box.maxX, box.maxY]
        : [box.minX, box.minY, at, box.maxY]
      : waste === 'above'
        ? [box.minX, at, box.maxX, box.maxY]
        : [box.minX, box.minY, box.maxX, at];
  return {
    from: place(a),
    to: place(b),
    wood: [beyond, beyond + span[1] - span[0]],
    area: Math.min(ringArea(outline), areaOver(outline, [half])),
  };
}

/** Tabs spread evenly over a straight cut; fewer than wanted where they have no room. */
function tabsOn(
  { from, to, wood }: Line,
  wanted: number,
  margin: number,
  apart: number,
  edge: string,
): TabPlace[] {
  const [start, end] = [wood[0] + margin, wood[1] - margin];
  const fit = end < start ? 0 : Math.min(wanted, 1 + Math.floor((end - start) / apart + 1e-9));
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  return Array.from({ length: fit }, (_, i) => {
    const along = fit === 1 ? (start + end) / 2 : start + ((end - start) * (i + 0.5)) / fit;
    const t = along / length;
    const at = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
    return { along, at, beyond: at, edge };
  });
}

/**
 * The trimming cuts that a board asks for: straight through the sheet from edge to edge, in passes that each come in from beyond the sheet and
 * leave it, the off-cut left hanging on tabs. Refused where a cut misses the sheet, would cut into a part, has no router that goes
 * through the sheet, or no room for its tabs.
 */
export function planTrims(
  input: PlanInput,
  direction: CutDirection,
): { readonly operations: Operation[]; readonly diagnostics: Diagnostic[] } {
  const { board, items, machine, holding, cutters } = input;
  // An off-cut hangs on tabs even where parts lie on a skin.
  const { skin: _, ...tabbed } = holding;
  const operations: Operation[] = [];
  const diagnostics: Diagnostic[] = [];
  const refuse = (d: Diagnostic): void => void diagnostics.push(d);
  const depth = throughDepth(board, machine);
  const cutter = cutters.find(
    (c) => c.kind === 'router' && c.fluteLength >= depth && depthPasses(depth, c).neededFirst === null,
  );
  for (const [i, trim] of (board.trims ?? []).entries()) {
    const id = trimName(i);
    const w = { item: id, feature: `${id}.cut`, board: board.id };
    if (cutter === undefined) {
      refuse(say.noRouterThrough(w, depth));
      continue;
    }
    const radius = cutter.diameter / 2;
    const way = lineOf(trim, board, radius, direction);
    if (way === undefined) {
      refuse(say.trimOffBoard(w, trim.along, trim.at));
      continue;
    }
    const run = line(way.from, way.to);
    const hit = items.find((p) => tooNear(run, obstacleOf(edgesOf(p)), radius - 0.001) !== undefined);
    if (hit !== undefined) {
      refuse(say.trimIntoPart(w, hit.item, trim.along, trim.at));
      continue;
    }
    const { depths } = depthPasses(depth, cutter);
    const length = way.wood[1] - way.wood[0];
    const least = tabsWanted(tabbed, length);
    const { peak } = passForce(cutter, machine, Math.max(...passThicknesses(depths)), hardestOf(input));
    const { tabWidth: width, tabHeight: height, tabStrength } = holding;
    const byForce = tabsAgainst(
      peak,
      plateWeight(way.area, board.thickness),
      { width, height },
      0,
      HOLD_SAFETY,
      tabStrength,
    );
    const figures = tabFigures(holding, cutter.diameter, depth - board.thickness + height);
    const places = tabsOn(
      way,
      Math.max(least, Math.min(MOST_TABS, byForce)),
      figures.margin,
      figures.lifted + 1,
      `${id}.edge`,
    );
    if (places.length < least) {
      refuse(say.noRoomForTabs(w, least, places.length, figures.lifted, figures.margin));
      continue;
    }
    const t = tracer(way.from, machine.clearance, speedsOf(cutter, machine));
    const tabs: StandingTabs = { places, top: height - board.thickness, holding, diameter: cutter.diameter };
    depths.forEach((d, k) => {
      if (k > 0) t.over(way.from);
      t.down(-d);
      cutContour(t, [run], -d, tabs);
    });
    t.up();
    operations.push({
      kind: 'trimming',
      item: id,
      feature: w.feature,
      cutter,
      area: way.area,
      depths,
      tabs: places.map(({ at, edge }): Tab => ({ at, width, height, edge })),
      slug: null,
      moves: t.moves,
      encloses: [],
    });
  }
  return { operations, diagnostics };
}
