import { inscribedWidth } from '@haunch/geometry';
import { type Contour, type Cutter, type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import { type ContourPath, contourPath, type Side, taggedRing } from './contour-path.js';
import { depthPasses } from './depth-passes.js';
import {
  cutterTooLarge,
  flutesTooShort,
  noRouter,
  reliefOfAnotherCutter,
  shallowFirstPass,
} from './diagnostics.js';
import { type PlanContext, where } from './plan-context.js';

/** A router and its path round a contour. */
export interface RouterPath extends ContourPath {
  readonly cutter: Cutter;
}

/** A relief is cut by going to its centre, so its radius must be the cutter's, within this. mm */
const RELIEF_TOLERANCE = 0.001;

/** The largest diameter that gets round a contour, rounded down to 0.01 mm; 0 when none does. */
function largestDiameter(contour: Contour, side: Side, tooLarge: number): number {
  const follows = (d: number) => 'path' in contourPath({ ...contour, reliefs: [] }, side, d / 2, 'climb');
  let [yes, no] = [0, tooLarge];
  while (no - yes > 0.005) {
    const d = (yes + no) / 2;
    if (follows(d)) yes = d;
    else no = d;
  }
  return Math.floor(yes * 100) / 100;
}

/** The first of the routers that gets round a contour, down to `depth`, with reliefs of its own radius and a first pass deep enough. */
export function chooseRouter(
  c: PlanContext,
  contour: Contour,
  side: Side,
  depth: number,
): Outcome<RouterPath> {
  const w = where(c, contour.id);
  if (c.routers.length === 0) return fail(noRouter(c.board.id));
  const fitting = c.routers.filter((r) =>
    contour.reliefs.every((f) => Math.abs(f.radius - r.diameter / 2) <= RELIEF_TOLERANCE),
  );
  if (fitting.length === 0) {
    const [odd] = contour.reliefs;
    return fail(
      reliefOfAnotherCutter(
        w,
        odd!.radius,
        c.routers.map((r) => r.diameter / 2),
        odd!.corner,
      ),
    );
  }
  const refusals: Diagnostic[] = [];
  for (const cutter of fitting) {
    if (cutter.fluteLength < depth) {
      refusals.push(flutesTooShort(w, cutter.id, cutter.fluteLength, depth));
      continue;
    }
    // A pass that touches the wall with the up-cut edges alone tears its upper veneer: another cutter, or none.
    const { depths, neededFirst } = depthPasses(depth, cutter);
    if (neededFirst !== null) {
      refusals.push(shallowFirstPass(w, cutter.id, depths[0]!, neededFirst, depth));
      continue;
    }
    const path = contourPath(contour, side, cutter.diameter / 2, c.direction);
    if ('path' in path) return ok({ ...path, cutter });
    const width = Math.min(
      largestDiameter(contour, side, cutter.diameter),
      side === 'inside' ? inscribedWidth(taggedRing(contour)) : Infinity,
    );
    refusals.push(cutterTooLarge(w, cutter.diameter, path.why, width, path.at));
  }
  return fail(refusals[0]!);
}
