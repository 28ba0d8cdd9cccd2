import { encode } from 'uqr';

/** A square code: rows of modules, true where dark, without the quiet zone round it. */
export type CodeModules = readonly (readonly boolean[])[];

/** The light border that a reader needs, in modules (ISO/IEC 18004). */
export const QUIET = 4;

/** A QR code (ISO/IEC 18004, error correction level M or better) of a text in UTF-8. */
export const labelCode = (text: string): CodeModules =>
  encode([...new TextEncoder().encode(text)], { ecc: 'M', boostEcc: true, border: 0 }).data;
