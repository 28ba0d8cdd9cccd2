import { readLength } from '@haunch/model';
import { z } from 'zod';

/** A length as people write it: a number of millimetres, `"18.2 mm"`, `"0.731 in"`, `"23/32\""`. Becomes mm. */
export const LengthSchema = z.union([z.number(), z.string()]).transform((value, context): number => {
  const length = readLength(value);
  if (typeof length === 'number') return length;
  context.addIssue({ code: 'custom', message: length.problem });
  return z.NEVER;
});

/** A length greater than zero. */
export const PositiveLengthSchema = LengthSchema.refine((mm) => mm > 0, {
  message: 'must be greater than zero',
});

/** A length of zero or more. */
export const NonNegativeLengthSchema = LengthSchema.refine((mm) => mm >= 0, {
  message: 'must not be negative',
});
