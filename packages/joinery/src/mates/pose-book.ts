import type { Frame } from '../frame.js';
import { APART, boxesMeet, judgePlates, type Meeting, stand } from './judge-plates.js';
import { PlaceIndex } from './place-index.js';
import type { Plate } from './plate-layers.js';
import { inverse, posesOf, within } from './pose.js';
import { halfTurns, mirrored, samePlace } from './same-piece.js';
import type { Standing } from './standing-plate.js';

/** The least that must speak for two plates alone: a lap that bears on three faces. */
const BEGINS = 2.5;

const ORIGIN: Frame = { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] };

/** So many faces bear on a plate that stands in a groove: both walls and the floor. */
const HOUSED = 3;

/** What a meeting counts for, however well it fits; a plate in a groove that runs out has no end that meets. */
export const bare = (m: Meeting): number =>
  Math.max(m.ends + m.bearings / 2, m.bearings >= HOUSED ? BEGINS : 0);

/** How much a gap of 1 mm counts against a place while a piece grows; more would hide what else could stand there. */
const FINE = 0.02;

/** What counts is told apart to this part of one end that meets; a power of two, so that sums do not depend on their order. */
const STEPS = 1024;

/** What a meeting counts for while a piece grows: gaps decide between places that are as good otherwise. */
export const worth = (m: Meeting): number => Math.round((bare(m) - FINE * m.misfit) * STEPS) / STEPS;

/** What a meeting counts for in the end: gaps of 1 mm as much against it as one end that meets for it. */
export const value = (m: Meeting): number => bare(m) - m.misfit;

/** True where the meeting is a joint: ends meet, and faces bear on both sides of one; or a plate stands in a groove. */
export const isJoint = (m: Meeting): boolean => m.bearings >= HOUSED || (m.ends >= 1 && m.bearings >= 2);

/** A place on a plate for another, and how the two then meet. */
interface Joined {
  readonly frame: Frame;
  readonly met: Meeting;
}

/** What is known of pairs of plates: found once for each two families and once for each two places. */
export class PoseBook {
  readonly #poses = new Map<string, readonly Joined[]>();
  readonly #all = new Map<string, readonly Frame[]>();
  /** By the lesser number of two places, then by the greater. */
  readonly #meetings: (Map<number, Meeting | null> | undefined)[] = [];
  readonly #places = new PlaceIndex();
  readonly #around = new Map<number, Map<number, readonly Standing[]>>();
  readonly #most = new Map<number, number>();
  readonly #mayMirror: boolean;
  #symmetries: readonly ((s: Standing) => Standing)[] = [];
  readonly #images = new Map<number, readonly number[]>();

  /** `plates` are all that will be asked about. */
  constructor(plates: readonly Plate[]) {
    this.#mayMirror = plates.every((p) => p.part.pockets.length === 0);
  }

  /** The plate in its place; one and the same for congruent plates in one place. */
  place(plate: Plate, frame: Frame): Standing {
    return this.#places.put(plate, frame).standing;
  }

  /** Makes what is the same but for a symmetry of this plate, which stands at the origin, count as the same from now on. */
  begin(plate: Plate): void {
    const root = this.place(plate, ORIGIN);
    const turns = halfTurns(root).map((g) => (s: Standing) => stand(s.plate, within(g, s.frame)));
    const images = this.#mayMirror
      ? turns.map((t) => (s: Standing) => t(mirrored(s, root.low[0] + root.high[0])))
      : [];
    this.#symmetries = [...turns.slice(1), ...images].filter((g) => samePlace(g(root), root));
    this.#images.clear();
  }

  /** Words for a piece: alike where the same places are filled, or their images by a symmetry of the plate begun with. */
  keyOf(all: readonly Standing[]): string {
    const rows = all.map((s) => {
      let row = this.#images.get(s.id);
      if (row === undefined) {
        row = [s.id, ...this.#symmetries.map((g) => this.place(s.plate, g(s).frame).id)];
        this.#images.set(s.id, row);
      }
      return row;
    });
    let least = '';
    for (let k = 0; k <= this.#symmetries.length; k++) {
      const key = rows
        .map((r) => r[k]!)
        .sort((a, b) => a - b)
        .join(' ');
      if (k === 0 || key < least) least = key;
    }
    return least;
  }

  /** The places round a standing plate in which a plate of the second's family makes a joint with it. */
  around(a: Standing, plate: Plate): readonly Standing[] {
    let mine = this.#around.get(a.id);
    if (mine === undefined) {
      mine = new Map();
      this.#around.set(a.id, mine);
    }
    let found = mine.get(plate.family);
    if (found === undefined) {
      const places = new Set<Standing>();
      for (const { frame, met } of this.#between(a.plate, plate)) {
        const { standing, isNew } = this.#places.put(plate, within(a.frame, frame));
        if (isNew) this.#met(a, standing).set(standing.id, met);
        places.add(standing);
      }
      found = [...places];
      mine.set(plate.family, found);
    }
    return found;
  }

  /** The most that a joint with a plate of this family counts for, as far as is known. */
  mostOf(family: number): number {
    return this.#most.get(family) ?? 0;
  }

  /** Where a plate of the second's family may stand on the first so that the two make a joint. */
  #between(a: Plate, b: Plate): readonly Joined[] {
    const key = `${a.family}/${b.family}`;
    const known = this.#poses.get(key);
    if (known !== undefined) return known;
    const found = this.#search(a, b);
    this.#poses.set(key, found);
    return found;
  }

  /** Every way in which strips of the two go together, the second in the frame of the first. */
  #strips(a: Plate, b: Plate): readonly Frame[] {
    const there = this.#all.get(`${b.family}/${a.family}`);
    if (there !== undefined) return there.map(inverse);
    const found = posesOf(a, b).map((p) => p.frame);
    this.#all.set(`${a.family}/${b.family}`, found);
    return found;
  }

  #search(a: Plate, b: Plate): Joined[] {
    const seen = new PlaceIndex();
    const found: Joined[] = [];
    const base = stand(a, ORIGIN);
    for (const frame of this.#strips(a, b)) {
      const { standing, isNew } = seen.put(b, frame);
      if (!isNew) continue;
      const met = judgePlates(base, standing);
      if (met === null || !isJoint(met) || bare(met) < BEGINS) continue;
      found.push({ frame, met });
      for (const { family } of [a, b]) this.#most.set(family, Math.max(worth(met), this.mostOf(family)));
    }
    return found;
  }

  #met(a: Standing, b: Standing): Map<number, Meeting | null> {
    const first = Math.min(a.id, b.id);
    let mine = this.#meetings[first];
    if (mine === undefined) {
      mine = new Map();
      this.#meetings[first] = mine;
    }
    return mine;
  }

  /** How two standing plates meet. */
  meeting(a: Standing, b: Standing): Meeting | null {
    if (!boxesMeet(a, b)) return APART;
    if (a.id === 0 || b.id === 0) return judgePlates(a, b);
    const mine = this.#met(a, b);
    const second = Math.max(a.id, b.id);
    let met = mine.get(second);
    if (met === undefined) {
      met = judgePlates(a, b);
      mine.set(second, met);
    }
    return met;
  }
}
