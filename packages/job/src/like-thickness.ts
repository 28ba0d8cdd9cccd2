import { movePoint, type Point, pointInRing, ringBounds, STAY } from '@haunch/geometry';
import type { Board, Layout, Master, NestingInstance, Part, Placement } from '@haunch/model';
import { alikeTerm, type ObjectiveTerm, rearrange, seededRun } from '@haunch/nesting';
import type { Job } from './job.js';
import { boardThicknessAt } from './placed-thickness.js';

/**
 * Mates whose thickness differs by no more than this are alike, mm: a step of the fit ladder, which is the least that is felt in a joint.
 * Common practice, no source.
 */
export const ALIKE = 0.05;

/** By this share more of the boards may be taken for it. Common practice, no source. */
const MORE = 0.02;

/** Looks at places and exchanges; asking the referee of one counts ten. */
const EFFORT = 3_000;

/** A part is sampled at the middles of so many fields across and up. */
const FIELDS = 5;

/** Places within a part as it lies on the table, before it is moved to its board; the middle of its box where it is too thin for any. mm */
function samples(part: Part): Point[] {
  const ring = part.outline.bare;
  const { minX, minY, maxX, maxY } = ringBounds(ring);
  const at = (i: number, j: number): Point => ({
    x: minX + ((maxX - minX) * (i + 0.5)) / FIELDS,
    y: minY + ((maxY - minY) * (j + 0.5)) / FIELDS,
  });
  const all = Array.from({ length: FIELDS * FIELDS }, (_, k) => at(k % FIELDS, Math.floor(k / FIELDS)));
  const inside = all.filter((p) => pointInRing(ring, p) === 'inside');
  const turned = part.cutFace === 'n-' ? { ...STAY, mirror: true } : STAY;
  return (inside.length > 0 ? inside : [at((FIELDS - 1) / 2, (FIELDS - 1) / 2)]).map((p) =>
    movePoint(turned, p),
  );
}

/**
 * The term of the objective that keeps mates in like thickness: by how much the mean thicknesses of two plates that meet differ where they
 * lie, beyond `ALIKE`, summed over all pairs that may lie on one board. A slot is cut for the very spot that enters it wherever that lies; what is left of a
 * difference shows where laps and edges come flush, and in what the map does not know: readings speak best for neighbours. mm
 */
export function likeThickness(
  master: Master,
  parts: readonly Part[],
  boards: readonly Board[],
  { items }: NestingInstance,
): ObjectiveTerm {
  const may = new Map(items.map((i) => [i.id, i.boards]));
  // Plates of two stocks are as they are.
  const share = (a: string, b: string): boolean =>
    may.get(a)?.some((on) => may.get(b)?.includes(on)) ?? false;
  const pairs = new Map(
    master.mates.flatMap(({ slotPart, enteringPart }) =>
      slotPart === enteringPart || !share(slotPart, enteringPart)
        ? []
        : [
            [
              [slotPart, enteringPart].sort().join(' '),
              { items: [slotPart, enteringPart] as const },
            ] as const,
          ],
    ),
  );
  const within = new Map(parts.map((p) => [p.id, samples(p)]));
  const boardOf = new Map(boards.map((b) => [b.id, b]));
  const mean = ({ item, board, motion }: Placement): number => {
    const places = within.get(item)!;
    const on = boardOf.get(board)!;
    return places.reduce((sum, p) => sum + boardThicknessAt(on, movePoint(motion, p)), 0) / places.length;
  };
  return alikeTerm('thickness of mates', 'mm', [...pairs.values()], mean, ALIKE);
}

/** How unlike mates lie in thickness beyond what matters, all pairs together, before parts changed places and after. mm */
export interface MatesAlike {
  readonly before: number;
  readonly after: number;
  /** Parts that lie elsewhere for it. */
  readonly moved: readonly string[];
}

/** What is asked of a layout of a job: its parts as they are fitted, all of it, and what is still free of it. */
export interface LikeMatesQuestion {
  readonly job: Pick<Job, 'boards' | 'settings'>;
  /** Null where nothing is joined. */
  readonly master: Master | null;
  readonly parts: readonly Part[];
  readonly instance: NestingInstance;
  readonly open: NestingInstance;
  /** Adds what lies fixed. */
  readonly whole: (layout: Layout) => Layout;
}

/**
 * Brings mates to like thickness in a layout of what is free, where their boards are so uneven that it matters: two hundredths more of the
 * boards are taken for it at the most, and nothing is moved where nothing is gained. `alike` is null where there are no mates.
 */
export function withLikeMates(
  { job, master, parts, instance, open, whole }: LikeMatesQuestion,
  layout: Layout,
): { readonly layout: Layout; readonly alike: MatesAlike | null } {
  if (!master) return { layout, alike: null };
  const term = likeThickness(master, parts, job.boards, instance);
  const asked: ObjectiveTerm = { ...term, measure: (l) => term.measure(whole(l)) };
  const before = asked.measure(layout);
  if (!(before > 0)) return { layout, alike: { before, after: before, moved: [] } };
  const found = rearrange(open, layout, [asked], seededRun(job.settings.seed, EFFORT), MORE);
  return { layout: found.layout, alike: { before, after: asked.measure(found.layout), moved: found.moved } };
}
