import { counterClockwise, type Point, ringArea, snap } from '@haunch/geometry';
import type { Contour, Diagnostic, Fit, Locus, MasterLoop } from '@haunch/model';
import { loopCrosses } from './diagnostics.js';
import type { Joinery } from './joinery.js';
import { type Edge, edgesOf, ringOfEdges } from './loop.js';
import { selfMeeting } from './loop-problems.js';
import { moveEdges } from './move-edges.js';

/** How far each wall goes back into its own material, mm, by its tag. */
export type Setbacks = ReadonlyMap<string, number>;

/** How much thicker the entering plate is where it is gripped than on the whole, as far as these walls must give way for it. */
function localExcess(fit: Fit, thicknesses: ReadonlyMap<string, number>): number {
  const mean = thicknesses.get(fit.enteringPart);
  if (fit.local === undefined || mean === undefined) return 0;
  // One wall alone has half of the excess on its side of the plate's middle.
  return (fit.local - mean) * (fit.walls.length / 2);
}

/** How high walls are by their contour, mm, and how thick plates are on the whole: that to which walls were refitted. */
export interface DrawnSizes {
  readonly thicknesses: ReadonlyMap<string, number>;
  readonly heights: ReadonlyMap<string, number>;
}

/**
 * What one wall gives way by in its own plate when it is to give way by `share` square to the plate that leans through:
 * share/sin θ, and its half of what walls higher than drawn take more, Δ/tan θ.
 */
function leaningShare(share: number, { lean, contour }: Fit, heights: ReadonlyMap<string, number>): number {
  if (lean === undefined) return share;
  const higher = lean.height - (heights.get(contour) ?? lean.height);
  return share / Math.sin(lean.angle) + higher / (2 * Math.tan(lean.angle));
}

const AS_DRAWN: DrawnSizes = { thicknesses: new Map(), heights: new Map() };

/**
 * What every wall gives way by in its own plate's plane: half of what two walls share, all that one alone wants; the
 * most where fits differ. mm
 */
export function setbacksOf(joinery: Joinery, { thicknesses, heights }: DrawnSizes = AS_DRAWN): Setbacks {
  const shareOf = (fit: Fit): number =>
    leaningShare((fit.wanted + localExcess(fit, thicknesses)) / fit.walls.length, fit, heights);
  const out = new Map<string, number>();
  for (const fit of joinery.joints.flatMap((j) => j.fits))
    for (const wall of fit.walls) {
      const known = out.get(wall);
      const share = shareOf(fit);
      out.set(wall, known === undefined ? share : Math.max(known, share));
    }
  return out;
}

const snapped = (e: Edge): Edge => {
  const on = (p: Point): Point => ({ x: snap(p.x), y: snap(p.y) });
  return { ...e, from: on(e.from), to: on(e.to), ...(e.centre ? { centre: on(e.centre) } : {}) };
};

/** The contour of a loop after its walls have given way, neighbours met again, on the grid of 0.0001 mm. */
export function contourWithClearance(
  id: string,
  loop: MasterLoop,
  bounds: 'material' | 'air',
  setbacks: Setbacks,
  locus: Locus,
  problems: Diagnostic[],
): Contour {
  const edges = edgesOf(loop);
  const turn = ringArea(ringOfEdges(edges, id)) > 0 ? 1 : -1;
  // On the left of a counter-clockwise curve lies what it bounds.
  const intoMaterial = bounds === 'material' ? turn : -turn;
  const by = edges.map((e, k): Point => {
    const amount = setbacks.get(`${id}/e${k}`) ?? 0;
    if (amount === 0) return { x: 0, y: 0 };
    const l = Math.hypot(e.to.x - e.from.x, e.to.y - e.from.y);
    const step = (intoMaterial * amount) / l;
    return { x: -(e.to.y - e.from.y) * step, y: (e.to.x - e.from.x) * step };
  });
  const moved = moveEdges(edges, by, locus);
  problems.push(...moved.problems);
  const ring = counterClockwise(ringOfEdges(moved.edges.map(snapped), id));
  if (moved.problems.length === 0 && by.some((p) => p.x !== 0 || p.y !== 0)) {
    const meeting = selfMeeting(ring);
    if (meeting) problems.push(loopCrosses(meeting.problem, { ...locus, at: meeting.at }));
  }
  return { id, ring, bare: ring, reliefs: [] };
}
