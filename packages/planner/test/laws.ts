import {
  type Clip,
  flattenRing,
  type Point,
  type Polygon,
  pointRingDistance,
  pointSegmentDistance,
  ringArea,
  ringSegments,
  segmentPoints,
} from '@haunch/geometry';
import type { Contour, Place, Workingstep } from '@haunch/model';
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
    ...leftOvers(plan, input, cuts, clip),
    ...entryProblems(plan, input, cuts),
  ];
}

const onGrid = (v: number) => Math.abs(v * 1e4 - Math.round(v * 1e4)) < 1e-6;

/** The grid, no empty moves, equal radii, rapids high, nothing too deep, steps in one piece. */
export function formProblems(
  { toolpath, workplan }: Plan,
  { board, machine }: PlanInput,
  lift: number,
): string[] {
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
export function orderProblems({ workplan }: Plan): string[] {
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
export function wallProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[]): string[] {
  const out: string[] = [];
  for (const s of workplan.steps) {
    const contour = featureOf(input, s.item, s.feature);
    if (contour === undefined) continue;
    const { diameter } = input.cutters.find((c) => c.id === s.cutter)!;
    // Slots that are cut on their own belong to their outline.
    const slots = workplan.steps.filter(
      (t) => t.kind === 'open slot' && s.kind === 'outside profile' && t.item === s.item,
    );
    const ids = new Set([s.id, ...slots.map((t) => t.id)]);
    const own = cuts.filter((c) => ids.has(c.move.from) && c.move.to.z < 0);
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
      // A finishing pass goes there once more.
      const by = slots.find((t) =>
        own.some(
          (c) =>
            c.move.from === t.id && Math.hypot(c.move.to.x - r.centre.x, c.move.to.y - r.centre.y) < 1e-4,
        ),
      );
      const { finish } = by ?? s;
      const wanted = (i: number) => (finish !== undefined && i === s.depths.length - 1 ? 2 : 1);
      if (visits.some((v, i) => v !== wanted(i)))
        out.push(`${s.id}: relief at ${r.edges.join()} visited ${visits.join()} times`);
    }
    // Along each edge, away from its ends and from tabs, the cutter has passed at exactly its radius.
    for (const e of ringSegments(contour.bare)) {
      const points = segmentPoints(e, 0.01).slice(1);
      const middle = { x: (e.from.x + e.to.x) / 2, y: (e.from.y + e.to.y) / 2 };
      for (const v of e.kind === 'line' ? [middle] : points) {
        if (contour.reliefs.some((f) => Math.hypot(f.centre.x - v.x, f.centre.y - v.y) < f.radius + 0.01))
          continue;
        if (s.tabs.some((t) => Math.hypot(t.at.x - v.x, t.at.y - v.y) < t.width + 2 * diameter)) continue;
        if (e.kind === 'line' && Math.hypot(e.to.x - e.from.x, e.to.y - e.from.y) < diameter * 0.9) continue;
        if (
          e.kind === 'arc' &&
          Math.min(Math.hypot(v.x - e.from.x, v.y - e.from.y), Math.hypot(v.x - e.to.x, v.y - e.to.y)) <
            diameter
        )
          continue;
        const gap = Math.min(...deepest.map((c) => pointSegmentDistance(c.segment, v)));
        if (Math.abs(gap - diameter / 2) > 0.001)
          out.push(`${s.id}: ${gap} from the wall at (${v.x}, ${v.y})`);
      }
    }
  }
  return out;
}

const poly = (c: Contour): Polygon => flattenRing(c.bare, { tolerance: 0.0002 });
/** A disc of this much less radius lies inside its polygon. */
const INSIDE = Math.cos(Math.PI / 720);
const disc = (p: Point, r: number): Polygon =>
  Array.from({ length: 720 }, (_, i) => ({
    x: p.x + r * Math.cos((i * Math.PI) / 360),
    y: p.y + r * Math.sin((i * Math.PI) / 360),
  }));

const areaOf = (ps: readonly Polygon[]): number => Math.abs(ps.reduce((sum, p) => sum + polygonArea(p), 0));

/** What the cutters sweep in the wood never enters a part by more than 0.001 mm. */
export function gougeProblems(
  { workplan }: Plan,
  input: PlanInput,
  cuts: readonly Cut[],
  clip: Clip,
): string[] {
  const stepOf = new Map(workplan.steps.map((s) => [s.id, s]));
  const isPocket = (s: Workingstep) => itemOf(input, s.item).pockets.some((p) => p.id === s.feature);
  // The same stretch is swept once, whatever its depths: a helix repeats itself.
  const groups = new Map<string, { step: Workingstep; lines: Map<string, Point[]> }>();
  for (const c of cuts) {
    if (Math.min(c.from.z, c.move.to.z) >= 0) continue;
    const step = stepOf.get(c.move.from)!;
    const key = `${step.item} ${step.cutter} ${isPocket(step)}`;
    const group = groups.get(key) ?? { step, lines: new Map() };
    groups.set(key, group);
    const line = polylineOf(c);
    const [a, b] = [line[0]!, line.at(-1)!];
    group.lines.set(
      `${a.x},${a.y} ${line.length} ${b.x},${b.y} ${c.move.kind === 'circular' ? c.move.turn : ''}`,
      line,
    );
  }
  const out: string[] = [];
  const solids = input.items.map(({ part }) => {
    const air = [
      ...part.through.map(poly),
      ...part.holes.map((h) => disc(h.centre, h.diameter / 2 + 0.16)),
      ...[part.outline, ...part.through].flatMap((c) =>
        c.reliefs.map((f) => disc(f.centre, f.radius / INSIDE)),
      ),
    ];
    const solid = clip.grow(clip.difference([poly(part.outline)], air), -0.001, 0.0002);
    const recesses = part.pockets.flatMap((p) => [
      poly(p),
      ...p.reliefs.map((f) => disc(f.centre, f.radius / INSIDE)),
    ]);
    const shell = recesses.length === 0 ? solid : clip.grow(clip.difference(solid, recesses), -0.001, 0.0002);
    return { solid, shell };
  });
  for (const { step, lines } of groups.values()) {
    const { diameter } = input.cutters.find((k) => k.id === step.cutter)!;
    const swept = clip.sweep([...lines.values()], diameter / 2, 0.0005);
    input.items.forEach(({ item }, i) => {
      const { solid, shell } = solids[i]!;
      const area = areaOf(clip.intersection(swept, isPocket(step) && step.item === item ? shell : solid));
      if (area > 1e-3) out.push(`${step.item} ${step.feature} enters ${item} by ${area} mm²`);
    });
  }
  return out;
}

const polygonArea = (p: Polygon): number => ringArea({ vertices: p.map((v) => ({ ...v, bulge: 0 })) });

/** Tabs: as many as wanted, on free edges, with their full width standing at half their height. */
export function tabProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[]): string[] {
  const out: string[] = [];
  const { holding, board, mating } = input;
  const half = -board.thickness + holding.tabHeight / 2;
  for (const s of workplan.steps) {
    const { diameter } = input.cutters.find((c) => c.id === s.cutter)!;
    for (const t of s.tabs) {
      if (mating.has(t.edge)) out.push(`${s.id}: a tab on mating edge ${t.edge}`);
      const e = ringSegments(featureOf(input, s.item, s.feature)!.bare).find((g) => g.tag === t.edge)!;
      const [dx, dy] = [e.to.x - e.from.x, e.to.y - e.from.y];
      const length = Math.hypot(dx, dy);
      const along = ((t.at.x - e.from.x) * dx + (t.at.y - e.from.y) * dy) / length;
      if (Math.min(along, length - along) - t.width / 2 < 3 + diameter - 1e-3)
        out.push(`${s.id}: a tab too near to the end of ${t.edge}`);
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

/** A cavity is empty to its full depth, but for the corners that no relief opens; a held slug but for its slug. */
function leftOvers({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[], clip: Clip): string[] {
  const out: string[] = [];
  for (const s of workplan.steps) {
    if (s.kind === 'drilling' || s.kind === 'outside profile' || s.slug === 'held') continue;
    if (s.kind === 'open slot') continue;
    const hole = itemOf(input, s.item).holes.find((h) => h.id === s.feature);
    const contour = featureOf(input, s.item, s.feature);
    const wanted = hole === undefined ? poly(contour!) : disc(hole.centre, hole.diameter / 2);
    const { diameter } = input.cutters.find((c) => c.id === s.cutter)!;
    const floor = -s.depths.at(-1)! + 1e-6;
    const lines = cuts
      .filter((c) => c.move.from === s.id && c.from.z < floor && c.move.to.z < floor)
      .map(polylineOf);
    const left = clip.difference([wanted], clip.sweep(lines, diameter / 2, 0.0005));
    const corners =
      contour === undefined ? [] : ringSegments(contour.bare).map((e) => disc(e.to, diameter / 2));
    const bare = contour !== undefined && contour.reliefs.length === 0;
    const area = areaOf(bare ? clip.difference(left, corners) : left);
    if (area > 0.05) out.push(`${s.id} leaves ${area} mm² standing`);
  }
  return out;
}

/** The contour is met only on edges without a mate; where all mate, only on the shortest. */
function entryProblems({ workplan }: Plan, input: PlanInput, cuts: readonly Cut[]): string[] {
  const out: string[] = [];
  for (const s of workplan.steps) {
    const contour = featureOf(input, s.item, s.feature);
    if (contour === undefined) continue;
    const radius = input.cutters.find((c) => c.id === s.cutter)!.diameter / 2;
    const edges = ringSegments(contour.bare);
    const lengthOf = (e: (typeof edges)[number]) => Math.hypot(e.to.x - e.from.x, e.to.y - e.from.y);
    const shortest = Math.min(...edges.map(lengthOf));
    const allMate = edges.every((e) => input.mating.has(e.tag!));
    const gapAt = (p: Point) => pointRingDistance(contour.bare, p);
    let met = 0;
    for (const c of cuts.filter((k) => k.move.from === s.id && k.move.to.z < 0)) {
      const inRelief = contour.reliefs.some(
        (f) => Math.hypot(f.corner.x - c.move.to.x, f.corner.y - c.move.to.y) < 1.5 * radius,
      );
      if (inRelief) continue;
      if (gapAt(c.from) <= radius + 0.01 || gapAt(c.move.to) > radius + 0.001) continue;
      met++;
      const nearest = Math.min(...edges.map((e) => pointSegmentDistance(e, c.move.to)));
      // In a corner two edges are as near: one may be met there, coming along the stock left on the other.
      const near = edges.filter((e) => pointSegmentDistance(e, c.move.to) < nearest + 0.001);
      // Across the mouth of a slot that was cut before, the path goes straight on along the edge.
      const straightOn =
        workplan.steps.some((t) => t.kind === 'open slot' && t.item === s.item) &&
        near.some((e) => {
          const [ux, uy] = [e.to.x - e.from.x, e.to.y - e.from.y];
          const [vx, vy] = [c.move.to.x - c.from.x, c.move.to.y - c.from.y];
          return Math.abs(ux * vy - uy * vx) < 1e-3 * Math.hypot(ux, uy) * Math.hypot(vx, vy);
        });
      if (straightOn) continue;
      const allowed = near.some((e) => (allMate ? lengthOf(e) < shortest + 0.01 : !input.mating.has(e.tag!)));
      if (!allowed) out.push(`${s.id}: the contour is met on ${near.map((e) => e.tag).join()}`);
    }
    // Where all of a contour mates, only its finishing pass meets it.
    if (met < (s.finish !== undefined && allMate ? 1 : s.depths.length))
      out.push(`${s.id}: met ${met} times in ${s.depths.length} passes`);
  }
  return out;
}
