import type { Frame } from '../frame.js';
import { stand } from './judge-plates.js';
import type { Plate } from './plate-layers.js';
import { samePlace } from './same-piece.js';
import type { Standing } from './standing-plate.js';

const CELL = 8;

/** Cells are told apart up to a hundred metres from the origin. */
const SPAN = 2 ** 15;
const cellOf = (x: number, y: number, z: number): number => (z * SPAN + y) * SPAN + x;

/** The cells along one axis that a quarter of a cell to either side of a place reaches. */
function near(x: number): readonly number[] {
  const low = Math.floor(x - 0.25);
  const high = Math.floor(x + 0.25);
  return low === high ? [low] : [low, high];
}

/** Places that plates fill, each once: congruent plates that fill the same space are in one place. mm */
export class PlaceIndex {
  /** By family, then by cell. */
  readonly #cells = new Map<number, Map<number, Standing[]>>();
  #count = 0;

  /** The place that a plate fills with its frame, and whether it is new. Its number is above 0. */
  put(plate: Plate, frame: Frame): { readonly standing: Standing; readonly isNew: boolean } {
    const s = stand(plate, frame, this.#count + 1);
    let cells = this.#cells.get(plate.family);
    if (cells === undefined) {
      cells = new Map();
      this.#cells.set(plate.family, cells);
    }
    const x = (s.low[0] + s.high[0]) / 2 / CELL;
    const y = (s.low[1] + s.high[1]) / 2 / CELL;
    const z = (s.low[2] + s.high[2]) / 2 / CELL;
    for (const c of near(z))
      for (const b of near(y))
        for (const a of near(x)) {
          const known = cells.get(cellOf(a, b, c))?.find((o) => samePlace(o, s));
          if (known !== undefined) return { standing: known, isNew: false };
        }
    this.#count++;
    const key = cellOf(Math.floor(x), Math.floor(y), Math.floor(z));
    const mine = cells.get(key);
    if (mine === undefined) cells.set(key, [s]);
    else mine.push(s);
    return { standing: s, isNew: true };
  }
}
