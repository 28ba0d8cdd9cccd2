import { setFlagsFromString } from 'node:v8';

/** The engine in which it was measured: nothing lies between its first, quick compiler and the one that optimises. */
const ENGINE = /^11\./;
/** Work of a function before it is optimised, in the engine's own measure; 135168 unless said otherwise. */
const BUDGET = 600_000;

/**
 * Has functions optimised four times later than the engine does by itself: of the processor time of a `make` of the sideboard, 15.8 s, half
 * went into optimising what then ran for a few milliseconds, on the core that proofs want; so it is 10 s. What runs for seconds is optimised all the same.
 */
export function optimiseLater(): void {
  if (ENGINE.test(process.versions.v8)) setFlagsFromString(`--interrupt-budget=${BUDGET}`);
}
