import type { Point } from '@haunch/geometry';
import { LEAST_LEAN } from '../tolerances.js';
import type { BandFit } from './fit-bands.js';
import { type Interval, type Plate, type Straight, sectionOf } from './plate-layers.js';

/** A slot wider than the plate that enters it is thick by at least this is one for a plate that leans. mm */
const LEAST_WIDER = 0.8;

/** The flattest angle at which plates are taken to pass through each other, radians. Common practice, no source. */
const FLATTEST = Math.PI / 6;

/** The most clearance that is drawn, mm. */
export const LOOSE = 0.7;

/** How much shorter than right through a leaning tenon may be drawn. mm */
const SHORT = 0.75;

/** The width of a slot, cut square, for a plate that passes at an angle: t₂/sin θ + t₁/|tan θ|. mm, radians */
export const slotWidthFor = (slotted: number, passing: number, angle: number): number =>
  passing / Math.sin(angle) + slotted / Math.abs(Math.tan(angle));

/**
 * The angle, at most a right one, at which a plate needs a slot of this width; null where no plate does. radians
 * With h² = t₁² + W² and W = t₂/sin θ + t₁/tan θ: W sin θ − t₁ cos θ = t₂, so that θ = asin(t₂/h) + atan(t₁/W).
 */
export function angleOfSlot(width: number, slotted: number, passing: number): number | null {
  if (!(width > passing)) return null;
  const angle = Math.asin(passing / Math.hypot(slotted, width)) + Math.atan2(slotted, width);
  return Math.sin(angle) > LEAST_LEAN && angle >= FLATTEST ? angle : null;
}

/** Closed slots of one width in one strip of a plate. mm */
export interface SlotRow {
  readonly d: Point;
  readonly m: Point;
  readonly middle: number;
  readonly width: number;
  readonly material: readonly Interval[];
}

/** Tenons that stand out from a shoulder: `body` is +1 where the plate's body lies towards +m. mm */
export interface TenonRow {
  readonly d: Point;
  readonly m: Point;
  readonly shoulder: number;
  readonly body: 1 | -1;
  readonly length: number;
  readonly material: readonly Interval[];
}

const direction = ({ from, to }: Straight): Point => {
  const l = Math.hypot(to.x - from.x, to.y - from.y);
  return { x: (to.x - from.x) / l, y: (to.y - from.y) / l };
};
const across = (d: Point, p: Point): number => d.x * p.y - d.y * p.x;
const alongside = (d: Point, p: Point): number => d.x * p.x + d.y * p.y;
const PARALLEL = 1e-5;
const SAME = 0.1;

/** The rows of closed slots of a plate without recesses that are from `least` to `most` wide. */
export function slotRowsOf(plate: Plate, least: number, most: number): SlotRow[] {
  const [layer, more] = plate.layers;
  const out: SlotRow[] = [];
  if (!layer || more) return out;
  for (const wall of layer.straights) {
    if (wall.ring === 0) continue;
    const d = direction(wall);
    // Material lies to the left of its edges: the wall across the slot is on the right and runs the other way.
    for (const facing of layer.straights) {
      if (facing.ring !== wall.ring) continue;
      const e = direction(facing);
      if (Math.abs(across(d, e)) > PARALLEL || alongside(d, e) > 0) continue;
      const width = across(d, wall.from) - across(d, facing.from);
      if (width < least || width > most) continue;
      const from = Math.max(alongside(d, wall.from), alongside(d, facing.to));
      const to = Math.min(alongside(d, wall.to), alongside(d, facing.from));
      // Slots that lie in a row are longer than wide, or at least not much shorter.
      if (to - from < width / 2) continue;
      const middle = across(d, wall.from) - width / 2;
      const m = { x: -d.y, y: d.x };
      const known = out.some(
        (r) =>
          Math.abs(r.width - width) < SAME &&
          Math.abs(Math.abs(alongside(r.d, d)) - 1) < PARALLEL &&
          Math.abs(r.middle - middle * Math.sign(alongside(r.d, d))) < SAME,
      );
      if (!known) out.push({ d, m, middle, width, material: sectionOf(layer, d, m, middle) });
    }
  }
  return out;
}

/** The rows of tenons of a plate without recesses, by shoulder; each as long as its longest. */
export function tenonRowsOf(plate: Plate, least: number): TenonRow[] {
  const [layer, more] = plate.layers;
  const out: TenonRow[] = [];
  if (!layer || more) return out;
  const outer = layer.straights.filter((s) => s.ring === 0);
  for (const edge of outer) {
    const d = direction(edge);
    const m = { x: -d.y, y: d.x };
    const shoulder = across(d, edge.from);
    // Body towards +m: material lies on the left.
    if (out.some((r) => alongside(r.d, d) > 1 - PARALLEL && Math.abs(r.shoulder - shoulder) < SAME)) continue;
    const tips = outer
      .filter((s) => Math.abs(across(d, direction(s))) < PARALLEL && alongside(d, direction(s)) > 0)
      .map((s) => shoulder - across(d, s.from))
      .filter((l) => l >= least - SHORT);
    if (tips.length === 0) continue;
    const length = Math.min(...tips);
    const material = sectionOf(layer, d, m, shoulder - length / 2);
    if (material.length > 0) out.push({ d, m, shoulder, body: 1, length, material });
  }
  return out;
}

/**
 * How much clearance is drawn in a row of slots, as the ends of the tenons in them show it: the least by which a slot is
 * longer than the tenon in it; 0 where a tenon fills its slot, or has more room than clearance. mm
 */
export function clearanceAtEnds(row: SlotRow, tenons: TenonRow, { turned, shift }: BandFit): number {
  const stands = tenons.material.map(
    ([p, q]): Interval => (turned ? [shift - q, shift - p] : [shift + p, shift + q]),
  );
  const slots = row.material.slice(1).map((m, k): Interval => [row.material[k]![1], m[0]]);
  const plays = slots.flatMap(([from, to]) => {
    const inside = stands.filter(([p, q]) => q > from && p < to);
    return inside.length === 1 ? [to - from - (inside[0]![1] - inside[0]![0])] : [];
  });
  const least = Math.min(...plays);
  return least > 0 && least <= LOOSE ? least : 0;
}

/**
 * The angle at which the second plate passes through a slot row with so much clearance in it; null where it does not.
 * Where the clearance leaves too little for a plate that leans, the plate stands square. radians
 */
export function leanIn(row: SlotRow, slotted: Plate, passing: Plate, clearance: number): number | null {
  const [t1, t2] = [slotted.part.thickness, passing.part.thickness];
  const width = row.width - clearance;
  return width < t2 + LEAST_WIDER ? null : angleOfSlot(width, t1, t2);
}

/** The widest slot in which a leaning plate is looked for. mm */
export const widestFor = (slotted: number, passing: number): number =>
  slotWidthFor(slotted, passing, FLATTEST);

/**
 * How long a leaning tenon is at least that passes right through: its upper arris comes to the far face, as in a seat out of which
 * nothing is to stand; the lower one may stay inside.
 */
export const tenonThrough = (slotted: number, angle: number): number => slotted / Math.sin(angle) - SHORT;
