import type { Point } from '@haunch/geometry';
import { LEAST_LEAN } from '../tolerances.js';
import { type Interval, type Plate, type Straight, sectionOf } from './plate-layers.js';

/** A slot wider than the plate that enters it is thick by at least this is one for a plate that leans. mm */
const LEAST_WIDER = 0.8;

/** The flattest angle at which plates are taken to pass through each other, radians. Common practice, no source. */
const FLATTEST = Math.PI / 6;

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

/** What a slot row is for: the angle at which the second plate, or the one that is said, passes through; null where none does. */
export function leanIn(row: SlotRow, slotted: Plate, passing: Plate): number | null {
  const [t1, t2] = [slotted.part.thickness, passing.part.thickness];
  if (row.width < t2 + LEAST_WIDER) return null;
  return angleOfSlot(row.width, t1, t2);
}

/** The widest slot in which a leaning plate is looked for. mm */
export const widestFor = (slotted: number, passing: number): number =>
  slotWidthFor(slotted, passing, FLATTEST);

/** How long a leaning tenon is that passes right through: its upper arris comes out of the far face. mm */
export const tenonThrough = (slotted: number, passing: number, angle: number): number =>
  slotted / Math.sin(angle) + passing / Math.tan(angle) - SHORT;
