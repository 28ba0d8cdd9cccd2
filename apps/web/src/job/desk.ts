import * as Comlink from 'comlink';
import { text } from '../text/catalogue.js';
import { Hand, Stopped, WorkerDied } from '../work/hand.js';
import type { Opened } from '../work/opened.js';
import type { Progressing, Service } from '../work/service.js';
import type { ShownResult } from '../work/shown-wire.js';
import type { MadeResult, Reply } from '../work/wire.js';
import { BookDesk } from './book-desk.js';
import { forget, isFull, keep, take } from './browser-store.js';
import { download } from './download.js';
import type { DroppedFile } from './dropped-file.js';
import { advance, begin, type History, redo, undo } from './history.js';
import { type JobDocument, type JobText, jobOf, newDocumentId, withJob } from './job-document.js';
import { newJob } from './new-job.js';
import { readSavedJob, savedJob, staleAsText } from './saved-job.js';
import type { ScreenName } from './screen-name.js';
import type { Busy, Settings, Store } from './store.js';

/** How long a window waits to be the one that saves before it says that another is, ms: a reload lets go a moment late. */
const OTHER_WINDOW_AFTER = 2000;
/** How long after the last change the job is saved, ms. */
const SAVE_AFTER = 300;

/**
 * Everything that is done to the job: opening, editing, making, saving. The one place that changes the store. Two workers are at hand:
 * a quick one that answers while the other makes.
 */
export class Desk {
  readonly #store: Store;
  readonly #quick = new Hand();
  readonly #slow = new Hand();
  #saving: ReturnType<typeof setTimeout> | undefined;
  #checked = '';
  /** Whether this is the window that saves. */
  #mine = true;
  /** The shop's day book. */
  readonly book: BookDesk;

  constructor(store: Store) {
    this.#store = store;
    this.book = new BookDesk(store, {
      ask: (question) => this.ask(question),
      // Another window keeps its own; this one's would be written over.
      keep: (book) =>
        !this.#mine
          ? Promise.reject(new Error('another window saves'))
          : book
            ? keep('day book', book)
            : forget('day book'),
      download,
    });
  }

  /**
   * Of several windows with this page only one saves: they would overwrite each other's job. The others say so, and save once it is closed.
   */
  #claim(): void {
    if (!navigator.locks) return;
    this.#mine = false;
    const told = setTimeout(() => {
      this.#store.set({ saving: 'not kept' });
      this.#store.notice({ id: 'window', level: 'warning', text: text.notices.otherWindow });
    }, OTHER_WINDOW_AFTER);
    void navigator.locks.request('haunch page', () => {
      clearTimeout(told);
      this.#mine = true;
      this.#store.dismiss('window');
      void this.save();
      return new Promise(() => undefined);
    });
  }

  /** Brings back what the browser kept: the job, the last result, the settings. */
  async wake(): Promise<void> {
    this.#claim();
    const settings = (await take('settings').catch(() => undefined)) as Partial<Settings> | undefined;
    if (settings) this.#store.set({ settings: { ...this.#store.state.settings, ...settings } });
    this.book.takeUp(await take('day book').catch(() => undefined));
    let record: unknown;
    try {
      record = await take('job');
    } catch {
      this.#store.set({ saving: 'not kept' });
      return;
    }
    const found = readSavedJob(record);
    if (found.kind === 'stale') await this.#setAside(found.record);
    if (found.kind !== 'job' || this.#store.state.history) return;
    this.#store.set({ history: found.history, saving: 'saved' });
    void this.#check();
    const result = await this.#quick.do((s) => s.recall()).catch(() => null);
    if (result && !this.#store.state.result) this.#store.set({ result });
  }

  /** A job that this page cannot read stays in the browser, and can be downloaded. */
  async #setAside(record: unknown): Promise<void> {
    await keep('set aside', record).catch(() => undefined);
    this.#store.notice({
      id: 'stale',
      level: 'warning',
      text: text.notices.stale,
      hint: text.notices.staleHint,
      action: {
        label: text.notices.staleDownload,
        do: () => void staleAsText(record).then((t) => download(new Blob([t]), 'earlier-job.json')),
      },
    });
  }

  /** Chooses how the page shows things. */
  choose(settings: Partial<Settings>): void {
    const all = { ...this.#store.state.settings, ...settings };
    this.#store.set({ settings: all });
    void keep('settings', all).catch(() => undefined);
  }

  /** Turns to a screen. */
  go(screen: ScreenName): void {
    if (location.hash !== `#${screen}`) location.hash = screen;
    this.#store.set({ screen });
  }

  /** Opens what was dropped. A drawing or master begins a new job, or is added to the one that is open. */
  async open(files: readonly DroppedFile[], how: 'new' | 'add' = 'new'): Promise<void> {
    if (files.length === 0) return;
    this.#store.dismiss('open');
    const opened = await this.#long('open', (s) => s.open(files));
    if (opened === null) return;
    if (opened.kind === 'refused') return this.#refuse(opened.problems);
    if (opened.kind === 'job') {
      this.#begin(
        { id: newDocumentId(), text: opened.text, sources: opened.sources },
        text.done.opened(opened.name),
      );
      return;
    }
    const { document } = this.#store;
    if (how === 'add' && document) {
      this.edit(
        withJob(document, (job) => ({ ...job, pieces: [...job.pieces, { source: opened.name }] }), {
          ...document.sources,
          [opened.name]: opened.content,
        }),
        text.done.added(opened.name),
      );
      return;
    }
    this.#begin(
      newJob(opened.title, opened, opened.stocks, text.fit.noLadderYet),
      text.done.opened(opened.name),
    );
  }

  #refuse(problems: readonly Opened.Problem[]): void {
    const [first] = problems;
    if (!first) return;
    const more = problems.length > 1 ? ` ${text.notices.andMore(problems.length - 1)}` : '';
    const sentence =
      first.what === 'said'
        ? `${first.line === undefined ? first.file : text.place.line(first.file, first.line)}: ${first.text}`
        : text.notices.refused[first.what](first.file);
    this.#store.notice({
      id: 'open',
      level: 'error',
      text: `${sentence}${more}`,
      hint: (first.what === 'said' && first.hint) || text.notices.nothingOpened,
    });
  }

  /** Opens one of the examples that come with the page. */
  async openExample(files: readonly { readonly name: string; readonly url: string }[]): Promise<void> {
    try {
      const fetched = await Promise.all(
        files.map(async ({ name, url }) => {
          const answer = await fetch(url);
          if (!answer.ok) throw new Error(`${answer.status}`);
          return { name, content: await answer.blob() };
        }),
      );
      await this.open(fetched);
    } catch {
      this.#store.notice({ id: 'open', level: 'error', text: text.notices.noExample });
    }
  }

  /** Lets a job stand open as the first of its steps. What was open can be had back by undo. */
  #begin(document: JobDocument, done: string): void {
    const { history } = this.#store.state;
    this.#set(history ? advance(history, document, done) : begin(document, done));
    this.go('drawing');
  }

  /** After a change of the job. `done` says what was done, for undo. */
  edit(document: JobDocument, done: string): void {
    const { history } = this.#store.state;
    this.#set(history ? advance(history, document, done) : begin(document, done));
  }

  /** A change of the job file. */
  editJob(change: (job: JobText) => JobText, done: string): void {
    const { document } = this.#store;
    if (document) this.edit(withJob(document, change), done);
  }

  /** The job file's text as a worker wrote it. */
  editText(jobText: string, done: string): void {
    const { document } = this.#store;
    if (document) this.edit({ id: newDocumentId(), text: jobText, sources: document.sources }, done);
  }

  /** One step back. */
  undo(): void {
    const { history } = this.#store.state;
    if (history) this.#set(undo(history));
  }

  /** One step forward again. */
  redo(): void {
    const { history } = this.#store.state;
    if (history) this.#set(redo(history));
  }

  #set(history: History): void {
    if (history === this.#store.state.history) return;
    this.#store.set({ history, saving: this.#mine ? 'saving' : 'not kept' });
    clearTimeout(this.#saving);
    this.#saving = setTimeout(() => void this.save(), SAVE_AFTER);
    void this.#check();
  }

  /** Keeps the job in the browser now. */
  async save(): Promise<void> {
    clearTimeout(this.#saving);
    const { history } = this.#store.state;
    if (!history || !this.#mine) return;
    try {
      await keep('job', savedJob(history));
      if (this.#store.state.history === history) this.#store.set({ saving: 'saved' });
      this.#store.dismiss('full');
    } catch (e) {
      const full = isFull(e);
      this.#store.set({ saving: full ? 'full' : 'not kept' });
      this.#store.notice({
        id: 'full',
        level: 'warning',
        text: full ? text.notices.full : text.notices.notKept,
        hint: text.notices.fullHint,
        action: { label: text.shell.downloadJob, do: () => void this.downloadJob() },
      });
    }
  }

  /** Puts the job away: it lies aside in the browser, and can be brought back as long as the page is open. */
  async close(): Promise<void> {
    const { history, result } = this.#store.state;
    if (!history) return;
    clearTimeout(this.#saving);
    await keep('set aside', savedJob(history)).catch(() => undefined);
    await forget('job').catch(() => undefined);
    this.#store.set({ history: null, view: null, saving: 'saved' });
    this.#checked = '';
    this.go('drawing');
    this.#store.notice({
      id: 'closed',
      level: 'note',
      text: text.notices.closed,
      action: {
        label: text.notices.bringBack,
        do: () => {
          this.#store.dismiss('closed');
          if (!this.#store.state.history) this.#store.set({ result });
          this.#set(history);
        },
      },
    });
  }

  /** What the packages say of the job; always of its latest state. */
  async #check(): Promise<void> {
    const { document } = this.#store;
    if (!document || this.#checked === document.id) return;
    this.#checked = document.id;
    try {
      const view = await this.#quick.do((s) => s.check(document));
      if (this.#store.document?.id === view.document) this.#store.set({ view });
    } catch (e) {
      this.#checked = '';
      this.#workerEnded(e);
    }
  }

  /** Asks the quick worker about the job as it is; null where it could not answer. */
  async ask<T>(question: (service: Service, document: JobDocument) => Promise<T>): Promise<T | null> {
    const { document } = this.#store;
    if (!document) return null;
    try {
      return await this.#quick.do((s) => question(s, document));
    } catch (e) {
      this.#workerEnded(e);
      return null;
    }
  }

  /** Long work, of which there is one at a time: tells where it is, and can be stopped. Null where it was stopped or failed. */
  async #long<T>(
    what: Busy['what'],
    work: (service: Service, tell: (p: Progressing) => void) => Promise<T>,
  ): Promise<T | null> {
    if (this.#store.state.busy) {
      this.#store.notice({ id: 'busy', level: 'note', text: text.notices.busy });
      return null;
    }
    this.#store.dismiss('busy');
    const since = performance.now();
    const tell = (progress: Progressing): void => {
      if (this.#store.state.busy?.since === since) this.#store.set({ busy: { what, progress, since } });
    };
    this.#store.set({ busy: { what, progress: null, since } });
    this.#store.dismiss('worker');
    try {
      return await this.#slow.do((s) => work(s, tell));
    } catch (e) {
      this.#workerEnded(e);
      return null;
    } finally {
      this.#store.set({ busy: null });
    }
  }

  /** Long work on the job as it is. */
  async long<T>(
    what: Busy['what'],
    work: (service: Service, document: JobDocument, tell: (p: Progressing) => void) => Promise<Reply<T>>,
  ): Promise<Reply<T> | null> {
    const { document } = this.#store;
    return document ? this.#long(what, (s, tell) => work(s, document, Comlink.proxy(tell))) : null;
  }

  /** The whole chain on the job as it is. */
  async make(): Promise<void> {
    this.#store.dismiss('make');
    if (!(await this.book.mayCut())) return;
    const reply = await this.long('make', (s, document, tell) => s.make(document, tell));
    if (reply === null) return;
    if (reply.ok) {
      this.#store.set({ result: reply.value });
      return;
    }
    const errors = reply.diagnostics.filter((d) => d.level === 'error');
    const [first] = errors;
    const { board, part, joint } = first?.locus ?? {};
    const place = [
      board && text.place.board(board),
      part && text.place.part(part),
      joint && text.place.joint(joint),
    ].filter(Boolean);
    this.#store.notice({
      id: 'make',
      level: 'error',
      text: `${text.notices.notMade} ${place.length > 0 ? `${place.join(', ')}: ` : ''}${first?.message ?? ''}${errors.length > 1 ? ` ${text.notices.andMore(errors.length - 1)}` : ''}`,
      ...(first?.hint ? { hint: first.hint } : {}),
      ...(first?.stage === 'gauge'
        ? { action: { label: text.notices.toBoards, do: () => this.go('boards') } }
        : {}),
    });
  }

  /** Ends the long work that is being done; the job and the last result stay. */
  stop(): void {
    this.#slow.stop();
  }

  #workerEnded(e: unknown): void {
    if (e instanceof Stopped) return;
    this.#store.notice({
      id: 'worker',
      level: 'error',
      text: e instanceof WorkerDied ? text.notices.workerDied : text.notices.workFailed(messageOf(e)),
      hint: text.notices.workerDiedHint,
    });
  }

  /** One file of the last result. */
  async file(path: string): Promise<Blob | null> {
    const { result } = this.#store.state;
    return result ? this.#slow.do((s) => s.file(result.document, path)).catch(() => null) : null;
  }

  /** What a screen draws of the last result; null where there is none. */
  async shown<K extends keyof ShownResult>(what: K): Promise<ShownResult[K] | null> {
    const { result } = this.#store.state;
    if (!result) return null;
    const from = (hand: Hand) => hand.do((s) => s.shown(result.document, what)).catch(() => null);
    // The quick one answers while the other makes; where the browser keeps nothing, that one alone has it.
    return (await from(this.#quick)) ?? (await from(this.#slow));
  }

  /** Downloads one file of the last result. */
  async downloadFile(path: string): Promise<void> {
    const content = await this.file(path);
    if (content) download(content, path.split('/').at(-1)!);
  }

  /** Downloads all that was made of the job as it is now, in one archive. */
  async downloadAll(): Promise<void> {
    const content = await this.#shortLong('pack', (s, document) => s.archive(document));
    if (content) download(content, 'made.zip');
  }

  /** Downloads a paper for the shop; all of it is made with the first. */
  async downloadPaper(path: string): Promise<void> {
    const paths = await this.#shortLong('paper', (s, document) => s.paper(document));
    if (paths?.includes(path)) await this.downloadFile(path);
  }

  /** Long work that only needs what was made already. */
  async #shortLong<T>(
    what: Busy['what'],
    work: (service: Service, document: JobDocument) => Promise<T>,
  ): Promise<T | null> {
    const { document } = this.#store;
    return document ? this.#long(what, (s) => work(s, document)) : null;
  }

  /** Downloads the job: its file alone where nothing lies beside it, else an archive that the command line's folder looks like. */
  async downloadJob(): Promise<void> {
    const { document } = this.#store;
    if (!document) return;
    const files = [
      { name: 'job.json', content: new Blob([document.text], { type: 'application/json' }) },
      ...Object.entries(document.sources).map(([name, content]) => ({ name, content })),
    ];
    const packed = await this.#quick.do((s) => s.pack(files)).catch(() => null);
    // Where no worker answers, the files themselves still can be had.
    if (packed) download(packed, `${slug(jobOf(document).title)}.zip`);
    else for (const f of files) download(f.content, f.name);
  }

  /** Downloads the job file alone. */
  downloadJobFile(): void {
    const { document } = this.#store;
    if (document) download(new Blob([document.text], { type: 'application/json' }), 'job.json');
  }

  /** The last result, if it is of the job as it is now. */
  get fresh(): MadeResult | null {
    const { result } = this.#store.state;
    return result?.document === this.#store.document?.id ? result : null;
  }
}

const messageOf = (e: unknown): string => (e instanceof Error ? e.message : String(e));

/** A title as a file name. */
const slug = (title: string): string =>
  title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 40) || 'job';
