export { type BoardNews, boardNews } from './board-entries.js';
export { type CutOfBoard, cutEntries, type OffCutOfBoard, offCutEntries } from './cut-entries.js';
export { cutterInWords, routerPast } from './cutter-past.js';
export { feltEntry, type JointFelt, withRest } from './felt-entries.js';
export { type CutterThen, ladderEntries } from './ladder-entries.js';
export { type LeftOver, leftOversOf, type MadeRecord, madeRecord } from './made-record.js';
export { proposalInWords, proposedTable } from './proposed-table.js';
export { swappedWithBook } from './swapped-with-book.js';
