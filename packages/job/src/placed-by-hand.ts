import { type Motion, moveRing, ringBounds, snap } from '@haunch/geometry';
import {
  type Diagnostic,
  fail,
  type Layout,
  type NestingInstance,
  type NestingItem,
  type Outcome,
  ok,
  type Part,
  type Placement,
} from '@haunch/model';
import { checkLayout, type Violation } from '@haunch/nesting';
import { placedUnknown, placedWrong } from './diagnostics.js';
import type { Job } from './job.js';
import type { JobPlacement } from './job-schema.js';

const RIGHT = Math.PI / 2;

/** Degrees as radians from 0 on, right angles to the last bit as a strategy has them. */
function radians(degrees: number): number {
  const turned = ((degrees % 360) + 360) % 360;
  return turned % 90 === 0 ? (turned / 90) * RIGHT : (turned * Math.PI) / 180;
}

/** The box round an item's outline after a turn, about its own origin. */
const boxAfter = (item: NestingItem, turn: number) =>
  ringBounds(moveRing({ mirror: false, turn, dx: 0, dy: 0 }, item.outline));

/** The motion that lays an item as a placement of a job file says. mm, radians. */
export function motionOfPlacement(item: NestingItem, { at, turnDegrees }: JobPlacement): Motion {
  const turn = radians(turnDegrees);
  const box = boxAfter(item, turn);
  return { mirror: false, turn, dx: snap(at[0] - box.minX), dy: snap(at[1] - box.minY) };
}

/**
 * How a placement is written into a job file; read again it gives the same motion. `at` has more digits than the grid where the item's box
 * has, as round a curve.
 */
export function placementOfMotion(item: NestingItem, { board, motion }: Placement): JobPlacement {
  const box = boxAfter(item, motion.turn);
  const fine = (v: number): number => +v.toFixed(7);
  return {
    board,
    at: [fine(motion.dx + box.minX), fine(motion.dy + box.minY)],
    turnDegrees: +((motion.turn * 180) / Math.PI).toFixed(9),
  };
}

/** How a job file says where every part of a layout lies, by part id. */
export function writtenLayout(instance: NestingInstance, layout: Layout): Record<string, JobPlacement> {
  const items = new Map(instance.items.map((i) => [i.id, i]));
  return Object.fromEntries(layout.placements.map((p) => [p.item, placementOfMotion(items.get(p.item)!, p)]));
}

const lineOf = (job: Job, part: string): number => job.lineOf(['lay', 'placements', part]);

/** A breach of a rule in the words of the job file, where a part that a person has laid takes part in it. */
export function byHandOr(job: Job, v: Violation): Diagnostic | undefined {
  const part = v.items.find((id) => Object.hasOwn(job.settings.lay.placements, id));
  return part === undefined
    ? undefined
    : placedWrong(part, v.message, job.file, lineOf(job, part), {
        ...(v.board === undefined ? {} : { board: v.board }),
        ...(v.at === undefined ? {} : { at: v.at }),
      });
}

/**
 * The parts that a person has laid, by the job file, judged by the referee among themselves. Fails by name for parts and boards that are not
 * there, and for every rule that is broken.
 */
export function placedByHand(
  job: Job,
  parts: readonly Part[],
  instance: NestingInstance,
): Outcome<readonly Placement[]> {
  const wanted = Object.entries(job.settings.lay.placements);
  const [ids, boards] = [parts.map((p) => p.id), job.boards.map((b) => b.id)];
  const unknown = wanted.flatMap(([part, { board }]) => [
    ...(ids.includes(part) ? [] : [placedUnknown(part, 'part', part, ids, job.file, lineOf(job, part))]),
    ...(boards.includes(board)
      ? []
      : [placedUnknown(part, 'board', board, boards, job.file, lineOf(job, part))]),
  ]);
  if (unknown.length > 0) return fail(...unknown);
  const placements = instance.items.flatMap((item): Placement[] => {
    const said = job.settings.lay.placements[item.id];
    return said ? [{ item: item.id, board: said.board, motion: motionOfPlacement(item, said) }] : [];
  });
  const items = instance.items.filter((i) => Object.hasOwn(job.settings.lay.placements, i.id));
  const { violations } = checkLayout({ ...instance, items }, { kind: 'layout', placements, unplaced: [] });
  return violations.length > 0 ? fail(...violations.map((v) => byHandOr(job, v)!)) : ok(placements);
}

/** What is left to be laid round parts that lie: these are keep-outs of their boards. */
export function around(instance: NestingInstance, fixed: readonly Placement[]): NestingInstance {
  if (fixed.length === 0) return instance;
  const lies = new Map(fixed.map((p) => [p.item, p]));
  const outlineOf = new Map(instance.items.map((i) => [i.id, i.outline]));
  return {
    ...instance,
    items: instance.items.filter((i) => !lies.has(i.id)),
    boards: instance.boards.map((b) => ({
      ...b,
      keepOuts: [
        ...b.keepOuts,
        ...fixed.filter((p) => p.board === b.id).map((p) => moveRing(p.motion, outlineOf.get(p.item)!)),
      ],
    })),
  };
}

/** The layout of all, in the order of the instance. */
export function together(instance: NestingInstance, fixed: readonly Placement[], rest: Layout): Layout {
  if (fixed.length === 0) return rest;
  const all = new Map([...rest.placements, ...fixed].map((p) => [p.item, p]));
  return { ...rest, placements: instance.items.flatMap((i) => all.get(i.id) ?? []) };
}
