import type { Point, Vertex } from '@haunch/geometry';
import { ellipseOfAxes } from '../curves/ellipse.js';
import { splineThrough } from '../curves/fit-point-spline.js';
import type { Entity, EntityPlace } from '../drawing.js';
import { mapEntity } from '../entity-map.js';
import { splineProblem } from './curve-readers.js';
import { heightOf, lieOf, placeOf } from './entity-place.js';
import type { EntityReader } from './raw-entity.js';
import type { Tags } from './tags.js';

const DEGREE = Math.PI / 180;
const POLYLINE = 2;
/** Boundaries of text boxes. */
const TEXT_BOX = 8;
/** Seen from behind: x mirrored. */
const BEHIND = { flat: { a: -1, b: 0, c: 0, d: 1, e: 0, f: 0 }, rise: 1, lift: 0 };

/** SOLID and TRACE: corners 10, 11, 13, 12 in turn; the last two may be one. */
export const readFilledQuad: EntityReader = (t) => {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const last = t.has(13) ? 13 : 12;
  const vertices: Vertex[] = [10, 11, last, 12].map((code) => ({
    x: t.number(code),
    y: t.number(code + 10),
    bulge: 0,
  }));
  if (last === 12) vertices.pop();
  const kept = vertices.filter((v, i) => {
    const w = vertices[(i + 1) % vertices.length]!;
    return v.x !== w.x || v.y !== w.y;
  });
  if (kept.length < 3) return 'no size';
  const place = placeOf(t, heightOf(t), lie === 'mirrored');
  const quad: Entity = { kind: 'polyline', ...place, filled: t.type, vertices: kept, closed: true };
  return lie === 'mirrored' ? mapEntity(BEHIND, quad) : quad;
};

/** Reads the groups of a HATCH in turn: their meaning depends on what came before. */
class GroupWalk {
  #at = 0;

  constructor(private readonly t: Tags) {}

  /** The code of the next group; −1 at the end. */
  get code(): number {
    return this.#at < this.t.count ? this.t.codeAt(this.#at) : -1;
  }

  /** Goes on to the next group with one of these codes and answers its value; null where there is none. */
  find(...codes: readonly number[]): number | null {
    while (this.#at < this.t.count)
      if (codes.includes(this.t.codeAt(this.#at++))) return this.t.numberAt(this.#at - 1);
    return null;
  }

  /** The value of the next group if it has this code, else what is taken instead. */
  take(code: number, otherwise: number): number {
    if (this.code !== code) return otherwise;
    return this.t.numberAt(this.#at++);
  }

  point(code: number): Point {
    const x = this.find(code) ?? 0;
    return { x, y: this.take(code + 10, 0) };
  }
}

/** HATCH: its boundary paths as entities that bound a filled area (DXF reference, "boundary path data"). */
export const readHatch: EntityReader = (t) => {
  const lie = lieOf(t);
  if (lie === 'tilted') return 'not flat';
  const place = { ...placeOf(t, t.numberOr(30, 0), lie === 'mirrored'), filled: 'HATCH' };
  const walk = new GroupWalk(t);
  const paths = Math.min(walk.find(91) ?? 0, t.count);
  const out: Entity[] = [];
  for (let k = 0; k < paths; k++) {
    const flags = walk.find(92);
    if (flags === null) break;
    const path = (flags & POLYLINE) !== 0 ? polylinePath(walk, place) : edgePath(walk, place, t);
    if ((flags & TEXT_BOX) === 0) out.push(...path);
  }
  if (out.length === 0) return 'no size';
  return lie === 'mirrored' ? out.flatMap((e) => mapEntity(BEHIND, e)) : out;
};

function polylinePath(walk: GroupWalk, place: EntityPlace): Entity[] {
  const count = walk.find(93) ?? 0;
  const vertices: Vertex[] = [];
  while (vertices.length < count && walk.code === 10) {
    const p = walk.point(10);
    vertices.push({ ...p, bulge: walk.take(42, 0) });
  }
  const [first, last] = [vertices[0], vertices.at(-1)];
  if (vertices.length > 2 && first!.x === last!.x && first!.y === last!.y) vertices.pop();
  const kept = vertices.filter((v, i) => i === 0 || v.x !== vertices[i - 1]!.x || v.y !== vertices[i - 1]!.y);
  return kept.length < 2 ? [] : [{ kind: 'polyline', ...place, vertices: kept, closed: true }];
}

function edgePath(walk: GroupWalk, place: EntityPlace, t: Tags): Entity[] {
  const count = Math.min(walk.find(93) ?? 0, t.count);
  const out: Entity[] = [];
  for (let k = 0; k < count; k++) {
    const type = walk.find(72);
    if (type === null) break;
    const edge =
      type === 1
        ? lineEdge(walk, place)
        : type === 4
          ? splineEdge(walk, place)
          : roundEdge(walk, place, type === 3);
    if (edge !== null) out.push(edge);
  }
  return out;
}

function lineEdge(walk: GroupWalk, place: EntityPlace): Entity | null {
  const from = walk.point(10);
  const to = walk.point(11);
  return from.x === to.x && from.y === to.y ? null : { kind: 'line', ...place, from, to };
}

/** An arc or ellipse: angles in degrees, counted clockwise where group 73 is 0. */
function roundEdge(walk: GroupWalk, place: EntityPlace, elliptic: boolean): Entity | null {
  const centre = walk.point(10);
  const major = elliptic ? walk.point(11) : null;
  const size = walk.find(40) ?? 0;
  const a = (walk.find(50) ?? 0) * DEGREE;
  const b = pastZero(a, (walk.find(51) ?? 0) * DEGREE);
  const side = walk.find(73) === 0 ? -1 : 1;
  if (major !== null) {
    const minor = { x: -major.y * size, y: major.x * size };
    const shape = ellipseOfAxes(centre, major, minor, side * a, side * b);
    return shape === null ? null : { kind: 'ellipse', ...place, ...shape };
  }
  if (!(size > 0)) return null;
  const full = 2 * Math.PI;
  const sweep = b - a;
  if (sweep < 1e-9 || sweep > full - 1e-4) return { kind: 'circle', ...place, centre, radius: size };
  const start = side < 0 ? -b : a;
  const on = (angle: number): Point => ({
    x: centre.x + size * Math.cos(angle),
    y: centre.y + size * Math.sin(angle),
  });
  const bulge = Math.tan(sweep / 4);
  return { kind: 'arc', ...place, from: on(start), to: on(start + sweep), bulge, centre, radius: size };
}

/** An end before its start means the way round past 0, as of an ARC. */
const pastZero = (start: number, end: number): number =>
  end >= start ? end : end + 2 * Math.PI * Math.ceil((start - end) / (2 * Math.PI));

function splineEdge(walk: GroupWalk, place: EntityPlace): Entity | null {
  const degree = walk.find(94) ?? 3;
  const rational = walk.find(73) === 1;
  walk.find(74);
  const knotCount = walk.find(95) ?? 0;
  const controlCount = walk.find(96) ?? 0;
  const knots: number[] = [];
  while (knots.length < knotCount && walk.code === 40) knots.push(walk.take(40, 0));
  const controls: { x: number; y: number; weight: number }[] = [];
  while (controls.length < controlCount && walk.code === 10) {
    const p = walk.point(10);
    const weight = walk.take(42, 1);
    controls.push({ ...p, weight: rational ? weight : 1 });
  }
  const fit: Point[] = [];
  const fitCount = walk.code === 97 ? walk.take(97, 0) : 0;
  while (fit.length < fitCount && walk.code === 11) fit.push(walk.point(11));
  const shape = { degree, controls, knots };
  const spline = { kind: 'spline' as const, ...place, closed: false, fit };
  if (splineProblem(shape) === null) return { ...spline, ...shape };
  const through = splineThrough(fit, false, null, null);
  return through === null ? null : { ...spline, ...through };
}
