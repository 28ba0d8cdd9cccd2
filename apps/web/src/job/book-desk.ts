import type { Diagnostic } from '@haunch/model';
import { text } from '../text/catalogue.js';
import type { BookEvent } from '../work/book-wire.js';
import type { Service } from '../work/service.js';
import type { DroppedFile } from './dropped-file.js';
import type { JobDocument } from './job-document.js';
import type { ShopBook, Store } from './store.js';

/** What the day book needs of the page round it. */
export interface BookRoom {
  /** Asks the quick worker about the job as it is; null where it could not answer. */
  ask<T>(question: (service: Service, document: JobDocument) => Promise<T>): Promise<T | null>;
  /** Keeps the book in the browser, or puts what was kept away; rejects where that cannot be. */
  keep(book: ShopBook | null): Promise<void>;
  download(content: Blob, name: string): void;
}

/**
 * Everything that is done to the shop's day book: opening, entering, downloading. Lines that were entered and not downloaded are never
 * dropped in silence. One thing is done after another, so that of two entries in quick succession none is lost.
 */
export class BookDesk {
  readonly #store: Store;
  readonly #room: BookRoom;
  #last: Promise<void> = Promise.resolve();

  constructor(store: Store, room: BookRoom) {
    this.#store = store;
    this.#room = room;
  }

  /** Opens a day book, or begins one. What cannot be read is said, and the one before stays. */
  open(file: DroppedFile): Promise<void> {
    return this.#next(async () => {
      this.#store.dismiss('book');
      const book = { name: file.name, content: file.content, added: 0 };
      const seen = await this.#room.ask((s, document) => s.lookInBook(document, book));
      if (seen?.ok) {
        this.#letGo();
        this.#keep(book);
      } else if (seen) this.#say(seen.diagnostics);
    });
  }

  /** Enters what happened in the day book that is open; says so where it had all of it already. */
  enter(event: BookEvent): Promise<void> {
    return this.#next(async () => {
      const { book } = this.#store.state;
      if (!book) return;
      this.#store.dismiss('book');
      const entered = await this.#room.ask((s, document) => s.enterInBook(document, book, event));
      if (!entered) return;
      if (!entered.ok) return this.#say(entered.diagnostics);
      const { content, added, leftOut } = entered.value;
      if (added > 0) this.#keep({ name: book.name, content, added: book.added + added });
      if (leftOut.length > 0)
        this.#store.notice({
          id: 'book',
          level: 'note',
          text: text.notices.bookLeftOut(leftOut.join(', ')),
          hint: text.notices.bookLeftOutHint,
        });
      else if (added === 0) this.#store.notice({ id: 'book', level: 'note', text: text.notices.bookKnows });
    });
  }

  /** Downloads the day book with all that was entered. */
  download(): Promise<void> {
    return this.#next(async () => {
      const { book } = this.#store.state;
      if (!book) return;
      this.#room.download(book.content, book.name);
      this.#keep({ ...book, added: 0 });
    });
  }

  /** Puts the day book away. */
  putAway(): Promise<void> {
    return this.#next(async () => {
      this.#letGo();
      this.#store.set({ book: null });
      this.#store.dismiss('book-kept');
      await this.#room.keep(null).catch(() => undefined);
    });
  }

  /** Whether the day book that is open lets the job's router cut; why not is said. */
  async mayCut(): Promise<boolean> {
    this.#store.dismiss('book');
    const { book } = this.#store.state;
    const seen = book && (await this.#room.ask((s, document) => s.lookInBook(document, book)));
    if (!seen?.ok || !seen.value.due.some((d) => d.level === 'error')) return true;
    this.#say(seen.value.due);
    return false;
  }

  /** Takes up the book that the browser kept, unless another is open by now. */
  takeUp(kept: unknown): void {
    const book = kept as ShopBook | undefined;
    if (book?.content instanceof Blob && !this.#store.state.book) this.#store.set({ book });
  }

  #next(work: () => Promise<void>): Promise<void> {
    this.#last = this.#last.then(work, work);
    return this.#last;
  }

  #keep(book: ShopBook): void {
    this.#store.set({ book });
    void this.#room.keep(book).then(
      () => this.#store.dismiss('book-kept'),
      () =>
        this.#store.notice({
          id: 'book-kept',
          level: 'warning',
          text: text.notices.bookNotKept,
          hint: text.notices.bookNotKeptHint,
          action: { label: text.book.download, do: () => void this.download() },
        }),
    );
  }

  /** Before a book with lines that were not downloaded goes: it can still be had. */
  #letGo(): void {
    const { book } = this.#store.state;
    this.#store.dismiss('book-gone');
    if (!book || book.added === 0) return;
    this.#store.notice({
      id: 'book-gone',
      level: 'warning',
      text: text.notices.bookGone(book.name, book.added),
      hint: text.notices.bookGoneHint,
      action: {
        label: text.book.download,
        do: () => {
          this.#room.download(book.content, book.name);
          this.#store.dismiss('book-gone');
        },
      },
    });
  }

  #say(diagnostics: readonly Diagnostic[]): void {
    const [first] = diagnostics.filter((d) => d.level === 'error');
    if (!first) return;
    const { file, line } = first.locus;
    this.#store.notice({
      id: 'book',
      level: 'error',
      text: `${file && line ? `${text.place.line(file, line)}: ` : ''}${first.message}`,
      hint: first.hint,
    });
  }
}
