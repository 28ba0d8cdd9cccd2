import type { Point, Vertex } from '@haunch/geometry';
import type { Entity } from '../drawing.js';

/** What kinds of repairs there are, in the order in which they are made, with what each does. */
export const REPAIR_KINDS = {
  curve: 'curves followed by lines and arcs',
  double: 'lines drawn a second time removed',
  join: 'gaps between line ends closed',
  split: 'lines parted where another ends on them',
  overlap: 'lines that lie on another line removed',
  shared: 'edges drawn once given to both neighbours',
  touch: 'contours that touch themselves parted there',
  relief: 'circles in inside corners united with their contour',
  tiny: 'tiny edges dropped',
  straight: 'edges in one line, or arcs of one circle, made one',
  arc: 'arcs recovered from chords',
  border: 'borders of sheets left out',
  gap: 'gaps between neighbours left out',
  engraving: 'closed curves taken for engraving left out',
} as const;

/** The kind of a repair. */
export type RepairKind = keyof typeof REPAIR_KINDS;

/** A run of lines and arcs as it was drawn, or as it was read. mm. */
export interface Stroke {
  readonly vertices: readonly Vertex[];
  readonly closed: boolean;
}

/** Where in the file an entity stands. */
export interface EntityRef {
  readonly line: number;
  readonly handle: string | null;
}

/**
 * One thing in which what was read differs from what was drawn. Plain data: `before` shows how it was drawn and
 * `after` what was made of it, so that nothing is lost; reading with `keep: [id]` leaves it as it was drawn.
 */
export interface Repair {
  /** The same each time that this drawing is read: `join@120:10.5,3`, by kind, line of the file and place. */
  readonly id: string;
  readonly kind: RepairKind;
  /** mm */
  readonly at: Point;
  readonly layer: string;
  readonly entities: readonly EntityRef[];
  readonly before: readonly Stroke[];
  readonly after: readonly Stroke[];
  /** The greatest distance by which the drawn line moved, or from it to what stands for it, mm; 0 for none. */
  readonly deviation: number;
}

/** How a repair's place was drawn, and what was made of it. */
export type RepairDraft = Pick<Repair, 'before' | 'after'>;

/** Keeps account of repairs while they are made. */
export interface RepairBook {
  /**
   * Whether a repair is to be made: false where the person asked to keep what was drawn. It is entered either way.
   * `draft` is called at most once, when the account is read.
   */
  mend(
    kind: RepairKind,
    at: Point,
    entities: readonly Entity[],
    deviation: number,
    draft: () => RepairDraft,
  ): boolean;
  /** Whether the person asked to keep such a repair's place as it was drawn; enters nothing. */
  keeps(kind: RepairKind, at: Point, entities: readonly Entity[]): boolean;
  /** All repairs that were made. */
  done(): readonly Repair[];
  /** Repairs that were wanted and not made, as they were kept. */
  kept(): readonly Repair[];
  /** What was asked to be kept and was no repair. */
  unused(): readonly string[];
}

const figure = (v: number): string => String(Math.round(v * 1000) / 1000 + 0);

function firstOf(entities: readonly Entity[]): Entity {
  let first = entities[0]!;
  for (const e of entities) if (e.line < first.line) first = e;
  return first;
}

const baseId = (kind: RepairKind, at: Point, first: Entity): string =>
  `${kind}@${first.line}:${figure(at.x)},${figure(at.y)}`;

interface Entry {
  readonly kind: RepairKind;
  readonly at: Point;
  readonly entities: readonly Entity[];
  readonly deviation: number;
  readonly draft: () => RepairDraft;
}

/** Begins an account; `keep` holds ids of repairs, or kinds, that are not to be made. */
export function repairBook(keep: readonly string[]): RepairBook {
  const wanted = new Set(keep);
  const made: Entry[] = [];
  const held: Entry[] = [];
  const written = new Map<Entry, Repair>();
  const times = new Map<string, number>();
  const seen = new Set<string>();
  // Written down only when it is read, as joining ends by the hundred thousand would wait for it.
  const write = (entry: Entry): Repair => {
    const old = written.get(entry);
    if (old !== undefined) return old;
    const { kind, at, entities, deviation, draft } = entry;
    const first = firstOf(entities);
    const base = baseId(kind, at, first);
    const n = (times.get(base) ?? 0) + 1;
    times.set(base, n);
    const repair: Repair = {
      id: n === 1 ? base : `${base}#${n}`,
      kind,
      at: { x: at.x, y: at.y },
      layer: first.layer,
      entities: entities.map((e) => ({ line: e.line, handle: e.handle })),
      ...draft(),
      deviation: Math.round(deviation * 1e6) / 1e6,
    };
    written.set(entry, repair);
    return repair;
  };
  return {
    done: () => made.map(write),
    kept: () => held.map(write),
    keeps: (kind, at, entities) =>
      wanted.size > 0 && (wanted.has(kind) || wanted.has(baseId(kind, at, firstOf(entities)))),
    mend(kind, at, entities, deviation, draft) {
      const entry: Entry = { kind, at, entities, deviation, draft };
      if (wanted.size > 0) {
        const base = baseId(kind, at, firstOf(entities));
        const asked = [base, kind].filter((w) => wanted.has(w));
        for (const w of asked) seen.add(w);
        if (asked.length > 0) {
          // What is kept comes by again whenever lines are chained anew.
          if (!held.some((h) => baseId(h.kind, h.at, firstOf(h.entities)) === base)) held.push(entry);
          return false;
        }
      }
      made.push(entry);
      return true;
    },
    unused: () => [...wanted].filter((k) => !seen.has(k)),
  };
}
