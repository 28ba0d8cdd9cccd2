import { along, dot, type Frame, type Vec } from '../frame.js';
import { stand } from './judge-plates.js';
import type { Piece } from './piece.js';
import type { Plate } from './plate-layers.js';
import { inverse, within } from './pose.js';
import type { Standing } from './standing-plate.js';

const NEAR = 0.6;

const moved = (g: Frame, s: Standing): Standing => stand(s.plate, within(g, s.frame));

/** The plate's mirror image in x = sum / 2, which is the same plate where nothing is cut into one face only. */
export function mirrored(s: Standing, sum = 0): Standing {
  const flip = (a: Vec): Vec => [-a[0], a[1], a[2]];
  const f = s.frame;
  const n = flip(f.n);
  return stand(s.plate, {
    origin: along(flip(along(f.origin, s.plate.part.thickness, f.n)), 1, [sum, 0, 0]),
    u: flip(f.u),
    v: flip(f.v),
    n: [-n[0], -n[1], -n[2]],
  });
}

/** The mirror image of a piece; null where a plate has pockets and its mirror image is another plate. */
export function mirrorOf(piece: Piece): Piece | null {
  if ([...piece.standing.values()].some((s) => s.plate.part.pockets.length > 0)) return null;
  return { score: piece.score, standing: new Map([...piece.standing].map(([k, s]) => [k, mirrored(s)])) };
}

/** Axes nearer than this are the same, and origins nearer than this take corners of any plate to within `NEAR` of each other. */
const SAME_AXIS = 1e-6;
const SAME_ORIGIN = 0.1;

/** True where two frames are the same but for rounding; where they are not, a plate may still fill the same place. */
function sameFrame(a: Frame, b: Frame): boolean {
  for (let k = 0; k < 3; k++)
    if (
      Math.abs(a.origin[k]! - b.origin[k]!) > SAME_ORIGIN ||
      Math.abs(a.u[k]! - b.u[k]!) > SAME_AXIS ||
      Math.abs(a.v[k]! - b.v[k]!) > SAME_AXIS ||
      Math.abs(a.n[k]! - b.n[k]!) > SAME_AXIS
    )
      return false;
  return true;
}

/** True where two plates of one family fill the same place. */
export function samePlace(a: Standing, b: Standing): boolean {
  if (a.plate.family !== b.plate.family) return false;
  for (const k of [0, 1, 2] as const)
    if (Math.abs(a.low[k] - b.low[k]) > NEAR || Math.abs(a.high[k] - b.high[k]) > NEAR) return false;
  if (sameFrame(a.frame, b.frame)) return true;
  const here = cornersOf(a);
  const there = cornersOf(b);
  const used = new Uint8Array(there.length);
  for (let i = 0; i < here.length; i += 3) {
    let k = 0;
    while (k < there.length && (used[k] === 1 || !closeBy(here, i, there, k))) k += 3;
    if (k === there.length) return false;
    used[k] = 1;
  }
  return true;
}

const closeBy = (a: Float64Array, i: number, b: Float64Array, k: number): boolean =>
  Math.abs(a[i]! - b[k]!) + Math.abs(a[i + 1]! - b[k + 1]!) + Math.abs(a[i + 2]! - b[k + 2]!) < 2 * NEAR;

/** Where the corners of a standing plate's curves are, x, y, z of each. */
function cornersOf(s: Standing): Float64Array {
  if (s.corners !== null) return s.corners;
  const { marksOfShape } = s.plate;
  const { origin, u, v, n } = s.frame;
  const out = new Float64Array(3 * marksOfShape.length);
  for (let i = 0; i < marksOfShape.length; i++) {
    const { at, w } = marksOfShape[i]!;
    for (let k = 0; k < 3; k++) out[3 * i + k] = origin[k]! + at.x * u[k]! + at.y * v[k]! + w * n[k]!;
  }
  s.corners = out;
  return out;
}

const sameAll = (a: readonly Standing[], b: readonly Standing[]): boolean =>
  a.length === b.length && a.every((s) => b.some((o) => samePlace(s, o)));

/** The direction of a plate's longest straight edge in its own drawing, which may lie anyhow on the table. */
function leaningOf(plate: Plate): number {
  let [angle, longest] = [0, 0];
  for (const { from, to } of plate.layers[0]?.straights ?? []) {
    const long = Math.hypot(to.x - from.x, to.y - from.y);
    if (long <= longest + 1e-6) continue;
    longest = long;
    angle = Math.atan2(to.y - from.y, to.x - from.x);
  }
  return angle;
}

/** The turns that a flat plate may have in the box along its longest edge: none, and half a turn about each axis. */
export function halfTurns(s: Standing): Frame[] {
  const angle = leaningOf(s.plate);
  const [c, d] = [Math.cos(angle), Math.sin(angle)];
  const xs = s.plate.corners.map((p) => c * p.x + d * p.y);
  const ys = s.plate.corners.map((p) => c * p.y - d * p.x);
  const x = Math.min(...xs) + Math.max(...xs);
  const y = Math.min(...ys) + Math.max(...ys);
  const t = s.plate.part.thickness;
  // Half a turn about an axis at an angle takes a direction to its image in that axis.
  const [c2, d2] = [Math.cos(2 * angle), Math.sin(2 * angle)];
  const at = (a: number, b: number, w: number): Vec => [a * c - b * d, a * d + b * c, w];
  return [
    { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] },
    { origin: at(x, y, 0), u: [-1, 0, 0], v: [0, -1, 0], n: [0, 0, 1] },
    { origin: at(0, y, t), u: [c2, d2, 0], v: [d2, -c2, 0], n: [0, 0, -1] },
    { origin: at(x, 0, t), u: [-c2, -d2, 0], v: [-d2, c2, 0], n: [0, 0, -1] },
  ];
}

/** True where a rigid motion takes the one piece onto the other, congruent plates in each other's stead. */
export function samePiece(a: Piece, b: Piece): boolean {
  const as = [...a.standing.values()];
  const bs = [...b.standing.values()];
  if (as.length !== bs.length) return false;
  const count = new Map<number, number>();
  for (const s of as) count.set(s.plate.family, (count.get(s.plate.family) ?? 0) + 1);
  const ref = [...as].sort((p, q) => count.get(p.plate.family)! - count.get(q.plate.family)!)[0]!;
  for (const o of bs.filter((s) => s.plate.family === ref.plate.family))
    for (const turn of halfTurns(ref)) {
      const g = within(within(ref.frame, turn), inverse(o.frame));
      if (
        Math.abs(dot(g.u, g.u) - 1) < 1e-6 &&
        sameAll(
          as,
          bs.map((s) => moved(g, s)),
        )
      )
        return true;
    }
  return false;
}
