import { readLength } from '@haunch/model';

/** A length of the job file in mm; NaN where it is none, which a job that was let in does not hold. */
export function mmOf(written: string | number): number {
  const length = readLength(written);
  return typeof length === 'number' ? length : Number.NaN;
}

/** A place or size that the page itself wrote, rounded to a tenth: `50 mm`. */
export const writtenMm = (mm: number): string => `${+mm.toFixed(1)} mm`;
