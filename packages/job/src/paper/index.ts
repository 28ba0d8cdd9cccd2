export { assemblySheetPdf } from './assembly-sheet.js';
export { assemblySteps, type EngagingPlace, type PaperAssemblyStep, peopleFor } from './assembly-steps.js';
export { type LabelSheet, LEAST_LABEL, labelSize } from './label-grid.js';
export { labelProblems } from './label-problems.js';
export { lettersWithoutType } from './letters-without-type.js';
export {
  type ListedBlank,
  type ListedPart,
  type Lists,
  listsCsv,
  listsOf,
  type UnloadedBoard,
} from './lists.js';
export { listsPdfs } from './lists-sheet.js';
export type {
  PaperCurve,
  PaperData,
  PaperItem,
  PaperPiece,
  PaperProgram,
  PaperSide,
  PaperStep,
} from './paper-data.js';
export {
  PAPER_DATA_FILE,
  PAPER_FILES,
  PAPER_FOLDER,
  PAPER_KINDS,
  type PaperKind,
  type PaperOptions,
  paperFiles,
} from './paper-files.js';
export { paperOf } from './paper-of.js';
export { type OutlineFont, readOutlineFont } from './pdf/outline-font.js';
export { type Quote, type QuoteLine, quoteOf } from './quote.js';
export { readPaperData } from './read-paper.js';
export { setupSheetPdf } from './setup-sheet.js';
export type { PageName } from './sheet/page-size.js';
export { type TicketText, ticketTexts } from './ticket-text.js';
export { ticketsPdf } from './tickets.js';
