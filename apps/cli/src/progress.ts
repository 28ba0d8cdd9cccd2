/** Tells on standard error what the work is at, once it has taken longer than a second; quiet with --json or when piped away. */
export class Progress {
  readonly #started = performance.now();
  readonly #times = new Map<string, number>();
  readonly #quiet: boolean;
  #stage: string | undefined;
  #since = 0;

  constructor(quiet: boolean) {
    this.#quiet = quiet;
  }

  /** A stage begins; the one before it ends. */
  enter(stage: string, detail?: string): void {
    this.#close();
    this.#stage = stage;
    this.#since = performance.now();
    if (!this.#quiet && this.#since - this.#started > 1000)
      process.stderr.write(
        `${((this.#since - this.#started) / 1000).toFixed(1)} s  ${stage}${detail ? ` ${detail}` : ''} …\n`,
      );
  }

  /** Seconds of each stage so far, in order. */
  times(): ReadonlyMap<string, number> {
    this.#close();
    this.#stage = undefined;
    return this.#times;
  }

  #close(): void {
    if (this.#stage !== undefined)
      this.#times.set(
        this.#stage,
        (this.#times.get(this.#stage) ?? 0) + (performance.now() - this.#since) / 1000,
      );
  }
}
