import {
  type Clip,
  flattenRing,
  type Point,
  type Polygon,
  pointRingDistance,
  pointSegmentDistance,
  ringArea,
} from '@haunch/geometry';
import type { Contour, Cutter, Place } from '@haunch/model';
import type { Plan, PlanInput } from '../src/index.js';
import { type Cut, cutsOf, polylineOf } from './cuts.js';

/** Lines up every promise that a plan must keep and answers with what breaks, one line each. */
export function brokenLaws(plan: Plan, input: PlanInput, clip: Clip): string[] {
  const lift = input.machine.zZero === 'bed' ? input.board.thickness : 0;
  const cuts = cutsOf(plan.toolpath, lift);
  return [
    ...formProblems(plan, input, lift),
    ...orderProblems(plan),
    ...wallProblems(plan, input, cuts),
    ...gougeProblems(plan, input, cuts, clip),
    ...tabProblems(plan, input, cuts),
  ];
}

const onGrid = (v: number) => Math.abs(v * 1e4 - Math.round(v * 1e4)) < 1e-6;

/** The grid, no empty moves, equal radii, rapids high, nothing too deep, steps in one piece. */
function formProblems({ toolpath, workplan }: Plan, { board, machine }: PlanInput, lift: number): string[] {
  const out: string[] = [];
  const floor = -(board.thickness + Math.min(0.3, machine.spoilboard)) + lift;
  const high = machine.clearance + lift;
  let at: Place | undefined;
  let rpm = 0;
  for (const m of toolpath.moves) {
    if (m.kind === 'spindle') rpm = m.rpm;
    if (m.kind === 'cutter' && rpm !== 0) out.push(`${m.from}: cutter changed with the spindle running`);
    if (m.kind !== 'rapid' && m.kind !== 'linear' && m.kind !== 'circular') continue;
    const { x, y, z } = m.to;
    if (![x, y, z].every(onGrid)) out.push(`${m.from}: (${x}, ${y}, ${z}) is off the grid`);
    if (z < floor - 1e-6) out.push(`${m.from}: z ${z} is below ${floor}`);
    if (at !== undefined && at.x === x && at.y === y && at.z === z)
      out.push(`${m.from}: a move of no length`);
    if (m.kind === 'rapid' && (z !== high || (at !== undefined && at.z !== high)))
      out.push(`${m.from}: a rapid below the height of rapids`);
    if (m.kind !== 'rapid' && (!(m.feed > 0) || rpm === 0)) out.push(`${m.from}: no feed or no spindle`);
    if (m.kind === 'circular' && at !== undefined) {
      const [r0, r1] = [at, m.to].map((p) => Math.hypot(p.x - m.centre.x, p.y - m.centre.y));
      if (Math.abs(r0! - r1!) > 0.0002) out.push(`${m.from}: radii ${r0} and ${r1}`);
      if (![m.centre.x, m.centre.y].every(onGrid)) out.push(`${m.from}: a centre off the grid`);
      if (at.x === x && at.y === y) out.push(`${m.from}: a full circle in one move`);
    }
    at = m.to;
  }
  if (at !== undefined && at.z !== high) out.push('the end is not parked high');
  if (rpm !== 0) out.push('the spindle runs at the end');
  const runs = toolpath.moves.map((m) => m.from).filter((f, i, all) => f !== all[i - 1]);
  if (runs.join() !== workplan.steps.map((s) => s.id).join()) out.push('steps are not in one piece');
  return out;
}

/** Drilling first; the inside of an item before its outline; outlines small to large for one cutter. */
function orderProblems({ workplan }: Plan): string[] {
  const out: string[] = [];
  const kinds = workplan.steps.map((s) => s.kind);
  if (
    kinds.lastIndexOf('drilling') > kinds.findIndex((k) => k !== 'drilling') &&
    kinds.some((k) => k !== 'drilling')
  )
    out.push('drilling after other work');
  workplan.steps.forEach((s, i) => {
    if (s.kind !== 'outside profile') return;
    if (workplan.steps.slice(i + 1).some((t) => t.item === s.item)) out.push(`${s.item} released too early`);
  });
  return out;
}

const itemOf = (input: PlanInput, item: string) => input.items.find((p) => p.item === item)!.part;

function featureOf(input: PlanInput, item: string, feature: string): Contour | undefined {
  const part = itemOf(input, item);
  return [part.outline, ...part.through, ...part.pockets].find((c) => c.id === feature);
}

/** On the deepest pass the path keeps the cutter's radius from the contour, or serves a relief, lead or clearing. */
function wallProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[]): string[] {
  const out: string[] = [];
  for (const s of workplan.steps) {
    const contour = featureOf(input, s.item, s.feature);
    if (contour === undefined) continue;
    const { diameter } = input.cutters.find((c) => c.id === s.cutter)!;
    const own = cuts.filter((c) => c.move.from === s.id && c.move.to.z < 0);
    const near = own.flatMap((c) =>
      polylineOf(c).flatMap((p) => {
        const gap = pointRingDistance(contour.bare, p);
        const relief = contour.reliefs.some((f) => Math.hypot(f.corner.x - p.x, f.corner.y - p.y) < diameter);
        return !relief && gap < diameter / 2 - 0.001 ? [`${s.id}: ${gap} from the wall`] : [];
      }),
    );
    out.push(...new Set(near));
    // Each edge is run along at exactly the radius: somewhere near its middle.
    const deepest = own.filter(
      (c) => c.move.to.z < -s.depths.at(-1)! + 1e-6 && c.from.z < -s.depths.at(-1)! + 1e-6,
    );
    for (const r of contour.reliefs) {
      const visits = s.depths.map(
        (d) =>
          own.filter(
            (c) =>
              Math.abs(c.move.to.z + d) < 1e-6 &&
              Math.hypot(c.move.to.x - r.centre.x, c.move.to.y - r.centre.y) < 1e-4,
          ).length,
      );
      if (visits.some((v) => v !== 1))
        out.push(`${s.id}: relief at ${r.edges.join()} visited ${visits.join()} times`);
    }
    for (const v of flattenRing(contour.bare, { tolerance: 0.01 })) {
      const reach = Math.min(...deepest.map((c) => pointSegmentDistance(c.segment, v)));
      if (s.tabs.length === 0 && reach > diameter) out.push(`${s.id}: (${v.x}, ${v.y}) is not reached`);
    }
  }
  return out;
}

const poly = (c: Contour): Polygon => flattenRing(c.bare, { tolerance: 0.0002 });
const disc = (p: Point, r: number): Polygon =>
  Array.from({ length: 720 }, (_, i) => ({
    x: p.x + r * Math.cos((i * Math.PI) / 360),
    y: p.y + r * Math.sin((i * Math.PI) / 360),
  }));

const areaOf = (ps: readonly Polygon[]): number => ps.reduce((sum, p) => sum + Math.abs(polygonArea(p)), 0);

/** What the cutters sweep in the wood never enters a part by more than 0.001 mm. */
function gougeProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[], clip: Clip): string[] {
  const isPocket = (item: string, feature: string) =>
    itemOf(input, item).pockets.some((p) => p.id === feature);
  const swept = (ids: ReadonlySet<string>) =>
    input.cutters.flatMap((k) => {
      const mine = new Set(workplan.steps.filter((s) => s.cutter === k.id && ids.has(s.id)).map((s) => s.id));
      const lines = cuts.filter((c) => mine.has(c.move.from) && Math.min(c.from.z, c.move.to.z) < 0);
      return lines.length === 0 ? [] : clip.sweep(lines.map(polylineOf), k.diameter / 2, 0.0002);
    });
  const [pocketing, rest] = [true, false].map(
    (p) => new Set(workplan.steps.filter((s) => isPocket(s.item, s.feature) === p).map((s) => s.id)),
  );
  const [sweptPockets, sweptRest] = [swept(pocketing!), swept(rest!)];
  const out: string[] = [];
  for (const { item, part } of input.items) {
    const air = [
      ...part.through.map(poly),
      ...part.holes.map((h) => disc(h.centre, h.diameter / 2 + 0.16)),
      ...[part.outline, ...part.through].flatMap((c) => c.reliefs.map((f) => disc(f.centre, f.radius))),
    ];
    const solid = clip.grow(clip.difference([poly(part.outline)], air), -0.001, 0.0002);
    const recesses = part.pockets.flatMap((p) => [
      poly(p),
      ...p.reliefs.map((f) => disc(f.centre, f.radius)),
    ]);
    const shell = recesses.length === 0 ? solid : clip.grow(clip.difference(solid, recesses), -0.001, 0.0002);
    for (const [what, by, against] of [
      ['pockets', sweptPockets, shell],
      ['other steps', sweptRest, solid],
    ] as const) {
      const area = areaOf(clip.intersection(by, against));
      if (area > 1e-3) out.push(`${what} enter ${item} by ${area} mm²`);
    }
  }
  return out;
}

const polygonArea = (p: Polygon): number => ringArea({ vertices: p.map((v) => ({ ...v, bulge: 0 })) });

/** Tabs: as many as wanted, on free edges, with their full width standing at half their height. */
function tabProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[]): string[] {
  const out: string[] = [];
  const { holding, board, mating } = input;
  const half = -board.thickness + holding.tabHeight / 2;
  for (const s of workplan.steps) {
    const { diameter } = input.cutters.find((c) => c.id === s.cutter)!;
    for (const t of s.tabs) {
      if (mating.has(t.edge)) out.push(`${s.id}: a tab on mating edge ${t.edge}`);
      // Along the path the cutter must stay above half height over the tab's width and its own.
      const low = cuts.filter((c) => c.move.from === s.id && Math.min(c.from.z, c.move.to.z) < half - 1e-6);
      const reach = (t.width + diameter) / 2 - 1e-3;
      for (const c of low)
        for (const q of lowPoints(c, half))
          if (Math.hypot(q.x - t.at.x, q.y - t.at.y) < reach) {
            out.push(`${s.id}: the tab at (${t.at.x}, ${t.at.y}) is cut away`);
            break;
          }
    }
  }
  return [...new Set(out)];
}

/** Points of a cut that lie below a height, close together. */
function lowPoints(c: Cut, below: number): Point[] {
  const n = 64;
  if (c.segment.kind === 'arc') return polylineOf(c);
  return Array.from({ length: n + 1 }, (_, i) => i / n)
    .filter((t) => c.from.z + (c.move.to.z - c.from.z) * t < below - 1e-6)
    .map((t) => ({
      x: c.segment.from.x + (c.segment.to.x - c.segment.from.x) * t,
      y: c.segment.from.y + (c.segment.to.y - c.segment.from.y) * t,
    }));
}
