import type { JobSchema } from '@haunch/job';

/** A job file as it is written, before any schema has read it: lengths may be numbers (mm) or text with a unit. */
export type JobText = (typeof JobSchema)['_zod']['input'];
/** A board of a job as it is written. */
export type BoardText = JobText['boards'][number];
/** A piece of a job as it is written. */
export type PieceText = JobText['pieces'][number];

/**
 * One state of the job: the text of its job file, and the files beside it by name. Never changed: an edit makes another one.
 * The very same text and files, given to the command line, make the very same programs.
 */
export interface JobDocument {
  /** Names this state; a result remembers of which state it is. */
  readonly id: string;
  readonly text: string;
  /** Contents stay in the browser's store: the page hands them on and never holds them. */
  readonly sources: Readonly<Record<string, Blob>>;
}

let made = 0;
/** A name for a new state, unlike any other of this browser. */
export const newDocumentId = (): string => `s${Date.now().toString(36)}-${(made++).toString(36)}`;

/** A job as the text of its file. */
export const formatJob = (job: JobText): string => `${JSON.stringify(job, null, 2)}\n`;

/** What a state's text says. A state's text is always JSON of a job: nothing else is let in. */
export const jobOf = ({ text }: Pick<JobDocument, 'text'>): JobText => JSON.parse(text) as JobText;

/** The state after a change of the job file; files beside it stay, or are as given. */
export function withJob(
  document: JobDocument,
  change: (job: JobText) => JobText,
  sources: Readonly<Record<string, Blob>> = document.sources,
): JobDocument {
  return { id: newDocumentId(), text: formatJob(change(jobOf(document))), sources };
}

/** The state after a change of one board, by its id. */
export const withBoard = (
  document: JobDocument,
  id: string,
  change: (board: BoardText) => BoardText,
): JobDocument =>
  withJob(document, (job) => ({ ...job, boards: job.boards.map((b) => (b.id === id ? change(b) : b)) }));

/** The state after a change of one piece, by its place in the job. */
export const withPiece = (
  document: JobDocument,
  index: number,
  change: (piece: PieceText) => PieceText,
): JobDocument =>
  withJob(document, (job) => ({ ...job, pieces: job.pieces.map((p, i) => (i === index ? change(p) : p)) }));
