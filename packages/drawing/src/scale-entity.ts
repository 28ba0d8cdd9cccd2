import { type Point, snap } from '@haunch/geometry';
import type { Entity, EntityPlace } from './drawing.js';

type Writable<T> = { -readonly [K in keyof T]: T[K] };

function place(p: Point, factor: number): void {
  const w = p as Writable<Point>;
  w.x = snap(p.x * factor);
  w.y = snap(p.y * factor);
}

function grow(p: Point, factor: number): void {
  const w = p as Writable<Point>;
  w.x = p.x * factor;
  w.y = p.y * factor;
}

const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

/**
 * Puts an entity that nobody else holds from drawing units into mm on the 0.0001 grid, in place: a copy of every
 * point would double what a large drawing costs. Ellipses and splines are scaled and not rounded. False where
 * rounding leaves it no size; such an entity is spoilt.
 */
export function scaleEntity(e: Entity, factor: number): boolean {
  const p = e as Writable<EntityPlace>;
  p.elevation = snap(e.elevation * factor);
  p.depth = snap(e.depth * factor);
  switch (e.kind) {
    case 'line':
      place(e.from, factor);
      place(e.to, factor);
      return !same(e.from, e.to);
    case 'arc':
      place(e.from, factor);
      place(e.to, factor);
      place(e.centre, factor);
      (e as Writable<typeof e>).radius = snap(e.radius * factor);
      return !same(e.from, e.to) && e.radius !== 0;
    case 'circle':
      place(e.centre, factor);
      (e as Writable<typeof e>).radius = snap(e.radius * factor);
      return e.radius !== 0;
    case 'polyline':
      for (const v of e.vertices) place(v, factor);
      return e.vertices.some((v) => !same(v, e.vertices[0]!));
    case 'ellipse':
      grow(e.major, factor);
      grow(e.centre, factor);
      return snap(Math.hypot(e.major.x, e.major.y)) !== 0;
    case 'spline': {
      for (const c of e.controls) grow(c, factor);
      for (const f of e.fit) grow(f, factor);
      const at = (c: Point): Point => ({ x: snap(c.x), y: snap(c.y) });
      const first = at(e.controls[0]!);
      return e.controls.some((c) => !same(at(c), first));
    }
    case 'text':
      place(e.at, factor);
      (e as Writable<typeof e>).height = snap(e.height * factor);
      return true;
    case 'point':
      place(e.at, factor);
      return true;
  }
}
