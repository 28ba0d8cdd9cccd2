/** Slots; a power of two. */
const SLOTS = 1024;
/** Longer words are not kept. */
const LONGEST = 40;

interface Kept {
  readonly bytes: Uint8Array;
  readonly word: string;
}

/** Words of a file that come again and again (types, layers), so that each becomes a text only once. */
export class WordCache {
  readonly #slots: (Kept | undefined)[] = new Array<Kept | undefined>(SLOTS).fill(undefined);

  /** What `make` answers for these bytes, made once where they are few and ASCII. */
  word(bytes: Uint8Array, from: number, to: number, make: () => string): string {
    const length = to - from;
    if (length > LONGEST) return make();
    let hash = length;
    for (let i = from; i < to; i++) {
      const b = bytes[i]!;
      // What a code page spells may change once the header is read.
      if (b > 127) return make();
      hash = (Math.imul(hash, 31) + b) | 0;
    }
    const slot = (hash ^ (hash >>> 10)) & (SLOTS - 1);
    const kept = this.#slots[slot];
    if (kept !== undefined && kept.bytes.length === length) {
      let i = 0;
      while (i < length && kept.bytes[i] === bytes[from + i]) i++;
      if (i === length) return kept.word;
    }
    const word = make();
    this.#slots[slot] = { bytes: bytes.slice(from, to), word };
    return word;
  }
}
