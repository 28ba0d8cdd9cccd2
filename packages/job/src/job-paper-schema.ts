import { z } from 'zod';
import { NonNegativeLengthSchema, PositiveLengthSchema } from './length-schema.js';
import { labelProblems } from './paper/label-problems.js';

const money = z.number().min(0);
const minutes = z.number().min(0).max(10_000);

/** What a quote reckons with. Money in the currency named; shares from 0 to 1. */
export const JobRatesSchema = z.strictObject({
  /** As it is printed: `EUR`, `kr`. */
  currency: z.string().min(1).max(8),
  machineHour: money.default(0).describe('an hour of the machine, running'),
  benchHour: money.default(0).describe('an hour of a person, setting up, sanding, sorting'),
  setUpMinutes: minutes
    .default(20)
    .describe('loading, measuring and zeroing for one side of a board; common practice, no source'),
  partMinutes: minutes
    .default(3)
    .describe('cutting off the tabs of a part and breaking its edges; common practice, no source'),
  sandMinutes: minutes
    .default(4)
    .describe('sanding one joint that comes out tight; common practice, no source'),
  sheets: z
    .record(
      z.string(),
      z.union([
        money,
        z.strictObject({ price: money, width: PositiveLengthSchema, height: PositiveLengthSchema }),
      ]),
    )
    .default({})
    .describe(
      'price of a board by its id, stock or material: of the board itself, or of a sheet of the size given, of which the board is a share',
    ),
  offCutCredit: z
    .number()
    .min(0)
    .max(1)
    .default(0.5)
    .describe('share of its price that a kept off-cut is credited with'),
  leastOffCut: z
    .tuple([NonNegativeLengthSchema, NonNegativeLengthSchema])
    .default([600, 250])
    .describe('an off-cut is kept from this size on, longer side first; common practice, no source'),
  cutters: z
    .record(z.string(), z.strictObject({ price: money, metres: z.number().positive() }))
    .default({})
    .describe('price of a cutter and the metres that it cuts until it is blunt, by id'),
  markUp: z.number().min(0).max(10).default(0).describe('added to the costs, as a share of them'),
  tax: z.number().min(0).max(1).default(0).describe('added to it all, as a share'),
});

const pair = z.tuple([NonNegativeLengthSchema, NonNegativeLengthSchema]);

/** A sheet of labels by plain geometry: so many across and down; the paper's own margins and the gaps between labels. mm */
export const JobLabelsSchema = z.strictObject({
  columns: z.number().int().min(1).max(12),
  rows: z.number().int().min(1).max(30),
  margin: pair.default([0, 0]).describe('left and right, top and bottom'),
  gap: pair.default([0, 0]).describe('between columns, between rows'),
});

/** What is printed for the shop, and how. */
export const JobPaperSchema = z
  .strictObject({
    page: z.enum(['A4', 'Letter']).default('A4'),
    unit: z.enum(['mm', 'inch']).default('mm').describe('of all lengths on paper'),
    labels: JobLabelsSchema.prefault({ columns: 3, rows: 8 }),
    rates: JobRatesSchema.exactOptional().describe('what a quote reckons with; quantities alone without'),
  })
  .superRefine(({ page, labels }, context) => {
    for (const { message } of labelProblems({ page, labels }))
      context.addIssue({ code: 'custom', path: ['labels'], message });
  });

/** What is printed for the shop, read. mm */
export type JobPaper = z.output<typeof JobPaperSchema>;
/** What a quote reckons with, read. */
export type JobRates = z.output<typeof JobRatesSchema>;
/** A sheet of labels, read. mm */
export type JobLabels = z.output<typeof JobLabelsSchema>;
