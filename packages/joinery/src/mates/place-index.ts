import type { Frame } from '../frame.js';
import { type Standing, stand } from './judge-plates.js';
import type { Plate } from './plate-layers.js';
import { samePlace } from './same-piece.js';

const CELL = 8;

/** Places that plates fill, each once: congruent plates that fill the same space are in one place. mm */
export class PlaceIndex {
  readonly #cells = new Map<string, Standing[]>();
  #count = 0;

  /** The place that a plate fills with its frame, and whether it is new. Its number is above 0. */
  put(plate: Plate, frame: Frame): { readonly standing: Standing; readonly isNew: boolean } {
    const s = stand(plate, frame, this.#count + 1);
    const mid = [0, 1, 2].map((k) => (s.low[k]! + s.high[k]!) / 2 / CELL);
    for (let k = 0; k < 8; k++) {
      const near = this.#cells.get(
        `${plate.family}:${mid.map((x, i) => Math.floor(x + ((k >> i) % 2 === 0 ? -0.25 : 0.25))).join(':')}`,
      );
      const known = near?.find((o) => samePlace(o, s));
      if (known !== undefined) return { standing: known, isNew: false };
    }
    this.#count++;
    const key = `${plate.family}:${mid.map(Math.floor).join(':')}`;
    const mine = this.#cells.get(key);
    if (mine === undefined) this.#cells.set(key, [s]);
    else mine.push(s);
    return { standing: s, isNew: true };
  }
}
