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
export type Entity = LineEntity | ArcEntity | CircleEntity | PolylineEntity | TextEntity | PointEntity;

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

/** What a file says: layers and entities in file order, coordinates in mm on the 0.0001 grid. Plain data. */
export interface Drawing {
  readonly kind: 'drawing';
  readonly file: string;
  /** The format version that the file states (`AC1015`, `SVG 1.1`), or `unknown`. */
  readonly version: string;
  readonly unit: DrawingUnit;
  readonly layers: readonly DrawingLayer[];
  readonly entities: readonly Entity[];
}
