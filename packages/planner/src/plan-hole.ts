import { circleRing } from '@haunch/geometry';
import {
  type Contour,
  type Cutter,
  type Diagnostic,
  fail,
  type Hole,
  type Outcome,
  ok,
  pointLength,
} from '@haunch/model';
import * as say from './diagnostics.js';
import { boreHole, drillHole } from './drilling.js';
import type { Operation } from './operation.js';
import { type PlanContext, throughDepth, where } from './plan-context.js';
import { planPocket, planThrough } from './plan-contour.js';
import {
  COMPRESSION_MARGIN,
  DRILL_OVERCUT,
  DRILL_TOLERANCE,
  OVERCUT,
  TIGHTEST_BORE,
  UNDER_POINT,
} from './practice.js';
import { speedsOf } from './speeds.js';

/** Beyond this many diameters a bore leaves a core standing. */
const WIDEST_BORE = 2;

const contourOf = (h: Hole): Contour => {
  const ring = {
    vertices: circleRing(h.centre, h.diameter / 2).vertices.map((v) => ({ ...v, tag: h.id })),
  };
  return { id: h.id, ring, bare: ring, reliefs: [] };
};

const closest = (drills: readonly Cutter[], diameter: number): Cutter | undefined =>
  drills
    .filter((d) => Math.abs(d.diameter - diameter) <= DRILL_TOLERANCE + 1e-9)
    .reduce<Cutter | undefined>(
      (best, d) =>
        best !== undefined && Math.abs(best.diameter - diameter) <= Math.abs(d.diameter - diameter)
          ? best
          : d,
      undefined,
    );

/**
 * How deep a drill's tip goes so that its full diameter reaches the hole's depth, or the underside; or why it must not: its
 * point would go too far into the bed sheet, or through the face below a blind hole.
 */
function drillReach(
  { board, machine, ...c }: PlanContext,
  h: Hole,
  drill: Cutter,
): { readonly tip: number } | { readonly refusal: Diagnostic } {
  const w = where({ board, machine, ...c }, h.id);
  const point = pointLength(drill);
  if (h.depth !== 'through') {
    const left = board.thickness - h.depth - point;
    return point > 0 && left < UNDER_POINT
      ? { refusal: say.drillPointComesThrough(w, drill.id, point, left, UNDER_POINT) }
      : { tip: h.depth + point };
  }
  if (point === 0) return { tip: throughDepth(board, machine) };
  const below = point + Math.min(OVERCUT, DRILL_OVERCUT);
  return below > machine.spoilboard + 1e-9
    ? { refusal: say.drillPointTooLong(w, drill.id, point, below, machine.spoilboard) }
    : { tip: board.thickness + below };
}

/**
 * A round hole: drilled where a drill of its diameter is at hand, else bored by a router on a helix, else, where
 * it is wide, cut out like any other opening or pocket.
 */
export function planHole(c: PlanContext, h: Hole): Outcome<Operation> {
  const w = where(c, h.id);
  const through = h.depth === 'through';
  if (!through && h.face !== c.placed.part.cutFace) return fail(say.needsTurnOver(w, h.centre));
  const depth = h.depth === 'through' ? throughDepth(c.board, c.machine) : h.depth;
  if (!through && depth >= c.board.thickness) return fail(say.tooDeep(w, depth, c.board.thickness));
  const base = {
    item: c.placed.item,
    feature: h.id,
    area: (Math.PI * h.diameter ** 2) / 4,
    tabs: [],
    slug: null,
    encloses: [],
  };
  const notes: Diagnostic[] = [];
  const drill = closest(c.drills, h.diameter);
  const roomy = c.routers.filter((r) => (h.diameter - r.diameter) / 2 >= r.diameter * TIGHTEST_BORE);
  if (drill !== undefined) {
    const reach = drillReach(c, h, drill);
    if (!('refusal' in reach)) {
      if (drill.fluteLength < reach.tip)
        return fail(say.flutesTooShort(w, drill.id, drill.fluteLength, reach.tip));
      const { trace, depths } = drillHole(h.centre, reach.tip, drill, c.machine, speedsOf(drill, c.machine));
      return ok({ ...base, kind: 'drilling', cutter: drill, depths, moves: trace.moves });
    }
    const bored = roomy.find((r) => r.fluteLength >= depth);
    if (bored === undefined) return fail(reach.refusal);
    notes.push(say.boredForItsPoint(w, drill.id, bored.id));
  }
  if (roomy.length === 0) {
    const smallest = c.routers.length === 0 ? null : Math.min(...c.routers.map((r) => r.diameter));
    return fail(say.holeWithoutCutter(w, h.diameter, h.centre, smallest));
  }
  const long = roomy.filter((r) => r.fluteLength >= depth);
  if (long.length === 0) return fail(say.flutesTooShort(w, roomy[0]!.id, roomy[0]!.fluteLength, depth));
  const leastOf = (r: Cutter): number => (r.upCutLength === null ? 0 : r.upCutLength + COMPRESSION_MARGIN);
  const cutter = long.find((r) => depth > leastOf(r));
  if (cutter === undefined)
    return fail(say.shallowFirstPass(w, long[0]!.id, depth, leastOf(long[0]!), depth));
  if (h.diameter > WIDEST_BORE * cutter.diameter) {
    const contour = contourOf(h);
    const planned = through
      ? planThrough(c, contour, 'hole')
      : planPocket(c, { ...contour, face: h.face, depth }, 'hole');
    return planned.ok ? ok(planned.value, [...notes, ...planned.diagnostics]) : planned;
  }
  const { trace, depths } = boreHole(
    h.centre,
    h.diameter,
    depth,
    cutter,
    c.machine,
    speedsOf(cutter, c.machine),
    c.direction === 'climb',
  );
  return ok(
    { ...base, kind: 'hole', cutter, depths, moves: trace.moves, slug: through ? 'none' : null },
    notes,
  );
}
