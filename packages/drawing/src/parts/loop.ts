import {
  type Box,
  circleRing,
  counterClockwise,
  type Point,
  type Ring,
  ringArea,
  ringBounds,
  snap,
} from '@haunch/geometry';
import type { Entity, PolylineEntity } from '../drawing.js';

/** A closed curve of the drawing with what it was made of. mm. */
export interface Loop {
  /** Counter-clockwise. */
  readonly ring: Ring;
  /** Set where the curve was drawn as a circle. */
  readonly circle: { readonly centre: Point; readonly radius: number } | null;
  readonly entities: readonly Entity[];
  readonly layer: string;
  readonly elevation: number;
  readonly depth: number;
  readonly area: number;
  readonly bounds: Box;
}

/** The first entity of a loop: its place in diagnostics. */
export const loopEntity = (l: Loop): Entity => l.entities[0]!;

function loopOf(ring: Ring, circle: Loop['circle'], entities: readonly Entity[]): Loop {
  const first = entities[0]!;
  const turned = counterClockwise(ring);
  return {
    ring: turned,
    circle,
    entities,
    layer: first.layer,
    elevation: first.elevation,
    depth: first.depth,
    area: ringArea(turned),
    bounds: ringBounds(turned),
  };
}

/** A loop of a circle entity. */
export function circleLoop(e: Entity & { readonly kind: 'circle' }): Loop {
  const r = circleRing(e.centre, e.radius);
  const ring = { vertices: r.vertices.map((v) => ({ ...v, x: snap(v.x), y: snap(v.y) })) };
  return loopOf(ring, { centre: e.centre, radius: e.radius }, [e]);
}

/** A loop of a closed polyline. */
export const polylineLoop = (e: PolylineEntity): Loop => loopOf({ vertices: e.vertices }, null, [e]);

/** A loop of a traced ring. */
export const tracedLoop = (ring: Ring, entities: readonly Entity[]): Loop =>
  loopOf(
    ring,
    null,
    [...entities].sort((a, b) => a.line - b.line),
  );

/** The same for two loops that are one and the same curve, wherever they begin. */
export function loopKey(l: Loop): string {
  const n = l.ring.vertices.length;
  const words = l.ring.vertices.map((v) => `${v.x},${v.y},${Number(v.bulge.toFixed(6)) + 0}`);
  let least = 0;
  for (let i = 1; i < n; i++) if (words[i]! < words[least]!) least = i;
  return [...words.slice(least), ...words.slice(0, least)].join(' ');
}

/** The same loop with another ring, or as a circle. */
export function reshaped(l: Loop, ring: Ring | null, circle: Loop['circle']): Loop {
  const round = circle === null ? null : circleRing(circle.centre, circle.radius);
  const shape = ring ?? { vertices: round!.vertices.map((v) => ({ ...v, x: snap(v.x), y: snap(v.y) })) };
  const turned = counterClockwise(shape);
  return { ...l, ring: turned, circle, area: ringArea(turned), bounds: ringBounds(turned) };
}
