import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DRILL, ROUTER } from '../test/workshop.js';
import { doorsOf, type Operation } from './operation.js';
import { orderOperations } from './order.js';

const KINDS = ['drilling', 'hole', 'pocket', 'inside profile', 'outside profile'] as const;
const SECOND = { ...ROUTER, id: 'router-8', number: 3, diameter: 8 };

const operation = (
  o: Partial<Operation> & Pick<Operation, 'kind' | 'item'>,
  at = { x: 0, y: 0 },
): Operation => ({
  feature: o.item,
  cutter: o.kind === 'drilling' ? DRILL : ROUTER,
  area: 100,
  depths: [18],
  tabs: [],
  slug: null,
  moves: [{ kind: 'rapid', to: { ...at, z: 15 } }],
  encloses: [],
  ...o,
});

const anyOperations = fc
  .array(
    fc.record({
      kind: fc.constantFrom(...KINDS.slice(0, 4)),
      item: fc.constantFrom('A', 'B', 'C'),
      area: fc.integer({ min: 1, max: 9000 }),
      x: fc.integer({ min: 0, max: 2000 }),
      y: fc.integer({ min: 0, max: 1000 }),
      second: fc.boolean(),
    }),
    { maxLength: 12 },
  )
  .map((list) => [
    ...list.map(({ kind, item, area, x, y, second }) =>
      operation({ kind, item, area, ...(second && kind !== 'drilling' ? { cutter: SECOND } : {}) }, { x, y }),
    ),
    ...['A', 'B', 'C'].map((item, i) => operation({ kind: 'outside profile', item, area: 1000 * (3 - i) })),
  ]);

const changes = (o: readonly Operation[]) => o.filter((p, i) => p.cutter.id !== o[i - 1]?.cutter.id).length;

describe('order', () => {
  it('keeps everything, drills first, and releases nothing with cuts still to come in it', () => {
    fc.assert(
      fc.property(anyOperations, (all) => {
        const order = orderOperations(all);
        expect(new Set(order)).toEqual(new Set(all));
        expect(order).toHaveLength(all.length);
        const firstCut = order.findIndex((o) => o.kind !== 'drilling');
        expect(order.slice(firstCut).every((o) => o.kind !== 'drilling')).toBe(true);
        order.forEach((o, i) => {
          if (o.kind === 'outside profile')
            expect(order.slice(i + 1).some((p) => p.item === o.item)).toBe(false);
        });
      }),
    );
  });

  it('changes cutters no more often than there are cutters when one cutter does all outlines', () => {
    fc.assert(
      fc.property(anyOperations, (all) => {
        expect(changes(orderOperations(all))).toBe(new Set(all.map((o) => o.cutter.id)).size);
      }),
    );
  });

  it('cuts outlines small to large, inside cuts before them', () => {
    const order = orderOperations([
      operation({ kind: 'outside profile', item: 'large', area: 900 }),
      operation({ kind: 'outside profile', item: 'small', area: 100 }),
      operation({ kind: 'inside profile', item: 'large', area: 5000 }),
      operation({ kind: 'inside profile', item: 'large', area: 50 }),
      operation({ kind: 'pocket', item: 'small' }),
    ]);
    expect(order.map((o) => [o.item, o.kind, o.area])).toEqual([
      ['small', 'pocket', 100],
      ['large', 'inside profile', 50],
      ['large', 'inside profile', 5000],
      ['small', 'outside profile', 100],
      ['large', 'outside profile', 900],
    ]);
  });

  it('cuts out a part that lies in an opening before the opening', () => {
    const order = orderOperations([
      operation({ kind: 'inside profile', item: 'frame', encloses: ['inlay'] }),
      operation({ kind: 'outside profile', item: 'frame', area: 1000 }),
      operation({ kind: 'outside profile', item: 'inlay', area: 5000 }),
    ]);
    expect(order.map((o) => `${o.item} ${o.kind}`)).toEqual([
      'inlay outside profile',
      'frame inside profile',
      'frame outside profile',
    ]);
  });

  it('never goes a longer way than nearest first does, by the same doors and rules', () => {
    const way = (order: readonly Operation[]): number => {
      let at = { x: 0, y: 0 };
      return order.reduce((sum, o) => {
        const [{ start, end }] = [doorsOf(o)[0]!];
        const here = Math.hypot(start.x - at.x, start.y - at.y);
        at = end;
        return sum + here;
      }, 0);
    };
    let shorter = 0;
    fc.assert(
      fc.property(anyOperations, (all) => {
        const [naive, ours] = [way(orderOperations(all, 0)), way(orderOperations(all))];
        expect(ours).toBeLessThanOrEqual(naive + 1e-6);
        if (ours < naive - 1) shorter++;
      }),
    );
    // A search that changed nothing would keep the law as well.
    expect(shorter).toBeGreaterThan(5);
  });

  it('goes to the nearest next', () => {
    const at = (x: number) => operation({ kind: 'drilling', item: 'A', feature: `h${x}` }, { x, y: 0 });
    expect(orderOperations([at(30), at(10), at(20)]).map((o) => o.feature)).toEqual(['h10', 'h20', 'h30']);
  });
});
