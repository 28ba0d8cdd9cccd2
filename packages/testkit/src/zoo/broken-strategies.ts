import { ringBounds } from '@haunch/geometry';
import type { Layout, NestingInstance, NestingStrategy, Placement } from '@haunch/model';

/** A strategy with one fault, and the rule of the kit that must catch it. */
export interface BrokenStrategy {
  readonly fault: string;
  readonly rule: string;
  readonly make: () => NestingStrategy<object>;
}

const placement = (item: string, board: string, dx: number, dy: number, turn = 0): Placement => ({
  item,
  board,
  motion: { mirror: false, turn, dx, dy },
});

/** Lays boxes row upon row, as they are drawn, clear of keep-outs; no more is needed of a sound strategy. */
function inRows({ items, boards, spacing, edgeMargin }: NestingInstance): Layout {
  const rows = new Map<string, { x: number; y: number; high: number }>();
  const placements: Placement[] = [];
  const unplaced: string[] = [];
  for (const { id, outline, boards: may } of items) {
    const b = ringBounds(outline);
    const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
    let done = false;
    for (const board of boards) {
      if (done || !may.includes(board.id)) continue;
      const o = ringBounds(board.outline);
      const keep = board.keepOuts.map(ringBounds);
      const row = rows.get(board.id) ?? { x: o.minX + edgeMargin, y: o.minY + edgeMargin, high: 0 };
      for (let tries = 0; tries < 400 && !done; tries++) {
        if (row.x + w > o.maxX - edgeMargin) {
          if (row.x === o.minX + edgeMargin) break;
          [row.x, row.y, row.high] = [o.minX + edgeMargin, row.y + row.high + spacing, 0];
        }
        if (row.y + h > o.maxY - edgeMargin) break;
        const hit = keep.find(
          (k) =>
            row.x < k.maxX + spacing &&
            k.minX < row.x + w + spacing &&
            row.y < k.maxY + spacing &&
            k.minY < row.y + h + spacing,
        );
        if (hit) {
          row.x = hit.maxX + spacing;
          continue;
        }
        placements.push(placement(id, board.id, row.x - b.minX, row.y - b.minY));
        [row.x, row.high, done] = [row.x + w + spacing, Math.max(row.high, h), true];
      }
      rows.set(board.id, row);
    }
    if (!done) unplaced.push(id);
  }
  return { kind: 'layout', placements, unplaced };
}

const strategy = (nest: NestingStrategy<object>['nest']): NestingStrategy<object> => ({
  name: 'rows',
  contract: 1,
  supports: { severalBoards: true, keepOuts: true, irregularBoards: false },
  defaults: {},
  nest,
});

/** The strategy that the broken ones are made from; it keeps every rule, and saves no wood. */
export const soundStrategy = (): NestingStrategy<object> =>
  strategy(function* (instance, _, run) {
    run.tick();
    yield inRows(instance);
  });

/** Spoils what the sound strategy answers. */
const spoiled = (change: (l: Layout, i: NestingInstance) => Layout) => () =>
  strategy(function* (instance) {
    yield change(inRows(instance), instance);
  });
const moved = (change: (p: Placement, k: number) => Placement) =>
  spoiled((l) => ({ ...l, placements: l.placements.map(change) }));
const shifted = (p: Placement, dx: number, dy = 0): Placement => ({
  ...p,
  motion: { ...p.motion, dx: p.motion.dx + dx, dy: p.motion.dy + dy },
});

/** Strategies with one fault each. */
export const BROKEN_STRATEGIES: readonly BrokenStrategy[] = [
  {
    fault: 'is of a contract that is to come',
    rule: 'N01',
    make: () => ({ ...soundStrategy(), contract: 2 as 1 }),
  },
  {
    fault: 'throws where there is no room',
    rule: 'N02',
    make: spoiled((l) => {
      if (l.unplaced.length > 0) throw new RangeError('no room');
      return l;
    }),
  },
  { fault: 'has no answer', rule: 'N02', make: () => strategy(() => []) },
  {
    fault: 'lays the second item one grid step too near',
    rule: 'N03',
    make: moved((p, k) => (k === 1 ? shifted(p, -0.0001) : p)),
  },
  {
    fault: 'lays all in one heap',
    rule: 'N03',
    make: moved((p) => ({ ...p, motion: { ...p.motion, dx: 60, dy: 60 } })),
  },
  {
    fault: 'forgets the spacing',
    rule: 'N03',
    make: () =>
      strategy(function* (i) {
        yield inRows({ ...i, spacing: 0 });
      }),
  },
  {
    fault: 'lays the first item one grid step into the margin',
    rule: 'N04',
    make: moved((p, k) => (k === 0 ? shifted(p, -0.0001) : p)),
  },
  {
    fault: 'lays half an item over the edge',
    rule: 'N04',
    make: moved((p, k) => (k === 0 ? shifted(p, -60) : p)),
  },
  {
    fault: 'does not see keep-outs',
    rule: 'N05',
    make: () =>
      strategy(function* (i) {
        yield inRows({ ...i, boards: i.boards.map((b) => ({ ...b, keepOuts: [] })) });
      }),
  },
  {
    fault: 'says that it sees defects, and does not',
    rule: 'N18',
    make: () => ({ ...soundStrategy(), supports: { ...soundStrategy().supports, defects: true } }),
  },
  {
    fault: 'says that it sees how a board is cut, and does not',
    rule: 'N04',
    make: () => ({ ...soundStrategy(), supports: { ...soundStrategy().supports, irregularBoards: true } }),
  },
  {
    fault: 'turns items against the grain',
    rule: 'N06',
    make: moved((p) => ({ ...p, motion: { ...p.motion, turn: Math.PI / 2 } })),
  },
  {
    fault: 'turns items over',
    rule: 'N06',
    make: moved((p) => ({ ...p, motion: { ...p.motion, mirror: true } })),
  },
  {
    fault: 'lays everything on the first board',
    rule: 'N07',
    make: () =>
      strategy(function* (i) {
        yield inRows({ ...i, items: i.items.map((x) => ({ ...x, boards: [i.boards[0]!.id] })) });
      }),
  },
  {
    fault: 'forgets an item',
    rule: 'N08',
    make: spoiled((l) => ({ ...l, placements: l.placements.slice(1) })),
  },
  {
    fault: 'lays an item twice',
    rule: 'N08',
    make: spoiled((l) => ({
      ...l,
      unplaced: [...l.unplaced, ...l.placements.slice(0, 1).map((p) => p.item)],
    })),
  },
  {
    fault: 'makes items up',
    rule: 'N08',
    make: spoiled((l) => ({ ...l, unplaced: [...l.unplaced, 'ghost'] })),
  },
  {
    fault: 'divides nought by nought',
    rule: 'N09',
    make: moved((p) => ({ ...p, motion: { ...p.motion, dx: Number.NaN } })),
  },
  {
    fault: 'remembers the last instance',
    rule: 'N10',
    make: () => {
      let times = 0;
      return strategy(function* (i) {
        const l = inRows(i);
        times++;
        yield { ...l, placements: l.placements.map((p) => shifted(p, 0, times > 9 ? 1e-9 : 0)) };
      });
    },
  },
  {
    fault: 'throws dice of its own',
    rule: 'N11',
    make: spoiled((l) => {
      Math.random();
      return l;
    }),
  },
  {
    fault: 'looks at the clock',
    rule: 'N11',
    make: spoiled((l) => {
      Date.now();
      return l;
    }),
  },
  {
    fault: 'does not listen when told to stop',
    rule: 'N12',
    make: () =>
      strategy(function* (i, _, run) {
        yield inRows(i);
        for (let k = 0; k < 100_000; k++) run.tick();
      }),
  },
  {
    fault: 'never asks whether to go on',
    rule: 'N12',
    make: () =>
      strategy(function* (i) {
        for (let k = 0; k < 50; k++) yield inRows(i);
      }),
  },
  {
    fault: 'sorts the list that it was given',
    rule: 'N13',
    make: () =>
      strategy(function* (i) {
        (i.items as unknown as { id: string }[]).sort((a, b) => (a.id < b.id ? 1 : -1));
        yield inRows(i);
      }),
  },
  {
    fault: 'gives its best first',
    rule: 'N14',
    make: () =>
      strategy(function* (i, _, run) {
        const best = inRows(i);
        yield best;
        if (run.tick()) yield { ...best, placements: [], unplaced: i.items.map((x) => x.id) };
      }),
  },
  {
    fault: 'places nothing',
    rule: 'N15',
    make: () =>
      strategy(function* (i) {
        yield { kind: 'layout', placements: [], unplaced: i.items.map((x) => x.id) };
      }),
  },
  {
    fault: 'answers with what cannot be sent',
    rule: 'N16',
    make: spoiled(
      (l) =>
        ({
          ...l,
          placements: l.placements.map((p) => ({ ...p, cost: Number.POSITIVE_INFINITY, left: undefined })),
        }) as Layout,
    ),
  },
  {
    fault: 'counts on the order of the list',
    rule: 'N17',
    make: spoiled((l, i) =>
      i.items[0] !== undefined && i.items.length > 1 && i.items[0].id > i.items.at(-1)!.id
        ? { ...l, placements: l.placements.slice(1) }
        : l,
    ),
  },
];
