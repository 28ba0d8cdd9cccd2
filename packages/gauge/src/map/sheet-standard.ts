/** Limits of a sheet's thickness by its standard. mm. */
export interface SheetLimits {
  readonly name: string;
  readonly least: number;
  readonly most: number;
  /** The most that one sheet may vary in itself; null where the standard does not say. */
  readonly within: number | null;
}

/** The standards whose limits are known here. */
export type SheetStandard =
  | 'EN 315 sanded'
  | 'EN 315 unsanded'
  | 'PS 1 sanded'
  | 'PS 1 unsanded'
  | 'EN 622-5 board';

/** The standards that `sheetLimits` knows. */
export const SHEET_STANDARDS: readonly SheetStandard[] = [
  'EN 315 sanded',
  'EN 315 unsanded',
  'PS 1 sanded',
  'PS 1 unsanded',
  'EN 622-5 board',
];

const INCH = 25.4;
/** A size class ends here: a label in millimetres may be rounded. */
const ROUNDED = 0.06;

/**
 * A nominal thickness's limits: plywood by EN 315 (formulas as printed in GB/T 9846, which agrees; the wording of
 * EN 315 from memory), by PS 1 (association tables: sanded to 3/4 in ± 1/64 in, thicker ± 3 %; unsanded to
 * 13/16 in ± 1/32 in, thicker ± 5 %), fibreboard by EN 622-5 (± 0.2 to 19 mm, ± 0.3 above; from memory).
 * @throws RangeError when the nominal thickness is not greater than zero.
 */
export function sheetLimits(standard: SheetStandard, nominal: number): SheetLimits {
  if (!(nominal > 0)) throw new RangeError(`sheetLimits: a sheet of ${nominal} mm`);
  const about = (minus: number, plus: number, within: number | null): SheetLimits => ({
    name: standard,
    least: nominal - minus,
    most: nominal + plus,
    within,
  });
  switch (standard) {
    case 'EN 315 sanded':
      return about(0.4 + 0.03 * nominal, 0.2 + 0.03 * nominal, 0.6);
    case 'EN 315 unsanded':
      return about(0.4 + 0.03 * nominal, 0.8 + 0.03 * nominal, nominal <= 12 ? 1 : 1.5);
    case 'PS 1 sanded': {
      const limit = nominal <= 0.75 * INCH + ROUNDED ? INCH / 64 : 0.03 * nominal;
      return about(limit, limit, null);
    }
    case 'PS 1 unsanded': {
      const limit = nominal <= (13 / 16) * INCH + ROUNDED ? INCH / 32 : 0.05 * nominal;
      return about(limit, limit, null);
    }
    case 'EN 622-5 board': {
      const limit = nominal <= 19 ? 0.2 : 0.3;
      return about(limit, limit, null);
    }
  }
}
