import type { Progressing } from '../work/service.js';
import type { JobView, MadeResult } from '../work/wire.js';
import type { DisplayUnit } from './display-unit.js';
import type { History } from './history.js';
import type { JobDocument } from './job-document.js';
import type { ScreenName } from './screen-name.js';

/** How the page looks: by the browser's wish, or as chosen. */
export type Theme = 'as the browser' | 'light' | 'dark';

/** What a person has chosen for this browser; no part of the job. */
export interface Settings {
  readonly unit: DisplayUnit;
  readonly theme: Theme;
}

/** A sentence that stands on the page until it is taken away. */
export interface Notice {
  readonly id: string;
  readonly level: 'error' | 'warning' | 'note';
  readonly text: string;
  readonly hint?: string;
  /** Something that can be done about it, in the words of its button. */
  readonly action?: { readonly label: string; readonly do: () => void };
}

/** Work that is being done now. */
export interface Busy {
  readonly what: 'make' | 'ladder' | 'lay' | 'find' | 'open' | 'pack' | 'paper';
  readonly progress: Progressing | null;
  readonly since: number;
}

/** The shop's day book, which belongs to no job: its file as it is now, and how many lines were entered here and not downloaded yet. */
export interface ShopBook {
  readonly name: string;
  readonly content: Blob;
  readonly added: number;
}

/** How far the job is kept in this browser. */
export type Saving = 'saved' | 'saving' | 'full' | 'not kept';

/** All that the page knows. */
export interface State {
  readonly screen: ScreenName;
  readonly settings: Settings;
  /** The job and its steps; null while none is open. */
  readonly history: History | null;
  /** What the packages say of the job; of an earlier state while they look. */
  readonly view: JobView | null;
  /** The last result, of whatever state it was made. */
  readonly result: MadeResult | null;
  readonly book: ShopBook | null;
  readonly busy: Busy | null;
  readonly saving: Saving;
  readonly notices: readonly Notice[];
}

/** A value that tells when it changes. */
export class Store {
  #state: State;
  readonly #listeners = new Set<() => void>();

  constructor(state: State) {
    this.#state = state;
  }

  /** All that the page knows now. */
  get state(): State {
    return this.#state;
  }

  /** The job as it is; null while none is open. */
  get document(): JobDocument | null {
    return this.#state.history?.now.document ?? null;
  }

  /** Takes the place of some of what the page knows. */
  set(change: Partial<State>): void {
    this.#state = { ...this.#state, ...change };
    for (const l of this.#listeners) l();
  }

  /** Calls back on every change until the answer is called. */
  listen(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Puts up a sentence, in place of one of the same id. */
  notice(notice: Notice): void {
    this.set({ notices: [...this.#state.notices.filter((n) => n.id !== notice.id), notice] });
  }

  /** Takes a sentence away. */
  dismiss(id: string): void {
    if (this.#state.notices.some((n) => n.id === id))
      this.set({ notices: this.#state.notices.filter((n) => n.id !== id) });
  }
}
