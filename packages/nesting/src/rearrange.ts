import { type Box, type Motion, moveRing, ringBounds, snap } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingItem, Placement } from '@haunch/model';
import { checkLayout } from './check-layout.js';
import type { ObjectiveTerm } from './objective-term.js';
import { type Score, scoreLayout } from './score-layout.js';
import { freePlaces } from './strategies/free-places.js';
import { otherFills } from './strategies/other-fills.js';
import { stripMoves } from './strips.js';

/** What a rearrangement came to. */
export interface Rearranged {
  readonly layout: Layout;
  /** Placements that are other than before. */
  readonly moved: readonly string[];
}

/** A gain less than this share of what a term had at first is no reason to move anything. */
const WORTH = 0.01;

/** Asking the referee takes about as long as looking at so many places. */
const TRIAL = 10;

/** So much of the largest empty rectangle must stay. */
const REMNANT = 0.9;

/** Whether a rearrangement costs more than it may. */
const isWorse = (reached: Score, before: Score, more: number): boolean =>
  reached.unplacedArea > before.unplacedArea ||
  reached.extent > before.extent * (1 + more) ||
  reached.remnant < REMNANT * before.remnant;

/** The first term that differs decides. */
const isLess = (a: readonly number[], b: readonly number[], least: readonly number[]): boolean => {
  for (let i = 0; i < a.length; i++) {
    if (a[i]! < b[i]! - least[i]!) return true;
    if (a[i]! > b[i]!) return false;
  }
  return false;
};

/** Layouts in which two items have changed places, each in every turn it may take: their boxes' lower left corners, or their very motions where they look alike. */
function exchanges(
  a: NestingItem,
  p: Placement,
  b: NestingItem,
  q: Placement,
): (readonly [Placement, Placement])[] {
  if (!a.boards.includes(q.board) || !b.boards.includes(p.board)) return [];
  const boxOf = (i: NestingItem, motion: Motion): Box => ringBounds(moveRing(motion, i.outline));
  const moves = (i: NestingItem, own: Placement, at: Placement, where: Box): Placement[] =>
    i.turns.map((turn) => {
      const bare = boxOf(i, { mirror: false, turn, dx: 0, dy: 0 });
      const motion = {
        mirror: false,
        turn,
        dx: snap(where.minX - bare.minX),
        dy: snap(where.minY - bare.minY),
      };
      return { ...own, board: at.board, motion };
    });
  const [pBox, qBox] = [boxOf(a, p.motion), boxOf(b, q.motion)];
  const alike: (readonly [Placement, Placement])[] =
    JSON.stringify(a.outline) === JSON.stringify(b.outline) &&
    a.turns.includes(q.motion.turn) &&
    b.turns.includes(p.motion.turn)
      ? [
          [
            { ...p, board: q.board, motion: q.motion },
            { ...q, board: p.board, motion: p.motion },
          ],
        ]
      : [];
  return [...alike, ...moves(a, p, q, qBox).flatMap((x) => moves(b, q, p, pBox).map((y) => [x, y] as const))];
}

/** Whether moved items lie as the referee wants them among the others, which stay: asked of what is near alone. */
function fits(instance: NestingInstance, layout: Layout, moved: readonly string[]): boolean {
  const goes = new Set(moved);
  const items = new Map(instance.items.map((i) => [i.id, i]));
  const others = layout.placements.filter((p) => !goes.has(p.item));
  return checkLayout(
    {
      ...instance,
      items: instance.items.filter((i) => goes.has(i.id)),
      boards: instance.boards.map((b) => ({
        ...b,
        keepOuts: [
          ...b.keepOuts,
          ...others
            .filter((p) => p.board === b.id)
            .map((p) => moveRing(p.motion, items.get(p.item)!.outline)),
        ],
      })),
    },
    { kind: 'layout', placements: layout.placements.filter((p) => goes.has(p.item)), unplaced: [] },
  ).valid;
}

const withPlacements = (layout: Layout, changed: readonly Placement[]): Layout => ({
  ...layout,
  placements: layout.placements.map((p) => changed.find((c) => c.item === p.item) ?? p),
});

/**
 * Rearranges a valid layout so that the terms, the first before the others, come to less: items change places with each other, strips of
 * them do or are turned, or single ones go to free places, each time what gains most. At last all is laid anew in other orders. By so much `more` of
 * the boards is taken by it at the most, a share of what was, and nine tenths of the largest empty rectangle stay; unchanged where nothing is to be gained, as
 * where the terms are 0 already. Each place or exchange that is looked at takes one tick, asking the referee ten. Deterministic, and valid as the
 * referee has it.
 */
export function rearrange(
  instance: NestingInstance,
  first: Layout,
  terms: readonly ObjectiveTerm[],
  run: { readonly random: () => number; readonly tick: () => boolean },
  more = 0,
): Rearranged {
  const { tick } = run;
  const concerns = (id: string): boolean => terms.some((t) => t.concerns?.has(id) ?? true);
  const measured = (l: Layout): number[] => terms.map((t) => t.measure(l));
  const begun = measured(first);
  const least = begun.map((v) => v * WORTH);
  const items = new Map(instance.items.map((i) => [i.id, i]));
  let layout = first;
  let now = begun;
  const score: Score = scoreLayout(instance, first);
  const step = (): boolean => {
    const found: { readonly layout: Layout; readonly amounts: number[]; readonly moved: string[] }[] = [];
    let spent = false;
    const offer = (changed: readonly Placement[]): void => {
      const other = withPlacements(layout, changed);
      const amounts = measured(other);
      if (isLess(amounts, now, least))
        found.push({ layout: other, amounts, moved: changed.map((c) => c.item) });
    };
    const all = layout.placements.filter((p) => items.has(p.item));
    all.forEach((p, i) => {
      for (const q of all.slice(i + 1)) {
        if (!concerns(p.item) && !concerns(q.item)) continue;
        spent ||= !tick();
        if (spent) return;
        for (const pair of exchanges(items.get(p.item)!, p, items.get(q.item)!, q)) offer(pair);
      }
    });
    for (const { id } of instance.boards) {
      const lies = all.flatMap((p) => (p.board === id ? [[items.get(p.item)!, p] as const] : []));
      for (const changed of stripMoves(lies, instance.spacing)) {
        spent ||= !tick();
        if (spent) break;
        offer(changed);
      }
    }
    if (!spent) for (const place of freePlaces(instance, layout, concerns, tick)) offer([place]);
    // The greatest gain first; of equal ones the first that was looked at.
    found.sort((a, b) => {
      const k = a.amounts.findIndex((v, i) => v !== b.amounts[i]);
      return k < 0 ? 0 : a.amounts[k]! - b.amounts[k]!;
    });
    const tried = new Set<string>();
    for (const f of found) {
      if (!tick()) return false;
      if (isWorse(scoreLayout(instance, f.layout), score, more)) continue;
      // Parts that look alike give the same twice.
      const look = JSON.stringify(f.layout.placements);
      if (tried.has(look)) continue;
      tried.add(look);
      for (let k = 1; k < TRIAL; k++) if (!tick()) return false;
      if (!fits(instance, f.layout, f.moved)) continue;
      [layout, now] = [f.layout, f.amounts];
      return true;
    }
    return false;
  };
  while (now.some((v) => v > 0) && step());
  if (now.some((v) => v > 0))
    for (const other of otherFills(instance, first, run)) {
      const amounts = measured(other);
      if (!isLess(amounts, now, least) || isWorse(scoreLayout(instance, other), score, more)) continue;
      if (!checkLayout(instance, other).valid) continue;
      [layout, now] = [other, amounts];
    }
  const before = new Map(first.placements.map((p) => [p.item, p]));
  return {
    layout,
    moved: layout.placements.filter((p) => before.get(p.item) !== p).map((p) => p.item),
  };
}
