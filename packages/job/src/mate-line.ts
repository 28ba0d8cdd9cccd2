import type { Point } from '@haunch/geometry';
import type { Master, MasterMate, MasterPart, Part, Placement } from '@haunch/model';
import { axisVector, cross, dot, unit } from './assembly-picture/vec.js';
import { onBoard } from './placed-thickness.js';

/** The direction of the line in which the two plates of a mate meet, in each plate's own (u, v). Unit vectors. */
export interface MateLine {
  readonly mate: MasterMate;
  readonly inSlot: Point;
  readonly inEntering: Point;
}

/** Below this the two plates are parallel and meet in no line. */
const PARALLEL = 1e-6;

/**
 * Where two plates meet, both have a length along the line in which their planes cross: the width of a tenon and the length of
 * its mortise, the depths of two laps. A machine that is not true makes these differ as soon as they are cut along different
 * directions. Undefined for plates that are parallel.
 */
export function mateLine(master: Master, mate: MasterMate): MateLine | undefined {
  const [slot, entering] = [mate.slotPart, mate.enteringPart].map(
    (id) => master.parts.find((p) => p.id === id)!,
  ) as [MasterPart, MasterPart];
  const line = cross(axisVector(slot.frame.n), axisVector(entering.frame.n));
  if (Math.hypot(...line) < PARALLEL) return undefined;
  const along = unit(line);
  const inPlane = ({ frame }: MasterPart): Point => ({
    x: dot(along, axisVector(frame.u)),
    y: dot(along, axisVector(frame.v)),
  });
  return { mate, inSlot: inPlane(slot), inEntering: inPlane(entering) };
}

/** The angle from the machine's X at which a direction of a part's plane comes to lie, radians. */
export function directionOnBoard(part: Part, placement: Placement, direction: Point): number {
  const [from, to] = [onBoard(part, placement, { x: 0, y: 0 }), onBoard(part, placement, direction)];
  return Math.atan2(to.y - from.y, to.x - from.x);
}
