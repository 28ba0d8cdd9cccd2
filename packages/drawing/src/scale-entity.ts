import { type Point, snap } from '@haunch/geometry';
import type { Entity } from './drawing.js';

/**
 * An entity in mm on the 0.0001 grid, from one in drawing units; null where rounding leaves it no size. Ellipses
 * and splines are scaled and not rounded.
 */
export function scaleEntity(e: Entity, factor: number): Entity | null {
  const at = (p: Point): Point => ({ x: snap(p.x * factor), y: snap(p.y * factor) });
  const place = { elevation: snap(e.elevation * factor), depth: snap(e.depth * factor) };
  const same = (a: Point, b: Point) => a.x === b.x && a.y === b.y;
  switch (e.kind) {
    case 'line': {
      const [from, to] = [at(e.from), at(e.to)];
      return same(from, to) ? null : { ...e, ...place, from, to };
    }
    case 'arc': {
      const [from, to] = [at(e.from), at(e.to)];
      const radius = snap(e.radius * factor);
      return same(from, to) || radius === 0
        ? null
        : { ...e, ...place, from, to, centre: at(e.centre), radius };
    }
    case 'circle': {
      const radius = snap(e.radius * factor);
      return radius === 0 ? null : { ...e, ...place, centre: at(e.centre), radius };
    }
    case 'polyline': {
      const vertices = e.vertices.map((v) => ({ ...v, ...at(v) }));
      return vertices.every((v) => same(v, vertices[0]!)) ? null : { ...e, ...place, vertices };
    }
    case 'ellipse': {
      const major = { x: e.major.x * factor, y: e.major.y * factor };
      if (snap(Math.hypot(major.x, major.y)) === 0) return null;
      return { ...e, ...place, centre: { x: e.centre.x * factor, y: e.centre.y * factor }, major };
    }
    case 'spline': {
      const grown = <P extends Point>(p: P): P => ({ ...p, x: p.x * factor, y: p.y * factor });
      const controls = e.controls.map(grown);
      const first = at(controls[0]!);
      if (controls.every((p) => same(at(p), first))) return null;
      return { ...e, ...place, controls, fit: e.fit.map(grown) };
    }
    case 'text':
      return { ...e, ...place, at: at(e.at), height: snap(e.height * factor) };
    case 'point':
      return { ...e, ...place, at: at(e.at) };
  }
}
