import type { Point } from '@haunch/geometry';
import { along, dot, inPlate, minus, type Vec } from './frame.js';
import { type Area, areaInWindow, clipToWindow } from './overlap.js';
import type { Plate, PlateEdge, PlateSide } from './plate.js';
import { LEAST_CONTACT, LEAST_LEAN, SAME_PLACE } from './tolerances.js';

/** Unit vectors against each other within this are opposite; the corners' distances do the exact part. */
const OPPOSITE = 1e-6;

/** A stretch of an edge, mm from its `from`. */
export type Stretch = readonly [number, number];

const opposite = (a: Vec, b: Vec): boolean => dot(a, b) < -1 + OPPOSITE;

/** The stretches of an edge, in order, over which an area covers some of its rectangle. */
function covered(
  length: number,
  window: (from: number, to: number) => readonly Point[],
  area: Area,
  start: Point,
  dir: Point,
): Stretch[] {
  const whole = window(0, length);
  // Cover can begin or end only where a corner of the area lies, or where its border crosses the window's.
  const stops = [0, length];
  for (const polygon of [area.outer, ...area.voids])
    for (const p of clipToWindow(polygon, whole))
      stops.push((p.x - start.x) * dir.x + (p.y - start.y) * dir.y);
  stops.sort((a, b) => a - b);
  const out: [number, number][] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const from = stops[i]!;
    const to = stops[i + 1]!;
    if (to - from <= SAME_PLACE || areaInWindow(area, window(from, to)) <= LEAST_CONTACT) continue;
    const last = out.at(-1);
    if (last && from - last[1] <= SAME_PLACE) last[1] = to;
    else out.push([from, to]);
  }
  return out;
}

/**
 * Where an edge's rectangle lies against a side of another plate: same plane within 0.001 mm, opposite
 * normals, positive common area. Stretches of the edge, mm; empty where there is no contact.
 */
export function edgeOnSide(edge: PlateEdge, other: Plate, side: PlateSide): Stretch[] {
  if (!opposite(edge.normal, side.normal)) return [];
  const corners = edge.corners.map((c) => inPlate(other.frame, c));
  if (corners.some((c) => Math.abs(c.w - side.w) > SAME_PLACE)) return [];
  const [a, b, , d] = corners as unknown as [Point, Point, Point, Point];
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const dir = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const up = { x: d.x - a.x, y: d.y - a.y };
  const window = (from: number, to: number): Point[] => {
    const p = { x: a.x + dir.x * from, y: a.y + dir.y * from };
    const q = { x: a.x + dir.x * to, y: a.y + dir.y * to };
    return [p, q, { x: q.x + up.x, y: q.y + up.y }, { x: p.x + up.x, y: p.y + up.y }];
  };
  return covered(length, window, side.area, a, dir);
}

/**
 * Where two edges' rectangles lie against each other: same plane within 0.001 mm, opposite normals, positive
 * common area. The stretch of the first edge, mm; nothing where there is no contact.
 */
export function edgeOnEdge(edge: PlateEdge, other: PlateEdge): Stretch | undefined {
  if (!opposite(edge.normal, other.normal)) return undefined;
  const origin = edge.corners[0];
  if (other.corners.some((c) => Math.abs(dot(minus(c, origin), edge.normal)) > SAME_PLACE)) return undefined;
  const run = minus(edge.corners[1], origin);
  const length = Math.hypot(...run);
  const x = along([0, 0, 0], 1 / length, run);
  const rise = minus(edge.corners[3], origin);
  const height = Math.hypot(...rise);
  const y = along([0, 0, 0], 1 / height, rise);
  const flat = (c: Vec): Point => ({ x: dot(minus(c, origin), x), y: dot(minus(c, origin), y) });
  const window = (from: number, to: number): Point[] => [
    { x: from, y: 0 },
    { x: to, y: 0 },
    { x: to, y: height },
    { x: from, y: height },
  ];
  const stretches = covered(
    length,
    window,
    { outer: other.corners.map(flat), voids: [] },
    { x: 0, y: 0 },
    { x: 1, y: 0 },
  );
  return stretches[0];
}

/** How far beside an arris a face is asked for, mm: it touches an area on whose very border it lies. */
const BESIDE = 0.01;

/** The corners of an edge's two arrises, each from its start to its end. */
const arrises = ({ corners: [a, b, c, d] }: PlateEdge): readonly (readonly [Vec, Vec])[] => [
  [a, b],
  [d, c],
];

/**
 * The arris of an edge that lies in a plane while the rest of the edge leans away on the plane's outer side and looks
 * at it: `height` is the distance outside the plane. Nothing where the edge lies in the plane, cuts it or stays off.
 */
function arrisInPlane(
  edge: PlateEdge,
  normal: Vec,
  height: (x: Vec) => number,
): readonly [Vec, Vec] | undefined {
  if (dot(edge.normal, normal) > -LEAST_LEAN) return undefined;
  const all = arrises(edge);
  const lying = all.filter((arris) => arris.every((x) => Math.abs(height(x)) <= SAME_PLACE));
  const away = all.filter((arris) => arris.every((x) => height(x) > SAME_PLACE));
  return lying.length === 1 && away.length === 1 ? lying[0] : undefined;
}

/** The stretches of a line over which an area lies beside it or on both sides. */
function alongArea(a: Point, b: Point, area: Area): Stretch[] {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const dir = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const window = (from: number, to: number): Point[] => {
    const at = (s: number, side: number): Point => ({
      x: a.x + dir.x * s - dir.y * side,
      y: a.y + dir.y * s + dir.x * side,
    });
    return [at(from, -BESIDE), at(to, -BESIDE), at(to, BESIDE), at(from, BESIDE)];
  };
  return covered(length, window, area, a, dir).map(([from, to]): Stretch => [Math.max(0, from), to]);
}

/**
 * Where an edge that leans against a side of another plate touches it along one of its arrises: the arris in the
 * side's plane within 0.001 mm, the rest of the edge outside. A square edge lies on the whole; see `edgeOnSide`.
 */
export function arrisOnSide(edge: PlateEdge, other: Plate, side: PlateSide): Stretch[] {
  const out = dot(side.normal, other.frame.n);
  const lying = arrisInPlane(edge, side.normal, (x) => out * (inPlate(other.frame, x).w - side.w));
  if (!lying) return [];
  return alongArea(inPlate(other.frame, lying[0]), inPlate(other.frame, lying[1]), side.area);
}

/**
 * Where an edge touches another edge along one of its own arrises, and which stretch of the other that covers: a
 * mortise's end, cut square to a plate that leans against the tenon.
 */
export function arrisOnEdge(
  edge: PlateEdge,
  other: PlateEdge,
): { readonly stretch: Stretch; readonly partnerStretch: Stretch } | undefined {
  const origin = other.corners[0];
  const lying = arrisInPlane(edge, other.normal, (x) => dot(minus(x, origin), other.normal));
  if (!lying) return undefined;
  const run = minus(other.corners[1], origin);
  const length = Math.hypot(...run);
  const rise = minus(other.corners[3], origin);
  const height = Math.hypot(...rise);
  const flat = (c: Vec): Point => ({
    x: dot(minus(c, origin), run) / length,
    y: dot(minus(c, origin), rise) / height,
  });
  const [from, to] = [flat(lying[0]), flat(lying[1])];
  const outer = [
    { x: 0, y: 0 },
    { x: length, y: 0 },
    { x: length, y: height },
    { x: 0, y: height },
  ];
  const [stretch] = alongArea(from, to, { outer, voids: [] });
  if (!stretch) return undefined;
  const whole = Math.hypot(to.x - from.x, to.y - from.y);
  const [p, q] = stretch.map((s) => from.x + ((to.x - from.x) * s) / whole).sort((x, y) => x - y);
  return { stretch, partnerStretch: [p!, q!] };
}
