import { distance, type Point } from './point.js';
import { reliefProblem } from './relief-problem.js';
import {
  type ArcSegment,
  type Ring,
  ringOfSegments,
  ringSegments,
  type Segment,
  sweepAround,
} from './ring.js';
import { ringArea } from './ring-area.js';
import { ringProblems } from './ring-problems.js';
import { endDirection, fractionAlong, segmentLength, startDirection, turnBetween } from './segment-course.js';
import { pointSegmentDistance } from './segment-distance.js';
import { carrierMeets, TOUCH } from './segment-intersections.js';
import { GRID } from './snap.js';

/** A disc of air that relieves a corner; `tag` is for the arc that it leaves. mm */
export interface ReliefDisc {
  readonly centre: Point;
  readonly radius: number;
  readonly tag: string;
  /** The sharp corner that it relieves, within 0.0001 mm. */
  readonly corner: Point;
}

/** Where a wall is left on the way to or from the arc; `foot` is off the wall, past the corner, if present. */
interface Leaving {
  readonly at: Point;
  readonly foot?: Point;
}

interface Relieved {
  readonly index: number;
  readonly disc: ReliefDisc;
  readonly before: Leaving;
  readonly after: Leaving;
}

/**
 * A ring with corners relieved: each named corner gives way to the arc of its disc, the walls on both sides
 * end where the disc crosses them and keep their tags; other segments and the way the ring runs stay. A wall
 * that the disc only touches is not shortened; where it touches beyond the corner (form `along the wall` with
 * surplus), a line in the wall's continuation, with the disc's tag, leads there, as the cutter moves.
 * `air` says on which side of the ring the cutter works.
 *
 * Answers with a problem and its corner where a disc misses its corner, swallows a wall, cuts another side,
 * or leaves nothing of the wall between it and another disc. Discs may overlap in the air. A centre on the 0.0001 mm grid is accepted for the true one.
 * @throws RangeError when a radius is not positive.
 */
export function relieveRing(
  bare: Ring,
  air: 'inside' | 'outside',
  discs: readonly ReliefDisc[],
): { readonly ring: Ring } | { readonly problem: string; readonly corner: Point } {
  for (const d of discs)
    if (!(d.radius > 0) || !Number.isFinite(d.radius))
      throw new RangeError(`relieveRing: radius ${d.radius} must be positive`);
  const segments = ringSegments(bare);
  const n = segments.length;
  const airLeft = ringArea(bare) > 0 === (air === 'inside');
  const relieved = new Map<number, Relieved>();
  for (const disc of discs) {
    const { corner } = disc;
    const index = segments.findIndex((s) => distance(s.from, corner) <= GRID);
    if (index < 0) return { problem: reliefProblem.noCorner(), corner };
    if (relieved.has(index)) return { problem: reliefProblem.twice(), corner };
    const result = relieve(segments, index, disc, airLeft);
    if ('problem' in result) return { ...result, corner };
    relieved.set(index, result);
  }
  const out: Segment[] = [];
  const made: { at: number[]; index: number; disc: ReliefDisc }[] = [];
  for (let i = 0; i < n; i++) {
    const wall = segments[i]!;
    const start = relieved.get(i);
    const end = relieved.get((i + 1) % n);
    if (start) {
      const { before, after, disc } = start;
      const first = out.length;
      const from = before.foot ?? before.at;
      const to = after.foot ?? after.at;
      if (before.foot) out.push({ kind: 'line', from: before.at, to: from, tag: disc.tag });
      const { centre, radius, tag } = disc;
      const sweep = sweepAround(centre, from, to, airLeft ? 'ccw' : 'cw');
      const arc: ArcSegment = { kind: 'arc', from, to, centre, radius, sweep, tag };
      out.push(arc);
      if (after.foot) out.push({ kind: 'line', from: to, to: after.at, tag: disc.tag });
      made.push({ at: out.slice(first).map((_, k) => first + k), index: i, disc });
    }
    const from = start?.after.at ?? wall.from;
    const to = end?.before.at ?? wall.to;
    const f = fractionAlong(wall, from);
    const g = fractionAlong(wall, to);
    if (start && end && (g - f) * segmentLength(wall) <= GRID)
      return { problem: reliefProblem.overlap(), corner: start.disc.corner };
    out.push(
      wall.kind === 'line' ? { ...wall, from, to } : { ...wall, from, to, sweep: wall.sweep * (g - f) },
    );
  }
  const ring = ringOfSegments(out);
  const crossed = ringProblems(ring).flatMap((p) => p.segments.flat());
  for (const { at, index, disc } of made) {
    const swallows = segments.some(
      (s, i) => i !== index && distance(s.from, disc.centre) < disc.radius - GRID,
    );
    if (swallows || crossed.some((i) => at.includes(i)))
      return { problem: reliefProblem.cutsElsewhere(disc.radius), corner: disc.corner };
  }
  return { ring };
}

function relieve(
  segments: readonly Segment[],
  index: number,
  disc: ReliefDisc,
  airLeft: boolean,
): Relieved | { problem: string } {
  const after = segments[index]!;
  const before = segments[(index + segments.length - 1) % segments.length]!;
  const turn = turnBetween(before, after) * (airLeft ? 1 : -1);
  if (turn <= 0) return { problem: reliefProblem.noInsideCorner(turn) };
  const back = endDirection(before);
  const one = leaving(before, 'end', { x: -back.x, y: -back.y }, disc);
  if ('problem' in one) return one;
  const two = leaving(after, 'start', startDirection(after), disc);
  if ('problem' in two) return two;
  const guided = one.guided || two.guided;
  if (!guided && distance(disc.centre, after.from) > disc.radius + GRID)
    return { problem: reliefProblem.notReached(disc.radius) };
  return { index, disc, before: one.leaving, after: two.leaving };
}

/** Where the disc lets a wall go, seen from the corner at the wall's `end` or `start`. */
function leaving(
  wall: Segment,
  cornerAt: 'start' | 'end',
  along: Point,
  { centre, radius }: ReliefDisc,
): { leaving: Leaving; guided: boolean } | { problem: string } {
  const corner = cornerAt === 'start' ? wall.from : wall.to;
  const cx = centre.x - corner.x;
  const cy = centre.y - corner.y;
  const ahead = cx * along.x + cy * along.y;
  if (ahead <= GRID && Math.abs(Math.abs(along.x * cy - along.y * cx) - radius) <= GRID) {
    // The disc touches the wall's tangent in the corner or beyond it: this wall guides and stays whole.
    if (ahead >= -GRID) return { leaving: { at: corner }, guided: true };
    const foot = { x: corner.x + along.x * ahead, y: corner.y + along.y * ahead };
    return { leaving: { at: corner, foot }, guided: true };
  }
  const from = { x: centre.x + radius, y: centre.y };
  const circle: ArcSegment = { kind: 'arc', from, to: from, centre, radius, sweep: 2 * Math.PI };
  const fromCorner = (p: Point): number => {
    const f = fractionAlong(wall, p);
    return cornerAt === 'start' ? f : 1 - f;
  };
  const meets = carrierMeets(wall, circle)
    .filter((p) => pointSegmentDistance(wall, p) <= TOUCH)
    .sort((p, q) => fromCorner(p) - fromCorner(q));
  // From a corner inside the disc the first crossing leads out; from one on its edge the second does.
  const inside = Math.hypot(cx, cy) < radius - GRID;
  const exit = inside ? meets[0] : meets[meets.length - 1];
  const length = segmentLength(wall);
  const far = cornerAt === 'start' ? wall.to : wall.from;
  const entersOnly = !inside && meets.length < 2 && ahead > GRID && distance(far, centre) < radius;
  if (!exit || entersOnly || (1 - fromCorner(exit)) * length <= GRID)
    return {
      problem:
        distance(far, centre) <= radius + GRID
          ? reliefProblem.swallowsWall(radius, length)
          : reliefProblem.notReached(radius),
    };
  return { leaving: { at: exit }, guided: false };
}
