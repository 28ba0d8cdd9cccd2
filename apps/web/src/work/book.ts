import {
  boardsOfBook,
  cutterAsDeclared,
  cutterHistoryOf,
  type DayBook,
  type DayBookEntry,
  dayBookAppendix,
  diameterNow,
  proposeDefaults,
  readDayBook,
} from '@haunch/gauge';
import { copiesOf, type Job, JobBoardSchema, OFF_CUTS_PATH, readJob, writtenForJob } from '@haunch/job';
import {
  boardNews,
  cutEntries,
  cutterInWords,
  feltEntry,
  ladderEntries,
  leftOversOf,
  type MadeRecord,
  madeRecord,
  offCutEntries,
  proposalInWords,
  proposedTable,
  routerPast,
  swappedWithBook,
  withRest,
} from '@haunch/job/shop-book';
import { type Outcome, ok } from '@haunch/model';
import { type BoardText, jobOf as jobText } from '../job/job-document.js';
import type { BookEvent, BookView, EnteredBook, WireBook } from './book-wire.js';
import { recallResult } from './results.js';
import { JOB_FILE, sourcesOf } from './sources.js';
import type { Reply, WireDocument } from './wire.js';

const now = (): string => new Date().toISOString();

async function openBook({ name, content }: WireBook): Promise<{ text: string; book: Outcome<DayBook> }> {
  const text = await content.text();
  return { text, book: readDayBook(text, name) };
}

async function jobOf(document: WireDocument): Promise<Job | null> {
  const source = await sourcesOf(document, (name) => /fits?.*\.json$/i.test(name));
  const job = readJob(document.text, JOB_FILE, { source });
  return job.ok ? job.value : null;
}

const sheetsOf = (job: Job): ReadonlySet<string> => new Set(job.boards.map((b) => b.id));

/** Felt ladders of a job that a book has not as they were felt. */
const newLadders = (job: Job, entries: readonly DayBookEntry[]): string[] =>
  job.ladders.flatMap((l) => {
    if (l.kind !== 'felt') return [];
    const [fresh] = ladderEntries(job, l.board, entries, { when: now() });
    const answers = fresh?.kind === 'ladder' ? JSON.stringify(fresh.answers) : '';
    const known = entries.some(
      (e) => e.kind === 'ladder' && e.board === l.board && JSON.stringify(e.answers) === answers,
    );
    return known ? [] : [l.board];
  });

/** What a day book says to a job, as `haunch book show`, `for-job`, `propose` and `haunch make --book` do. */
export async function lookInBook(document: WireDocument, wire: WireBook): Promise<Reply<BookView>> {
  const { book } = await openBook(wire);
  if (!book.ok) return book;
  const { entries } = book.value;
  const job = await jobOf(document);
  // A job that cannot be read has its boards all the same: they are not offered a second time.
  const own = new Set(job?.settings.boards.flatMap(copiesOf) ?? jobText(document).boards.map((b) => b.id));
  const proposals = proposeDefaults(entries);
  const news = job && boardNews(entries, job.settings.boards, sheetsOf(job), now());
  const states = ['whole', 'cut', 'gone'];
  const known = job
    ? diameterNow(routerPast(job, entries), { locus: { file: wire.name }, nominal: job.router.diameter })
    : null;
  return ok({
    entries: entries.length,
    said: book.diagnostics,
    boards: [...boardsOfBook(entries).values()]
      .sort((a, b) => states.indexOf(a.state) - states.indexOf(b.state))
      .map((b) => ({
        id: b.id,
        stock: b.stock,
        width: b.width,
        height: b.height,
        state: b.state,
        readings: b.readings.length,
        sheet: b.offCut?.sheet ?? null,
        forJob: own.has(b.id) ? null : (writtenForJob(b) as unknown as BoardText),
      })),
    cutter: job && cutterInWords(entries, job.router.id, job.router.diameter),
    due: [
      ...(known?.diagnostics ?? []),
      ...(job && known?.ok ? cutterAsDeclared(job.router, known.value, 'book', { file: wire.name }) : []),
    ],
    proposals: proposals.map(proposalInWords),
    table: proposals.length === 0 ? null : proposedTable(proposals),
    newBoards: news?.entries.map((e) => e.board) ?? [],
    noRectangles: news?.noRectangles ?? [],
    newLadders: job ? newLadders(job, entries) : [],
  });
}

/** What was made and proved of a state, as a day book knows it. */
async function recordOf(document: WireDocument): Promise<MadeRecord | null> {
  const kept = await recallResult(document.id);
  if (kept?.result.document !== document.id || !kept.result.pass) return null;
  const bytes = async (path: string): Promise<Uint8Array> =>
    new Uint8Array(await (kept.files[path] ?? new Blob()).arrayBuffer());
  const left = kept.files[OFF_CUTS_PATH];
  const boards = left ? JobBoardSchema.array().safeParse(JSON.parse(await left.text())) : null;
  return madeRecord(kept.result.report, bytes, boards?.success ? leftOversOf(boards.data) : []);
}

/** What something that happened adds to a book, and which off-cuts it cannot take. */
interface Fresh {
  readonly entries: readonly DayBookEntry[];
  readonly leftOut: readonly string[];
}

const adding = (entries: readonly DayBookEntry[]): Outcome<Fresh> => ok({ entries, leftOut: [] });

/** The entries of something that happened; none where the book has it all, or nothing is made of it. */
async function entriesOf(
  document: WireDocument,
  event: BookEvent,
  entries: readonly DayBookEntry[],
): Promise<Outcome<Fresh>> {
  const when = now();
  if (event.kind === 'gone') return adding([{ v: 2, kind: 'gone', when, board: event.board }]);
  if (event.kind === 'cut' || event.kind === 'felt') {
    const made = await recordOf(document);
    if (!made) return adding([]);
    if (event.kind === 'felt')
      return adding(
        withRest(made, event.said, event.rest ?? undefined).flatMap((s) => feltEntry(made, s, when) ?? []),
      );
    const cut = cutEntries(entries, made, { times: 1, when }).flatMap((c) => ('entry' in c ? [c.entry] : []));
    const left = offCutEntries(entries, made, cut, when);
    return ok({
      entries: [...cut, ...left.flatMap((o) => ('entry' in o ? [o.entry] : []))],
      leftOut: left.flatMap((o) => ('entry' in o ? [] : [o.id])),
    });
  }
  const job = await jobOf(document);
  if (!job) return adding([]);
  if (event.kind === 'ladder') return adding(ladderEntries(job, event.board, entries, { when }));
  if (event.kind === 'ground') {
    const { id } = job.router;
    const grinding = cutterHistoryOf(entries, id).grinding + 1;
    return adding([{ v: 2, kind: 'ground', when, cutter: id, grinding, why: event.why }]);
  }
  const swapped = swappedWithBook(entries, job.boards, JOB_FILE);
  if (swapped.length > 0) return { ok: false, diagnostics: swapped };
  return adding(boardNews(entries, job.settings.boards, sheetsOf(job), when).entries);
}

/** Appends what happened to a day book, as `haunch gauge --book`, `ladder --book` and `haunch book cut`, `felt`, `ground`, `gone` do. */
export async function enterInBook(
  document: WireDocument,
  wire: WireBook,
  event: BookEvent,
): Promise<Reply<EnteredBook>> {
  const { text: before, book } = await openBook(wire);
  if (!book.ok) return book;
  const fresh = await entriesOf(document, event, book.value.entries);
  if (!fresh.ok) return fresh;
  let text = before;
  const { entries, leftOut } = fresh.value;
  for (const entry of entries) text += dayBookAppendix(entry, text);
  return ok({ content: new Blob([text]), added: entries.length, leftOut }, fresh.diagnostics);
}
