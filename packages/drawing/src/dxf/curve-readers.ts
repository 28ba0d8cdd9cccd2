import { ellipseOfAxes } from '../curves/ellipse.js';
import { splineThrough } from '../curves/fit-point-spline.js';
import { badSpline } from '../diagnostics.js';
import type { ControlPoint, SplineEntity } from '../drawing.js';
import { FLAT, lieOf, placeOf } from './entity-place.js';
import type { EntityReader } from './raw-entity.js';
import type { Tags } from './tags.js';

/** No kernel that writes these files goes beyond this degree. */
const HIGHEST_DEGREE = 25;
/** The weights of one spline that differ by more than this are no weights of a curve. */
const WEIGHT_RANGE = 1e6;

/**
 * ELLIPSE: centre and major half-axis in world coordinates, minor half-axis = ratio·(normal × major), parameters
 * 41 to 42 in radians (DXF reference). Seen from behind it runs clockwise.
 */
export const readEllipse: EntityReader = (t) => {
  const lie = lieOf(t);
  if (lie === 'tilted' || Math.abs(t.numberOr(31, 0)) > FLAT) return 'not flat';
  const ratio = Math.abs(t.numberOr(40, 1));
  const major = { x: t.number(11), y: t.number(21) };
  const side = lie === 'mirrored' ? -ratio : ratio;
  const minor = { x: -major.y * side, y: major.x * side };
  const start = t.numberOr(41, 0);
  const full = 2 * Math.PI;
  const turn = t.numberOr(42, full) - start;
  // An end before the start means the way round past 0.
  const sweep = turn === 0 ? full : turn - full * Math.floor(turn / full);
  const shape = ellipseOfAxes(
    { x: t.number(10), y: t.number(20) },
    major,
    minor,
    start,
    start + (sweep === 0 ? full : sweep),
  );
  if (shape === null) return 'no size';
  // World coordinates: only the depth is along the entity's own normal.
  return { kind: 'ellipse', ...placeOf(t, t.numberOr(30, 0), false), ...shape };
};

type Shape = Pick<SplineEntity, 'degree' | 'controls' | 'knots'>;

/** What is wrong with a spline's numbers, or null. */
export function splineProblem({ degree, controls, knots }: Shape): string | null {
  if (!(degree >= 1 && degree <= HIGHEST_DEGREE)) return `its degree is ${degree}`;
  if (controls.length <= degree) return `degree ${degree} needs more than ${controls.length} control points`;
  const wanted = controls.length + degree + 1;
  if (knots.length !== wanted) return `it has ${knots.length} knots where ${wanted} are needed`;
  if (knots.some((k, i) => i > 0 && k < knots[i - 1]!)) return 'its knots fall';
  if (!(knots[controls.length]! > knots[degree]!)) return 'its knots span nothing';
  // A control point with more equal knots than this would be passed by altogether.
  const least = Math.min(...controls.map((c) => c.weight));
  const most = Math.max(...controls.map((c) => c.weight));
  if (!(least > 0)) return `a weight is ${least}`;
  return most / least > WEIGHT_RANGE ? 'its weights are too far apart' : null;
}

/** SPLINE, in world coordinates: control points with weights and knots, else the points to be drawn through. */
export const readSpline: EntityReader = (t) => {
  const knots: number[] = [];
  const weights: number[] = [];
  const controls: { x: number; y: number; z: number }[] = [];
  const fit: { x: number; y: number; z: number }[] = [];
  for (let i = 0; i < t.count; i++) {
    const code = t.codeAt(i);
    if (code === 40) knots.push(t.numberAt(i));
    else if (code === 41) weights.push(t.numberAt(i));
    else if (code === 10) controls.push({ x: t.numberAt(i), y: 0, z: 0 });
    else if (code === 11) fit.push({ x: t.numberAt(i), y: 0, z: 0 });
    else if (code === 20 && controls.length > 0) controls.at(-1)!.y = t.numberAt(i);
    else if (code === 30 && controls.length > 0) controls.at(-1)!.z = t.numberAt(i);
    else if (code === 21 && fit.length > 0) fit.at(-1)!.y = t.numberAt(i);
    else if (code === 31 && fit.length > 0) fit.at(-1)!.z = t.numberAt(i);
  }
  const z = controls[0]?.z ?? fit[0]?.z ?? 0;
  if ([...controls, ...fit].some((p) => Math.abs(p.z - z) > FLAT)) return 'not flat';
  const closed = (t.integerOr(70, 0) & 1) !== 0;
  const through = fit.map(({ x, y }) => ({ x, y }));
  const place = { kind: 'spline' as const, ...placeOf(t, z, false), closed, fit: through };
  if (controls.length === 0) {
    const shape = splineThrough(through, closed, directionAt(t, 12), directionAt(t, 13));
    if (fit.length < 2)
      t.say((at) => badSpline(at, 'it has neither control points nor points to be drawn through'));
    return shape === null ? 'no size' : { ...place, ...shape };
  }
  if (weights.length > 0 && weights.length !== controls.length) {
    t.say((at) => badSpline(at, `it has ${weights.length} weights for ${controls.length} control points`));
    return 'no size';
  }
  const weighted = controls.map((p, i): ControlPoint => ({ x: p.x, y: p.y, weight: weights[i] ?? 1 }));
  const shape = { degree: t.integerOr(71, 3), controls: weighted, knots };
  const problem = splineProblem(shape);
  if (problem !== null) t.say((at) => badSpline(at, problem));
  const first = controls[0]!;
  if (controls.every((p) => p.x === first.x && p.y === first.y)) return 'no size';
  return { ...place, ...shape };
};

/** The direction in groups `code` and `code` + 10, if any. */
const directionAt = (t: Tags, code: number) =>
  t.has(code) ? { x: t.number(code), y: t.numberOr(code + 10, 0) } : null;
