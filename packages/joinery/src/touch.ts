import type { Point } from '@haunch/geometry';
import { along, dot, inPlate, minus, type Vec } from './frame.js';
import { type Area, areaInWindow, clipToWindow } from './overlap.js';
import type { Plate, PlateEdge, PlateSide } from './plate.js';
import { LEAST_CONTACT, SAME_PLACE } from './tolerances.js';

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
