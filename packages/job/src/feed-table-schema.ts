import { z } from 'zod';
import { NumberSourceSchema } from './fit-table-schema.js';
import { PositiveLengthSchema } from './length-schema.js';

const provenance = { source: NumberSourceSchema.default('measured here'), note: z.string().optional() };
const material = z
  .enum(['softwood plywood', 'birch plywood', 'fibreboard', 'particleboard'])
  .describe("a board's `sheet`");
const direction = z.enum(['climb', 'conventional']);
const energy = z.number().positive().max(1000);

/** Chip loads of routers of one diameter in one material, a tooth. */
export const ChipLoadRowSchema = z
  .strictObject({
    material,
    diameter: PositiveLengthSchema,
    least: PositiveLengthSchema.describe('a tooth'),
    most: PositiveLengthSchema.describe('a tooth'),
    ...provenance,
  })
  .refine((r) => r.least <= r.most, { message: 'the least chip load must not exceed the most' });

/** Specific cutting energy of a material, N/mm². */
export const EnergyRowSchema = z
  .strictObject({ material, low: energy, usual: energy, high: energy, ...provenance })
  .refine((r) => r.low <= r.usual && r.usual <= r.high, { message: 'low, usual and high must rise' });

/** On which side of its travel a cutter keeps the walls of one material. */
export const DirectionRowSchema = z.strictObject({
  material,
  outline: direction,
  opening: direction,
  pocket: direction,
  ...provenance,
});

const share = z.strictObject({ value: z.number().positive().max(1), ...provenance });

/** What a shop cuts by, `haunch-feeds` version 1: what it leaves out stays as it is usual. */
export const FeedTableSchema = z.strictObject({
  format: z.literal('haunch-feeds'),
  version: z.literal(1),
  chipLoads: z.array(ChipLoadRowSchema).default([]),
  energies: z.array(EnergyRowSchema).default([]),
  directions: z.array(DirectionRowSchema).default([]),
  ownShare: share
    .exactOptional()
    .describe('share of the least chip load that a cutter is given which states none'),
  lightest: share.exactOptional().describe('share of the least chip load down to which nothing is said'),
  core: share.exactOptional().describe("share of a cutter's diameter that its flutes leave as a core"),
  bend: z
    .strictObject({ value: PositiveLengthSchema, ...provenance })
    .exactOptional()
    .describe('what a cutter may bend at its tip'),
});

/** What a shop cuts by, read. mm, N/mm². */
export type FeedTable = z.output<typeof FeedTableSchema>;
