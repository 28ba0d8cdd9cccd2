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
const common = { v: z.literal(1), when, note: z.string().optional() };

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
  cutter: text,
  grinding: z.number().int().min(0),
  answers: z.array(z.strictObject({ rung: text, felt: z.enum(FELT) })).readonly(),
  drive: z.number(),
  snug: z.number(),
  slip: z.number(),
  u: z.number().min(0),
});
/** A program was cut: how far the cutter ran. metres. */
export const CutEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('cut'),
  job: text,
  board: text,
  cutter: text,
  metres: z.number().min(0),
});
/** How a joint felt at assembly, beside the clearance that the proof foretold. mm. */
export const FeltEntrySchema = z.strictObject({
  ...common,
  kind: z.literal('felt'),
  job: text,
  joint: text,
  stock: text,
  foretold: z.number(),
  felt: z.enum(['tight', 'right', 'loose']),
});

/** The line before this one was torn off in the middle; its text, so that it is plain which was meant. */
export const TornEntrySchema = z.strictObject({ ...common, kind: z.literal('torn'), text: z.string() });

/** One line of the day book, `v` 1. */
export const DayBookEntrySchema = z.discriminatedUnion('kind', [
  BoardEntrySchema,
  OffCutEntrySchema,
  CutterEntrySchema,
  LadderEntrySchema,
  CutEntrySchema,
  FeltEntrySchema,
  TornEntrySchema,
]);

/** One line of the day book. */
export type DayBookEntry = z.output<typeof DayBookEntrySchema>;
