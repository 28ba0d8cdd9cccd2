import { distance, type Point } from './point.js';
import { reliefProblem } from './relief-problem.js';
import type { Segment } from './ring.js';
import { endDirection, segmentLength, startDirection, turnBetween } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { TOUCH } from './segment-intersections.js';
import { GRID } from './snap.js';

/** An inside corner of air to be relieved, and how. */
export interface CornerReliefInput {
  /** The segment that ends in the corner. */
  readonly before: Segment;
  /** The segment that starts in the corner. */
  readonly after: Segment;
  /** On which side of the travel the air lies: left for a void walked counter-clockwise, right for material. */
  readonly air: 'left' | 'right';
  /** The cutting radius, mm. */
  readonly radius: number;
  /** By how much the sharp corner is to be cleared, mm; 0 ≤ surplus < radius. Ignored by `least`. */
  readonly surplus: number;
  readonly form: 'diagonal' | 'along the wall' | 'least';
  /** For `along the wall`: the wall that must not be cut. The longer one when left out. */
  readonly guide?: 'before' | 'after';
}

/** Below this turn two sides run on tangentially and there is no corner, radians. */
const TANGENT_TURN = 1e-6;

/**
 * Where a round cutter must go so that a sharp arris can seat in an inside corner of air. With θ the angle of
 * the air between the walls (their tangents in the corner, where they are arcs) and r the radius:
 *
 * - `diagonal`: on the bisector, r − surplus from the corner, which then lies `surplus` inside the disc. The
 *   cutter travels r(1/sin(θ/2) − 1) + surplus beyond where it touches both walls.
 * - `least`: the same with no surplus: the smallest disc on the bisector that reaches the corner.
 * - `along the wall`: r above the guiding wall, which it touches and does not cut, straight over the corner
 *   and `surplus` beyond it; it cuts r(1 + cos θ) (and surplus·sin θ) into the other wall.
 *
 * Answers with a problem when the corner is no inside corner of the air, or when a hollow guiding wall would
 * be cut. Reference value G1.
 * @throws RangeError when the segments do not meet, the radius is not positive, or the surplus not in 0…radius.
 */
export function cornerRelief(
  input: CornerReliefInput,
): { readonly centre: Point; readonly radius: number } | { readonly problem: string } {
  const { before, after, air, radius, form } = input;
  const surplus = form === 'least' ? 0 : input.surplus;
  if (!(radius > 0) || !Number.isFinite(radius))
    throw new RangeError(`cornerRelief: radius ${radius} must be positive`);
  if (!(surplus >= 0 && surplus < radius))
    throw new RangeError(`cornerRelief: surplus ${surplus} must be in 0 … radius ${radius}`);
  if (distance(before.to, after.from) > GRID)
    throw new RangeError('cornerRelief: the segments do not meet in a corner');
  const corner = after.from;
  const turn = turnBetween(before, after) * (air === 'left' ? 1 : -1);
  if (turn <= TANGENT_TURN || turn >= Math.PI - TANGENT_TURN)
    return { problem: reliefProblem.noInsideCorner(turn) };
  // Both walls as seen from the corner.
  const back = endDirection(before);
  const alongBefore = { x: -back.x, y: -back.y };
  const alongAfter = startDirection(after);
  if (form !== 'along the wall') {
    const bx = alongBefore.x + alongAfter.x;
    const by = alongBefore.y + alongAfter.y;
    const k = (radius - surplus) / Math.hypot(bx, by);
    return { centre: { x: corner.x + bx * k, y: corner.y + by * k }, radius };
  }
  const guideName = input.guide ?? (segmentLength(before) > segmentLength(after) ? 'before' : 'after');
  const [guide, along, other] =
    guideName === 'before' ? [before, alongBefore, alongAfter] : [after, alongAfter, alongBefore];
  // The normal of the guide that points into the air, to the side of the other wall.
  const side = Math.sign(along.x * other.y - along.y * other.x);
  const centre = {
    x: corner.x - side * along.y * radius - along.x * surplus,
    y: corner.y + side * along.x * radius - along.y * surplus,
  };
  if (pointSegmentDistance(guide, centre) < radius - TOUCH)
    return { problem: reliefProblem.guideTooHollow(radius) };
  return { centre, radius };
}
