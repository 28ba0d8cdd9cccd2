import { z } from 'zod';
import { LengthSchema, PositiveLengthSchema } from './length-schema.js';

/** Where a number comes from: a published source (named in the note), somebody's memory, what the trade does, or the shop's own measuring. */
export const NumberSourceSchema = z.enum(['published', 'from memory', 'common practice', 'measured here']);

const provenance = { source: NumberSourceSchema.default('measured here'), note: z.string().optional() };

/** A clearance that is wanted and the range in which it still counts as wanted; mm, or text with a unit. */
export const FitCellSchema = z
  .strictObject({ wanted: LengthSchema, window: z.tuple([LengthSchema, LengthSchema]), ...provenance })
  .refine((c) => c.window[0] <= c.wanted && c.wanted <= c.window[1], {
    message: 'what is wanted must lie in its window, least first',
  });

/** A single number of the table. */
const share = z.strictObject({ value: z.number(), ...provenance });
const length = z.strictObject({ value: PositiveLengthSchema, ...provenance });

/** One row: for a material, a family of joints, both, or everything; what it does not say comes from the less particular rows. */
export const FitRowSchema = z.strictObject({
  /** A board's `material` (its stock where that is left out). */
  material: z.string().min(1).optional(),
  /** Words of a mate's type, such as `mortise and tenon` or `cross-lap`. */
  joint: z.string().min(1).optional(),
  /** With the mallet. */
  drive: FitCellSchema.optional(),
  /** By hand. */
  snug: FitCellSchema.optional(),
  /** Loose. */
  slip: FitCellSchema.optional(),
  /** A tenon's width in its mortise's length. */
  ends: FitCellSchema.optional(),
  /** Where laps bottom on each other. */
  seat: FitCellSchema.optional(),
  /** By which share a plate's thickness grows for each per cent of moisture content. */
  swelling: share.optional(),
});

/** The doubts on which the forecast rests, standard uncertainties. */
export const FitDoubtsSchema = z.strictObject({
  /** A cutter known by its label alone. */
  cutterByLabel: length.optional(),
  /** From slot to slot of one machine. */
  slotToSlot: length.optional(),
});

/** The fits of a shop, `haunch-fits` version 1. */
export const FitTableSchema = z.strictObject({
  format: z.literal('haunch-fits'),
  version: z.literal(1),
  rows: z.array(FitRowSchema),
  doubts: FitDoubtsSchema.default({}),
  /** Step from rung to rung of a ladder. */
  ladderStep: length.optional(),
});

/** A shop's fits, read. mm. */
export type FitTable = z.output<typeof FitTableSchema>;
/** A row of a shop's fits. mm. */
export type FitRow = z.output<typeof FitRowSchema>;
/** A clearance of a shop's fits. mm. */
export type FitCell = z.output<typeof FitCellSchema>;
/** Where a number comes from. */
export type NumberSource = z.output<typeof NumberSourceSchema>;
