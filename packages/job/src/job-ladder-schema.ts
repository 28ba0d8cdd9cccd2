import { CORNER_FELT, FELT } from '@haunch/gauge';
import { z } from 'zod';
import { LengthSchema, NonNegativeLengthSchema, PositiveLengthSchema } from './length-schema.js';

const measured = z
  .array(z.strictObject({ cut: PositiveLengthSchema, measured: PositiveLengthSchema }))
  .min(1);

/** Steps of the ladder: about the clearance that the job would use without one, when `about` is left out. */
export const JobLadderStepsSchema = z.strictObject({
  about: LengthSchema.optional(),
  /** Left out: the step of the shop's fits. */
  step: PositiveLengthSchema.optional(),
  acrossX: z.number().int().min(3).max(15).default(7),
  acrossY: z.number().int().min(0).max(9).default(3),
});

/** What was felt in a ladder that was cut from one of the job's boards, and what was measured on it. */
export const JobFeltLadderSchema = z.strictObject({
  board: z.string(),
  cutter: z.string(),
  steps: JobLadderStepsSchema.prefault({}),
  /**
   * What the ladder was cut for: the cutter's diameter in the job at that time, and the sheet's thickness where the plug lay on the board;
   * the board's mean where `plug` is left out.
   */
  cutFor: z
    .strictObject({
      thickness: PositiveLengthSchema,
      diameter: PositiveLengthSchema,
      plug: z.tuple([LengthSchema, LengthSchema]).optional(),
    })
    .optional(),
  answers: z.array(z.strictObject({ rung: z.string(), felt: z.enum(FELT) })).min(1),
  /** Whether the plug's corners reach the floor of the relieved rung, and with which relief it was cut. */
  corner: z
    .strictObject({
      felt: z.enum(CORNER_FELT),
      form: z.enum(['diagonal', 'along the wall', 'least']),
      surplus: NonNegativeLengthSchema,
    })
    .optional(),
  /** The depth of the housing as the program had it and as measured. */
  housing: z.strictObject({ cut: PositiveLengthSchema, measured: PositiveLengthSchema }).optional(),
  /** Slots and pegs as the program had them and as the calliper shows them: they tell the cutter's diameter. */
  slots: measured.optional(),
  pegs: measured.optional(),
});

/** Why the job is cut without a ladder, for one stock or material or, left out, for all that have none; printed with the report. */
export const JobNoLadderSchema = z.strictObject({
  without: z.string().min(8, 'say why in a sentence'),
  stock: z.string().optional(),
});

/** A ladder that is still to be cut, with steps of its own. */
export const JobLadderToCutSchema = z.strictObject({
  steps: JobLadderStepsSchema,
  board: z.string().optional(),
});

const one = z.union([JobNoLadderSchema, JobLadderToCutSchema, JobFeltLadderSchema]);

/** The job's ladder, or several, one for each material. */
export const JobLadderSchema = z.union([one, z.array(one).min(1)]);

/** What was felt in a ladder, read. mm. */
export type JobFeltLadder = z.output<typeof JobFeltLadderSchema>;
/** Anything that a job says of a ladder, read. mm. */
export type JobLadderEntry = z.output<typeof one>;
