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
  /** Counter-clockwise; edges tagged with the number of their entity where there are several. */
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

/** A loop of a traced ring, and the entities that its edges were drawn as. */
export function tracedLoop(ring: Ring, edges: readonly Entity[]): Loop {
  const entities = [...new Set(edges)].sort((a, b) => a.line - b.line);
  const numbers = new Map(entities.map((e, i) => [e, String(i)]));
  const vertices = ring.vertices.map(({ x, y, bulge }, i) => ({ x, y, bulge, tag: numbers.get(edges[i]!)! }));
  return loopOf({ vertices }, null, entities);
}

/** The entity that an edge of a loop was drawn as, by the edge's tag. */
export const edgeEntity = (l: Loop, tag: string | undefined): Entity =>
  (tag === undefined ? undefined : l.entities[Number(tag)]) ?? loopEntity(l);

/** The same loop with another ring, or as a circle. */
export function reshaped(l: Loop, ring: Ring | null, circle: Loop['circle']): Loop {
  const round = circle === null ? null : circleRing(circle.centre, circle.radius);
  const shape = ring ?? { vertices: round!.vertices.map((v) => ({ ...v, x: snap(v.x), y: snap(v.y) })) };
  const turned = counterClockwise(shape);
  return { ...l, ring: turned, circle, area: ringArea(turned), bounds: ringBounds(turned) };
}
