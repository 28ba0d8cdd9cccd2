/// <reference path="./pdfkit-browser.d.ts" />
import * as pdfkit from 'pdfkit';
import regular from 'pdfkit/standard-fonts/Helvetica';
import bold from 'pdfkit/standard-fonts/HelveticaBold';

/** The library that writes PDF. */
export const Kit = pdfkit.default;
/** A document that it writes. */
export type KitDocument = InstanceType<typeof Kit>;

// In Node the library finds the measures of the standard fonts by itself; in a browser they are given to it.
const { registerStdFonts } = pdfkit as unknown as {
  readonly registerStdFonts?: (...measures: readonly object[]) => void;
};
registerStdFonts?.(regular, bold);
