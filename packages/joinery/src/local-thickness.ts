import type { Point } from '@haunch/geometry';
import type { Fit, Master } from '@haunch/model';
import { inPlate, toWorld } from './frame.js';
import type { Joinery } from './joinery.js';
import { type Plate, type PlateEdge, plateOf } from './plate.js';

/** The thickness of a plate at a place of its own plane, mm, (u, v) as in the master. */
export type PlateThickness = (part: string, at: Point) => number;

/** The point of an edge so far from its start, mm. */
function pointAlong(e: PlateEdge, by: number): Point {
  const l = Math.hypot(e.to.x - e.from.x, e.to.y - e.from.y);
  return { x: e.from.x + ((e.to.x - e.from.x) * by) / l, y: e.from.y + ((e.to.y - e.from.y) * by) / l };
}

/** Corners and middle of what the walls of a fit cover, as places of a plate's own (u, v). */
function engaged(fit: Fit, joinery: Joinery, slot: Plate, seenIn: Plate): Point[] {
  return joinery.contacts
    .filter(
      (c) =>
        c.joint === fit.joint &&
        c.part === fit.slotPart &&
        c.with === fit.enteringPart &&
        fit.walls.includes(c.edge),
    )
    .flatMap((c) => {
      const edge = slot.edges.find((e) => e.tag === c.edge);
      if (!edge) return [];
      const corners = c.stretch.flatMap((by) =>
        edge.w.map((w): Point => {
          const { x, y } = inPlate(seenIn.frame, toWorld(slot.frame, pointAlong(edge, by), w));
          return { x, y };
        }),
      );
      const mean = (pick: (p: Point) => number) => corners.reduce((s, p) => s + pick(p), 0) / corners.length;
      return [...corners, { x: mean((p) => p.x), y: mean((p) => p.y) }];
    });
}

/**
 * The joinery with the thickness of each entering plate at the very spot that its slot grips: for every fit of kind
 * `thickness` the greatest of the plate over the area in contact (a slot must pass its thickest place), as `local` of the fit.
 * Where the entering plate leans, the height of the walls is the slotted plate's thickness there.
 * Other fits stay as they are. The plates' mean thicknesses stay in the master: they say where marks lie. mm.
 * @throws RangeError when a joint names a part that the master does not have.
 */
export function withLocalThickness(master: Master, joinery: Joinery, thickness: PlateThickness): Joinery {
  const plates = new Map(master.parts.map((p) => [p.id, plateOf(p)]));
  const plate = (id: string): Plate => {
    const found = plates.get(id);
    if (!found) throw new RangeError(`withLocalThickness: there is no part ${id}`);
    return found;
  };
  const local = (fit: Fit): Fit => {
    if (fit.kind !== 'thickness') return fit;
    const slot = plate(fit.slotPart);
    const most = (on: Plate): number =>
      Math.max(...engaged(fit, joinery, slot, on).map((at) => thickness(on.id, at)));
    const local = most(plate(fit.enteringPart));
    if (local === -Infinity) return fit;
    const sunk = slot.part.pockets.some((p) => p.id === fit.contour);
    const lean = fit.lean && { ...fit.lean, ...(sunk ? {} : { height: most(slot) }) };
    return { ...fit, local, ...(lean ? { lean } : {}) };
  };
  return { ...joinery, joints: joinery.joints.map((j) => ({ ...j, fits: j.fits.map(local) })) };
}
