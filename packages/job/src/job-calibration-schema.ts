import { z } from 'zod';
import { LengthSchema, PositiveLengthSchema } from './length-schema.js';

const axis = z.enum(['x', 'y']);

/** One length measured on the machine's calibration cut. */
export const JobCalibrationLengthSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('pitch'),
    axis,
    cut: PositiveLengthSchema,
    measured: PositiveLengthSchema,
    approach: z.enum(['same', 'opposite']).default('same'),
  }),
  z.strictObject({
    kind: z.enum(['inside', 'outside']),
    axis,
    cut: PositiveLengthSchema,
    measured: PositiveLengthSchema,
  }),
  z.strictObject({
    kind: z.literal('diagonal'),
    dx: LengthSchema,
    dy: LengthSchema,
    measured: PositiveLengthSchema,
  }),
]);

/** What the machine's calibration cut showed, and whether programs are corrected for it. */
export const JobCalibrationSchema = z.strictObject({
  lengths: z.array(JobCalibrationLengthSchema).min(2),
  /**
   * `correct`: programs are written through the inverse map; `no turned mates`: they are not, but plates that meet are cut so that
   * their common line lies along the same axis; `as it is`: neither, and the proof shows what that does.
   */
  programs: z.enum(['correct', 'no turned mates', 'as it is']).default('correct'),
});
