import { formatJob, type JobDocument, type JobText, newDocumentId } from './job-document.js';

/** A router as many shops have it; its diameter is to be measured. Common practice, no source. */
const ROUTER: JobText['cutters'][number] = {
  id: 'router-6',
  number: 1,
  kind: 'router',
  diameter: '6 mm',
  flutes: 2,
  fluteLength: '25 mm',
  rpm: 18000,
  chipLoad: '0.12 mm',
  depthPerPass: '6 mm',
};

/** A new job round one drawing or master: a whole sheet of every stock that it asks for, not measured yet, and no ladder yet. */
export function newJob(
  title: string,
  source: { readonly name: string; readonly content: Blob },
  stocks: readonly string[],
  withoutLadder: string,
): JobDocument {
  const named = stocks.length > 0 ? stocks : [null];
  const job: JobText = {
    format: 'haunch-job',
    version: 1,
    title,
    pieces: [{ source: source.name }],
    boards: named.map((stock, i) => ({
      id: `board-${String.fromCharCode(97 + (i % 26))}`,
      ...(stock === null ? {} : { stock }),
      width: '2440 mm',
      height: '1220 mm',
      readings: [],
    })),
    cutters: [ROUTER],
    ladder: { without: withoutLadder },
  };
  return { id: newDocumentId(), text: formatJob(job), sources: { [source.name]: source.content } };
}
