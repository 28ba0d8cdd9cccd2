import { circleRing } from '@haunch/geometry';
import { type Contour, type Cutter, type Diagnostic, fail, type Hole, type Outcome, ok } from '@haunch/model';
import * as say from './diagnostics.js';
import { boreHole, drillHole } from './drilling.js';
import type { Operation } from './operation.js';
import { type PlanContext, throughDepth, where } from './plan-context.js';
import { planPocket, planThrough } from './plan-contour.js';
import { COMPRESSION_MARGIN, DRILL_TOLERANCE, TIGHTEST_BORE } from './practice.js';
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
  const drill = closest(c.drills, h.diameter);
  if (drill !== undefined) {
    if (drill.fluteLength < depth) return fail(say.flutesTooShort(w, drill.id, drill.fluteLength, depth));
    const { trace, depths } = drillHole(h.centre, depth, drill, c.machine, speedsOf(drill, c.machine));
    return ok({ ...base, kind: 'drilling', cutter: drill, depths, moves: trace.moves });
  }
  const roomy = c.routers.filter((r) => (h.diameter - r.diameter) / 2 >= r.diameter * TIGHTEST_BORE);
  if (roomy.length === 0) {
    const smallest = c.routers.length === 0 ? null : Math.min(...c.routers.map((r) => r.diameter));
    return fail(say.holeWithoutCutter(w, h.diameter, h.centre, smallest));
  }
  const cutter = roomy.find((r) => r.fluteLength >= depth);
  if (cutter === undefined) return fail(say.flutesTooShort(w, roomy[0]!.id, roomy[0]!.fluteLength, depth));
  if (h.diameter > WIDEST_BORE * cutter.diameter) {
    const contour = contourOf(h);
    return through
      ? planThrough(c, contour, 'hole')
      : planPocket(c, { ...contour, face: h.face, depth }, 'hole');
  }
  const notes: Diagnostic[] = [];
  if (cutter.upCutLength !== null && depth < cutter.upCutLength + COMPRESSION_MARGIN)
    notes.push(say.shallowFirstPass(w, cutter.id, depth, cutter.upCutLength + COMPRESSION_MARGIN));
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
