import { z } from 'zod';

const edges = z.array(z.string().min(1)).min(1).readonly();
const point = z.strictObject({ x: z.number(), y: z.number() });

/** What a feature of a flat part is: what another plate enters, or what enters another plate. */
export const FeatureKindSchema = z.enum(['slot', 'notch', 'tenon', 'fingers', 'housing']);

/**
 * What stays where it is when a feature follows a new thickness: `centre` its middle, `first` or `second` one of its
 * sides; `usual` its middle for slots, notches and housings and its first side for tenons and fingers, and gives way
 * where something else is asked for.
 */
export const FeatureHoldSchema = z.enum(['usual', 'centre', 'first', 'second']);

/** A feature with a size that follows the sheet's thickness, and the edges that carry it. mm */
export const FeatureSchema = z.strictObject({
  id: z.string().min(1),
  part: z.string().min(1),
  contour: z.string().min(1),
  kind: FeatureKindSchema,
  /** Whether the size is a width (wall to wall) or a depth (shoulder or floor to tip or edge). */
  measure: z.enum(['width', 'depth']),
  /** The drawn distance between its sides. */
  size: z.number().positive(),
  /** How far it reaches across its size: a slot's length, a notch's depth, a tenon's width. */
  extent: z.number().nonnegative(),
  /** How many such features it stands for: the tips of a finger run; 1 otherwise. */
  count: z.number().int().positive(),
  /** The design thickness that its size stands for, and how many sheets thick it is. */
  thickness: z.number().positive(),
  sheets: z.union([z.literal(1), z.literal(2)]),
  /** Edges of the one side and of the other: two walls, or shoulders (floors) and tips (edges). */
  sides: z.tuple([edges, edges]),
  hold: FeatureHoldSchema,
  /** 0 … 1 */
  confidence: z.number().min(0).max(1),
  /** False to leave it as it is drawn. */
  follows: z.boolean(),
  /** Plain sentences for people. */
  reasons: z.array(z.string()).readonly(),
  /** The middle of the feature, to find it by. */
  at: point,
});

/** A corner that has a relief drawn in it, which travels with the corner. mm */
export const DrawnReliefSchema = z.strictObject({
  part: z.string().min(1),
  contour: z.string().min(1),
  form: z.enum(['round relief', 'square relief']),
  corner: point,
  size: z.number().positive(),
  edges,
});

/**
 * `haunch-features` version 1: what was recognised in a drawing. People may change `hold`, `follows`, `thickness`,
 * `sheets`, leave features out, and name parts whose overall size stays; the rest says what the drawing holds.
 */
export const FeatureTableSchema = z.strictObject({
  format: z.literal('haunch-features'),
  version: z.literal(1),
  /** The file that the parts were read from. */
  file: z.string().nullable(),
  units: z.literal('mm'),
  /** The thicknesses that the drawing was made for, as confirmed. */
  thicknesses: z.array(z.number().positive()).min(1).readonly(),
  features: z.array(FeatureSchema).readonly(),
  reliefs: z.array(DrawnReliefSchema).readonly(),
  /** Parts whose overall size stays: their outermost straight edges do not move. */
  outerSize: z.array(z.string()).readonly(),
});

/** What a feature is. */
export type FeatureKind = z.infer<typeof FeatureKindSchema>;
/** What of a feature stays where it is. */
export type FeatureHold = z.infer<typeof FeatureHoldSchema>;
/** A feature that follows a thickness. mm */
export type Feature = z.infer<typeof FeatureSchema>;
/** A relief drawn at a corner. mm */
export type DrawnRelief = z.infer<typeof DrawnReliefSchema>;
/** The features of a drawing, as they are exported, corrected and given back. mm. Plain data. */
export type FeatureTable = z.infer<typeof FeatureTableSchema>;
