import type { Point } from '@haunch/geometry';
import type { Mark } from '@haunch/model';
import { dot, type Frame, type Vec } from './frame.js';

const AXES: Readonly<Record<'X' | 'Y' | 'Z', Vec>> = { X: [1, 0, 0], Y: [0, 1, 0], Z: [0, 0, 1] };

/**
 * The direction along which a mark is measured, as a unit vector of the world.
 * @throws RangeError when the mark has neither an axis nor a normal (`readMaster` refuses that).
 */
export function markAxis(mark: Mark): Vec {
  if (mark.normal) return mark.normal;
  if (mark.axis) return AXES[mark.axis];
  throw new RangeError(`markAxis: mark ${mark.id} has neither an axis nor a normal`);
}

/**
 * Where a mark stands on its axis, mm, for these thicknesses by part.
 * @throws RangeError when a part of its terms has no thickness.
 */
export function markPosition(mark: Mark, thicknesses: Readonly<Record<string, number>>): number {
  let at = mark.constant;
  for (const [part, share] of Object.entries(mark.terms)) {
    const t = thicknesses[part];
    if (t === undefined) throw new RangeError(`markPosition: mark ${mark.id} needs the thickness of ${part}`);
    at += share * t;
  }
  return at;
}

/** The line in which a mark cuts the plane w = 0 of a plate: all (u, v) with u·`gu` + v·`gv` = `at`. */
export interface Trace {
  readonly mark: string;
  readonly gu: number;
  readonly gv: number;
  readonly at: number;
}

/** The trace of a mark that stands at `position` on the plate of a frame. */
export function traceOf(mark: Mark, position: number, frame: Frame): Trace {
  const axis = markAxis(mark);
  return {
    mark: mark.id,
    gu: dot(axis, frame.u),
    gv: dot(axis, frame.v),
    at: position - dot(axis, frame.origin),
  };
}

/** The slope of a trace: 1 where the mark stands square to the plate, 0 where it never cuts it. */
export const traceSlope = (t: Trace): number => Math.hypot(t.gu, t.gv);

/** How far a point must go to reach a trace, square to it: positive along (gu, gv). mm */
export const distanceToTrace = (t: Trace, p: Point): number =>
  (t.at - t.gu * p.x - t.gv * p.y) / traceSlope(t);
