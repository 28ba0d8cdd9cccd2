import { distance, type Point } from '@haunch/geometry';
import { type Cubic, cubicAt, cubicOnCircle, legsOf, splitCubic } from './cubic.js';

/** A line or arc that goes on from where the last one ended; `bulge` = tan(sweep/4), 0 a line. */
export interface Stretch {
  readonly bulge: number;
  readonly to: Point;
}

/** Halvings after which a piece is a line whatever it is: by then a coordinate of 1e9 mm has no digits left. */
const DEEPEST = 24;
/** Legs of a piece that is fitted turn from its chord by less than this, as a cosine. */
const LEAN = Math.cos(Math.PI / 3);

/**
 * Arcs and lines that follow a cubic Bézier curve. Guaranteed: no point of the curve is further than `within`
 * from them, nor the other way round; half of it is kept for what happens at the ends. A curve that was made to
 * stand for an arc (`arcOfCubic`) becomes that arc.
 */
export function arcsOfCubic(cubic: Cubic, within: number): Stretch[] {
  const round = arcOfCubic(cubic);
  if (round !== null) return [round];
  const out: Stretch[] = [];
  const fit = (c: Cubic, depth: number): void => {
    const found =
      depth >= DEEPEST || isStraight(c, within / 2)
        ? [{ bulge: 0, to: c[3] }]
        : (oneArc(c, within / 2) ?? twoArcs(c, within / 2));
    if (found !== null) {
      out.push(...found);
      return;
    }
    const [a, b] = splitCubic(c, 0.5);
    fit(a, depth + 1);
    fit(b, depth + 1);
  };
  fit(cubic, 0);
  return out;
}

/** How far a cubic with control arms of 4/3·tan(θ/4)·r leaves its arc, as a share of the radius. */
export const roundness = (sweep: number): number =>
  ((2 / 27) * Math.sin(sweep / 4) ** 6) / Math.cos(sweep / 4) ** 2;

/** Arms this much off the true ones still stand for an arc: files are rounded. */
const ARM = 1e-3;
/** The least sweep, radians, that is taken for an arc on the strength of its arms alone. */
const LEAST_SWEEP = Math.PI / 12;

/**
 * The arc that a cubic was made to stand for, or null: both control arms are tangents of one circle and
 * 4/3·tan(θ/4)·r long, as drawing programs make them (a quarter circle: 0.5523 r). The curve leaves that arc by
 * at most twice `roundness` of the radius: 5.5e-4·r for a quarter.
 */
export function arcOfCubic(c: Cubic): Stretch | null {
  const [a, b, d, e] = c;
  const chord = distance(a, e);
  const arms = [distance(a, b), distance(d, e)] as const;
  if (!(chord > 0 && arms[0] > 0 && arms[1] > 0)) return null;
  const cross = (b.x - a.x) * (e.y - d.y) - (b.y - a.y) * (e.x - d.x);
  const dot = (b.x - a.x) * (e.x - d.x) + (b.y - a.y) * (e.y - d.y);
  const sweep = Math.atan2(cross, dot);
  const turn = Math.abs(sweep);
  if (turn < LEAST_SWEEP || turn > 0.51 * Math.PI) return null;
  const radius = chord / (2 * Math.sin(turn / 2));
  const arm = (4 / 3) * Math.tan(turn / 4) * radius;
  if (Math.abs(arms[0] - arm) > ARM * arm || Math.abs(arms[1] - arm) > ARM * arm) return null;
  const bulge = Math.tan(sweep / 4);
  const { centre } = circleOf(a, e, bulge);
  return cubicOnCircle(c, centre, radius, 2 * roundness(turn) * radius) ? { bulge, to: e } : null;
}

export function circleOf(from: Point, to: Point, bulge: number): { centre: Point; radius: number } {
  const k = (1 - bulge * bulge) / (4 * bulge);
  return {
    centre: {
      x: (from.x + to.x) / 2 - (to.y - from.y) * k,
      y: (from.y + to.y) / 2 + (to.x - from.x) * k,
    },
    radius: (distance(from, to) * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
  };
}

/** Whether the control points lie within `within` of the chord and follow each other along it. */
function isStraight(c: Cubic, within: number): boolean {
  const [a, , , d] = c;
  if (c.every((p) => distance(p, a) <= within)) return true;
  const chord = distance(a, d);
  if (chord === 0) return false;
  const [ux, uy] = [(d.x - a.x) / chord, (d.y - a.y) / chord];
  return (
    c.every((p) => Math.abs((p.x - a.x) * uy - (p.y - a.y) * ux) <= within) &&
    legsOf(c).every((l) => l.x * ux + l.y * uy >= 0)
  );
}

/** Whether curve and arc run along their chord without turning back, so that distance to the circle is all. */
function leansLittle(c: Cubic): boolean {
  const [a, , , d] = c;
  const chord = distance(a, d);
  return (
    chord > 0 &&
    legsOf(c).every((l) => l.x * (d.x - a.x) + l.y * (d.y - a.y) >= LEAN * Math.hypot(l.x, l.y) * chord)
  );
}

function followed(c: Cubic, bulge: number, within: number): boolean {
  // An arc of at most a third of a turn leans from its chord as little as the curve does.
  if (bulge === 0 || Math.abs(bulge) > Math.tan(Math.PI / 6) || !leansLittle(c)) return false;
  const { centre, radius } = circleOf(c[0], c[3], bulge);
  return Number.isFinite(radius) && cubicOnCircle(c, centre, radius, within);
}

/** The arc through both ends and the middle of the curve, where it is near enough. */
function oneArc(c: Cubic, within: number): Stretch[] | null {
  const [a, , , d] = c;
  const m = cubicAt(c, 0.5);
  // The bulge is tan of half the angle at which the chord leaves the line to the middle of the arc.
  const cross = (m.x - a.x) * (d.y - m.y) - (m.y - a.y) * (d.x - m.x);
  const dot = (m.x - a.x) * (d.x - m.x) + (m.y - a.y) * (d.y - m.y);
  const bulge = Math.tan(Math.atan2(cross, dot) / 2);
  return followed(c, bulge, within) ? [{ bulge, to: d }] : null;
}

/** A biarc: two arcs that leave and arrive as the curve does and meet with one tangent, where near enough. */
function twoArcs(c: Cubic, within: number): Stretch[] | null {
  const legs = legsOf(c);
  const [a, , , d] = c;
  const [first, last] = [legs[0], legs[legs.length - 1]];
  if (first === undefined || last === undefined || !leansLittle(c)) return null;
  const t0 = unit(first);
  const t1 = unit(last);
  const v = { x: d.x - a.x, y: d.y - a.y };
  // Equal arms h: |v − h(t0 + t1)| = 2h, the joint half way between the arms' ends.
  const t = { x: t0.x + t1.x, y: t0.y + t1.y };
  const [tt, vt, vv] = [t.x * t.x + t.y * t.y - 4, v.x * t.x + v.y * t.y, v.x * v.x + v.y * v.y];
  const h = vv / (vt + Math.sqrt(vt * vt - tt * vv));
  if (!(h > 0 && Number.isFinite(h))) return null;
  const joint = {
    x: (a.x + h * t0.x + d.x - h * t1.x) / 2,
    y: (a.y + h * t0.y + d.y - h * t1.y) / 2,
  };
  const bulges = [bulgeLeaving(a, joint, t0), -bulgeLeaving(d, joint, { x: -t1.x, y: -t1.y })] as const;
  // The curve is cut where it passes the joint, across the tangent there.
  const along = unit({ x: d.x - h * t1.x - a.x - h * t0.x, y: d.y - h * t1.y - a.y - h * t0.y });
  const [d0, d1, d2, d3] = c.map((p) => (p.x - joint.x) * along.x + (p.y - joint.y) * along.y) as [
    number,
    number,
    number,
    number,
  ];
  const ahead = (s: number): number => {
    const r = 1 - s;
    return r * r * (r * d0 + 3 * s * d1) + s * s * (3 * r * d2 + s * d3);
  };
  if (!(ahead(0) < 0 && ahead(1) > 0)) return null;
  let [low, high] = [0, 1];
  for (let k = 0; k < 40; k++) {
    const middle = (low + high) / 2;
    if (ahead(middle) < 0) low = middle;
    else high = middle;
  }
  const [before, after] = splitCubic(c, low);
  return nearArc(before, a, joint, bulges[0], within) && nearArc(after, joint, d, bulges[1], within)
    ? [
        { bulge: bulges[0], to: joint },
        { bulge: bulges[1], to: d },
      ]
    : null;
}

/** Whether a piece of the curve lies along an arc (or line) from `from` to `to`. */
function nearArc(c: Cubic, from: Point, to: Point, bulge: number, within: number): boolean {
  const chord = distance(from, to);
  if (chord === 0 || distance(c[0], from) > within || distance(c[3], to) > within) return false;
  if (Math.abs(bulge) * chord <= 1e-9) {
    const [ux, uy] = [(to.x - from.x) / chord, (to.y - from.y) / chord];
    return (
      c.every((p) => Math.abs((p.x - from.x) * uy - (p.y - from.y) * ux) <= within) &&
      legsOf(c).every((l) => l.x * ux + l.y * uy >= 0)
    );
  }
  if (Math.abs(bulge) > Math.tan(Math.PI / 6) || !leansLittle(c)) return false;
  const { centre, radius } = circleOf(from, to, bulge);
  return Number.isFinite(radius) && cubicOnCircle(c, centre, radius, within);
}

const unit = (v: Point): Point => {
  const l = Math.hypot(v.x, v.y);
  return { x: v.x / l, y: v.y / l };
};

/** The bulge of an arc that leaves `from` in the direction `t` and ends in `to`: half the angle to its chord. */
function bulgeLeaving(from: Point, to: Point, t: Point): number {
  const [x, y] = [to.x - from.x, to.y - from.y];
  return Math.tan(Math.atan2(t.x * y - t.y * x, t.x * x + t.y * y) / 2);
}
