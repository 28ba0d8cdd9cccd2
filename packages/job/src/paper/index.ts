export type { PaperData, PaperItem, PaperPiece, PaperSide, PaperStep } from './paper-data.js';
export { paperOf } from './paper-of.js';
export { type OutlineFont, readOutlineFont } from './pdf/outline-font.js';
export { setupSheetPdf } from './setup-sheet.js';
export { ticketsPdf } from './tickets.js';
