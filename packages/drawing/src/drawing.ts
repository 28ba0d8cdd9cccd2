import type { Point, Vertex } from '@haunch/geometry';

/** What every entity of a drawing carries: where it stands in the file and in space. mm. */
export interface EntityPlace {
  readonly layer: string;
  /** The entity's handle in the file (of an SVG, its id); null where it has none. */
  readonly handle: string | null;
  /** Line of the file at which the entity begins, from 1. */
  readonly line: number;
  /** Height above the drawing plane (DXF group 38, or the z of its points). */
  readonly elevation: number;
  /** Extent along the normal of the drawing plane (DXF group 39); 0 where none is stated. */
  readonly depth: number;
  /** The colour number (1 to 255) that the entity has of its own in a DXF; absent where it has its layer's. */
  readonly colour?: number;
  /** Set where the entity bounds a filled area (by this type of entity) instead of being a line of its own. */
  readonly filled?: string;
  /** Set where the entity stands for a curve, which it follows within 0.01 mm. */
  readonly followed?: 'ellipse' | 'spline';
  /** The frozen layer of a block reference that hides the entity, whatever its own layer says. */
  readonly hiddenBy?: string;
}

/** A straight stretch. mm. */
export interface LineEntity extends EntityPlace {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/** A circular arc, always counter-clockwise from `from` to `to`; `bulge` = tan(sweep/4) > 0. mm. */
export interface ArcEntity extends EntityPlace {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
  readonly centre: Point;
  readonly radius: number;
}

/** A full circle. mm. */
export interface CircleEntity extends EntityPlace {
  readonly kind: 'circle';
  readonly centre: Point;
  readonly radius: number;
}

/** A run of lines and arcs in one entity. The bulge of an open polyline's last vertex means nothing. mm. */
export interface PolylineEntity extends EntityPlace {
  readonly kind: 'polyline';
  readonly vertices: readonly Vertex[];
  readonly closed: boolean;
}

/**
 * An ellipse or an arc of one: P(s) = centre + major·cos s + ratio·left(major)·sin s, counter-clockwise from
 * `start` to `end` (radians of the parameter, 0 ≤ start < 2π, start < end ≤ start + 2π); left() turns a quarter
 * counter-clockwise. mm; not rounded to the grid, as that would bend it.
 */
export interface EllipseEntity extends EntityPlace {
  readonly kind: 'ellipse';
  readonly centre: Point;
  readonly major: Point;
  /** Minor to major half-axis, in (0, 1]. */
  readonly ratio: number;
  readonly start: number;
  readonly end: number;
}

/** A control point of a spline with its weight, greater than 0. */
export interface ControlPoint extends Point {
  readonly weight: number;
}

/**
 * A non-uniform rational B-spline, from knots[degree] to knots[controls.length]. mm; not rounded to the grid, as
 * that would bend it. There are degree + controls.length + 1 knots, none smaller than the one before.
 */
export interface SplineEntity extends EntityPlace {
  readonly kind: 'spline';
  readonly degree: number;
  readonly controls: readonly ControlPoint[];
  readonly knots: readonly number[];
  /** Whether the file calls it closed. */
  readonly closed: boolean;
  /** The points that it was drawn through, where the file states them. */
  readonly fit: readonly Point[];
}

/** Lettering as plain text: formatting codes are taken out. Height mm, turn radians counter-clockwise. */
export interface TextEntity extends EntityPlace {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  readonly height: number;
  readonly turn: number;
}

/** A marked place. mm. */
export interface PointEntity extends EntityPlace {
  readonly kind: 'point';
  readonly at: Point;
}

/** One thing that a drawing holds, in model space. mm. */
export type Entity =
  | LineEntity
  | ArcEntity
  | CircleEntity
  | PolylineEntity
  | EllipseEntity
  | SplineEntity
  | TextEntity
  | PointEntity;

/** A layer as the file's layer table states it. */
export interface DrawingLayer {
  readonly name: string;
  readonly off: boolean;
  readonly frozen: boolean;
  /** Colour number of the file, without the sign that turns a layer off; of an SVG the first stroke as 0xRRGGBB. */
  readonly colour: number;
}

/** The names of the units that a drawing can be read in. */
export type UnitName = 'mm' | 'cm' | 'm' | 'inch';

/** The unit that the file's numbers were taken to be in, and why. */
export interface DrawingUnit {
  readonly name: string;
  /** Millimetres in one unit of the file. */
  readonly factor: number;
  readonly basis: 'header' | 'given' | 'guessed' | 'assumed';
  /** One plain sentence. */
  readonly reason: string;
}

/**
 * What a file says: layers and entities in file order (those of a block where it is referred to), coordinates in
 * mm on the 0.0001 grid, but for ellipses and splines. Plain data.
 */
export interface Drawing {
  readonly kind: 'drawing';
  readonly file: string;
  /** The format version that the file states (`AC1015`, `SVG 1.1`), or `unknown`. */
  readonly version: string;
  readonly unit: DrawingUnit;
  readonly layers: readonly DrawingLayer[];
  readonly entities: readonly Entity[];
}
