/**
 * The pairs whose overlap counts more than once, by their place in a square table: few of all, so that a round looks
 * at these rather than at the table.
 */
export interface HeavyPairs {
  readonly places: Int32Array;
  count: number;
  /** 1 at the places that are listed. */
  readonly listed: Uint8Array;
}

/** No pair of `n` pieces. */
export const noHeavyPairs = (n: number): HeavyPairs => ({
  places: new Int32Array((n * (n - 1)) / 2),
  count: 0,
  listed: new Uint8Array(n * n),
});

/** Lists a pair, once. */
export function listPair(h: HeavyPairs, place: number): void {
  if (h.listed[place]) return;
  h.listed[place] = 1;
  h.places[h.count++] = place;
}

/** Takes the pair that is listed as number `k` off; the last one takes its number. */
export function unlistPair(h: HeavyPairs, k: number): void {
  h.listed[h.places[k]!] = 0;
  h.places[k] = h.places[--h.count]!;
}
