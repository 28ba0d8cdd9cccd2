import type { Point, Vertex } from '@haunch/geometry';
import { segmentOfBulge } from '@haunch/geometry';
import { ellipseOfAxes } from './curves/ellipse.js';
import type { Entity, EntityPlace } from './drawing.js';
import { type Affine, growth, mapPoint, mapVector } from './svg-read/affine.js';

/** An affine map of the drawing plane, and of heights above it: z′ = rise·z + lift. */
export interface PlaneMap {
  readonly flat: Affine;
  readonly rise: number;
  readonly lift: number;
}

/** The map that does `inner` first. */
export const composeHeights = (outer: PlaneMap, inner: PlaneMap): Pick<PlaneMap, 'rise' | 'lift'> => ({
  rise: outer.rise * inner.rise,
  lift: outer.rise * inner.lift + outer.lift,
});

/** Relative difference of the lengths of both axes up to which a map keeps circles round. */
const ROUND = 1e-7;

/** Whether a map keeps shapes: turning, mirroring, moving, and scaling alike in all directions. */
function keepsShapes({ a, b, c, d }: Affine): boolean {
  const [u, v] = [Math.hypot(a, b), Math.hypot(c, d)];
  return Math.abs(u - v) <= ROUND * u && Math.abs(a * c + b * d) <= ROUND * u * v;
}

/**
 * An entity taken through a map. Arcs stay counter-clockwise and bulges change sign in a mirror; a map that
 * scales unlike in two directions makes ellipses of circles and arcs, and parts polylines that hold arcs.
 */
export function mapEntity(map: PlaneMap, e: Entity): readonly Entity[] {
  const { flat } = map;
  const at = (p: Point): Point => mapPoint(flat, p);
  const place = { elevation: map.rise * e.elevation + map.lift + 0, depth: map.rise * e.depth + 0 };
  const mirrored = flat.a * flat.d - flat.b * flat.c < 0;
  switch (e.kind) {
    case 'line':
      return [{ ...e, ...place, from: at(e.from), to: at(e.to) }];
    case 'point':
      return [{ ...e, ...place, at: at(e.at) }];
    case 'text': {
      const along = mapVector(flat, { x: Math.cos(e.turn), y: Math.sin(e.turn) });
      return [
        {
          ...e,
          ...place,
          at: at(e.at),
          height: e.height * growth(flat),
          turn: Math.atan2(along.y, along.x) + 0,
        },
      ];
    }
    case 'spline':
      return [
        {
          ...e,
          ...place,
          controls: e.controls.map((p) => ({ ...at(p), weight: p.weight })),
          fit: e.fit.map(at),
        },
      ];
    case 'ellipse': {
      const { x, y } = e.major;
      const minor = { x: -y * e.ratio, y: x * e.ratio };
      const shape = ellipseOfAxes(
        at(e.centre),
        mapVector(flat, e.major),
        mapVector(flat, minor),
        e.start,
        e.end,
      );
      return shape === null ? [] : [{ ...e, ...place, ...shape }];
    }
    case 'circle':
      return keepsShapes(flat)
        ? [{ ...e, ...place, centre: at(e.centre), radius: e.radius * growth(flat) }]
        : ellipseOf({ ...e, ...place }, flat, e.centre, e.radius, 0, 2 * Math.PI);
    case 'arc': {
      if (keepsShapes(flat)) {
        const [from, to] = mirrored ? [e.to, e.from] : [e.from, e.to];
        const centre = at(e.centre);
        return [{ ...e, ...place, from: at(from), to: at(to), centre, radius: e.radius * growth(flat) }];
      }
      const start = Math.atan2(e.from.y - e.centre.y, e.from.x - e.centre.x);
      const sweep = 4 * Math.atan(e.bulge);
      return ellipseOf({ ...e, ...place }, flat, e.centre, e.radius, start, start + sweep);
    }
    case 'polyline': {
      const bent = e.vertices.some((v, i) => v.bulge !== 0 && (e.closed || i + 1 < e.vertices.length));
      if (!bent || keepsShapes(flat)) {
        const turned = (v: Vertex): Vertex => ({
          ...v,
          ...at(v),
          bulge: bent && mirrored ? -v.bulge + 0 : v.bulge,
        });
        return [{ ...e, ...place, vertices: e.vertices.map(turned) }];
      }
      const n = e.vertices.length;
      return e.vertices.slice(0, e.closed ? n : n - 1).flatMap((v, i): readonly Entity[] => {
        const s = segmentOfBulge(v, e.vertices[(i + 1) % n]!, v.bulge);
        const own = { ...placeOnly(e), ...place };
        if (s.kind === 'line') return [{ kind: 'line', ...own, from: at(s.from), to: at(s.to) }];
        const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
        return ellipseOf(own, flat, s.centre, s.radius, start, start + s.sweep);
      });
    }
  }
}

const placeOnly = (e: EntityPlace): EntityPlace => ({
  layer: e.layer,
  handle: e.handle,
  line: e.line,
  elevation: e.elevation,
  depth: e.depth,
  ...(e.colour === undefined ? {} : { colour: e.colour }),
  ...(e.filled === undefined ? {} : { filled: e.filled }),
  ...(e.hiddenBy === undefined ? {} : { hiddenBy: e.hiddenBy }),
});

function ellipseOf(
  place: EntityPlace,
  flat: Affine,
  centre: Point,
  radius: number,
  s0: number,
  s1: number,
): readonly Entity[] {
  const u = mapVector(flat, { x: radius, y: 0 });
  const v = mapVector(flat, { x: 0, y: radius });
  const shape = ellipseOfAxes(mapPoint(flat, centre), u, v, s0, s1);
  return shape === null ? [] : [{ kind: 'ellipse', ...placeOnly(place), ...shape }];
}

/** Whether all coordinates and sizes of an entity are within `most`. */
export function withinReach(e: Entity, most: number): boolean {
  const near = (...values: readonly number[]): boolean => values.every((v) => Math.abs(v) <= most);
  const at = (p: Point): boolean => near(p.x, p.y);
  if (!near(e.elevation, e.depth)) return false;
  switch (e.kind) {
    case 'line':
      return at(e.from) && at(e.to);
    case 'arc':
      return at(e.from) && at(e.to) && at(e.centre) && near(e.radius);
    case 'circle':
      return at(e.centre) && near(e.radius);
    case 'polyline':
      return e.vertices.every(at);
    case 'ellipse':
      return at(e.centre) && at(e.major);
    case 'spline':
      return e.controls.every(at) && e.fit.every(at);
    case 'text':
      return at(e.at) && near(e.height);
    case 'point':
      return at(e.at);
  }
}
