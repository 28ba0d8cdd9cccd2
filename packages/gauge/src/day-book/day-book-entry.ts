import { z } from 'zod';
import { FELT } from '../ladder/felt.js';

const text = z.string().min(1);
const when = z.iso.datetime({ offset: true });
const place = z.strictObject({ x: z.number(), y: z.number() });
const reading = z.strictObject({
  thickness: z.number().positive(),
  at: place.optional(),
  repeatability: z.number().positive().optional(),
});
/** Lines of version 1 that mean the same in version 2 may still be written as such. */
const common = { v: z.union([z.literal(1), z.literal(2)]), when, note: z.string().optional() };

/** Another board under an old name: what was cut from that one is not missing from this. Left out, the same board was measured again. */
const anew = z.boolean().optional();

/** A sheet was measured. mm. */
export const BoardEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('board'),
  board: text,
  stock: text,
  width: z.number().positive(),
  height: z.number().positive(),
  readings: z.array(reading).readonly(),
  instrument: z.string().optional(),
  temperature: z.number().optional(),
  humidity: z.number().min(0).max(100).optional(),
  /** Along which of its edges the grain of its faces runs; X when left out. */
  grain: z.enum(['x', 'y', 'none']).optional(),
  /** Flaws, as the board lies when it is cut; those that it had when left out, and none of another board under its name. */
  defects: z
    .array(
      z.strictObject({
        box: z.tuple([z.number(), z.number(), z.number(), z.number()]).readonly(),
        face: z.enum(['up', 'down', 'both']),
      }),
    )
    .readonly()
    .optional(),
  anew,
});
/** What was left of a sheet: where it lay in its parent (turned over, turned in radians, moved), for its map. mm. */
export const OffCutEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('off-cut'),
  board: text,
  parent: text,
  width: z.number().positive(),
  height: z.number().positive(),
  motion: z.strictObject({ turnedOver: z.boolean(), turn: z.number(), x: z.number(), y: z.number() }),
  anew,
});
/** A cutter's diameter was measured after so many metres; `grinding` counts its regrinds. mm; metres. */
export const CutterEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('cutter'),
  cutter: text,
  grinding: z.number().int().min(0),
  metres: z.number().min(0),
  diameter: z.number().positive(),
  u: z.number().positive(),
});
/** A ladder was cut and tried. mm. */
export const LadderEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('ladder'),
  board: text,
  stock: text,
  /** What the board is made of, which tables of fits speak for; the stock when left out. */
  material: text.optional(),
  cutter: text,
  grinding: z.number().int().min(0),
  answers: z.array(z.strictObject({ rung: text, felt: z.enum(FELT) })).readonly(),
  drive: z.number(),
  snug: z.number(),
  slip: z.number(),
  u: z.number().min(0),
});
/** A board or off-cut is used up. */
export const GoneEntrySchema = z.strictObject({ ...common, kind: z.literal('gone'), board: text });
/** A cutter was ground, or another one put in its place: its diameter is unknown until the next ladder. `grinding` counts both. */
export const GroundEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('ground'),
  cutter: text,
  grinding: z.number().int().min(1),
  why: z.enum(['ground', 'swapped']),
});
/**
 * A program was cut, `times` in all so far: how far each cutter runs in it. The program is known by the SHA-256 of its text, so that
 * entering it again changes nothing; null where a book of version 1 has it. metres.
 */
export const CutEntrySchema = z.strictObject({
  ...common,
  v: z.literal(2),
  kind: z.literal('cut'),
  job: text,
  board: text,
  program: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .nullable(),
  times: z.number().int().min(1),
  runs: z.array(z.strictObject({ cutter: text, metres: z.number().min(0) })).readonly(),
});
/** A cutter ran elsewhere, in no program of these. metres. */
export const RanEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('ran'),
  cutter: text,
  metres: z.number().positive(),
});
/** What a joint may feel like at assembly. */
export const JOINT_FELT = ['tight', 'right', 'loose'] as const;
/**
 * How a joint felt at assembly, beside the clearance that the proof foretold and within which it counts as wanted. `make` tells
 * pieces apart (the programs they were cut by); null where a book of version 1 has it. mm.
 */
export const FeltEntrySchema = z.strictObject({
  ...common,
  v: z.literal(2),
  kind: z.literal('felt'),
  job: text,
  make: z.string().nullable(),
  joint: text,
  stock: text,
  /** What the slot's board is made of, which tables of fits speak for; the stock when left out. */
  material: text.optional(),
  foretold: z.number(),
  felt: z.enum(JOINT_FELT),
});

/** The line before this one was torn off in the middle; its text, so that it is plain which was meant. */
export const TornEntrySchema = z.strictObject({ ...common, kind: z.literal('torn'), text: z.string() });

/** One line of the day book, `v` 2. */
export const DayBookEntrySchema = z.discriminatedUnion('kind', [
  BoardEntrySchema,
  OffCutEntrySchema,
  GoneEntrySchema,
  CutterEntrySchema,
  GroundEntrySchema,
  LadderEntrySchema,
  CutEntrySchema,
  RanEntrySchema,
  FeltEntrySchema,
  TornEntrySchema,
]);

/** One line of the day book. */
export type DayBookEntry = z.output<typeof DayBookEntrySchema>;
