import { circleRing, type Point } from '@haunch/geometry';
import type { Entity } from '../drawing.js';
import type { Stroke } from './repair.js';

/** How an entity is drawn; null for lettering, points, and curves that are no lines or arcs. */
export function entityStroke(e: Entity): Stroke | null {
  switch (e.kind) {
    case 'line':
    case 'arc':
      return {
        vertices: [
          { ...plain(e.from), bulge: e.kind === 'arc' ? e.bulge : 0 },
          { ...plain(e.to), bulge: 0 },
        ],
        closed: false,
      };
    case 'circle':
      return { vertices: circleRing(e.centre, e.radius).vertices, closed: true };
    case 'polyline':
      return { vertices: e.vertices, closed: e.closed };
    default:
      return null;
  }
}

const plain = (p: Point): Point => ({ x: p.x, y: p.y });

/** A place on an entity, to point at. */
export function someplaceOn(e: Entity): Point {
  switch (e.kind) {
    case 'line':
    case 'arc':
      return e.from;
    case 'circle':
    case 'ellipse':
      return e.centre;
    case 'spline':
      return plain(e.controls[0]!);
    case 'polyline':
      return plain(e.vertices[0]!);
    default:
      return e.at;
  }
}
