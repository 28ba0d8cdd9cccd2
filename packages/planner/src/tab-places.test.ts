import { rectangleRing, ringSegments } from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Path, pathLength, startAt } from './path.js';
import { tabFigures, tabFinder } from './tab-places.js';

const HOLDING = { tabWidth: 6, tabHeight: 3, tabSpacing: 500, fewestTabs: 2, clearSlugsBelow: 10 };
const RULES = {
  holding: HOLDING,
  diameter: 6,
  rise: 3.3,
  mating: new Set<string>(),
  wasteLeft: true,
  corner: 0,
  holds: () => true,
};
const rectangle = (w: number, h: number): Path =>
  ringSegments(rectangleRing(0, 0, w, h)).map((s, i) => ({ ...s, tag: `e${i}` }));
const FIGURES = tabFigures(HOLDING, 6, 3.3);

const apart = (a: number, b: number, round: number): number => {
  const d = Math.abs(a - b) % round;
  return Math.min(d, round - d);
};

describe('places for tabs', () => {
  it('keep their lifted stretches apart and off corners, wherever the contour is begun', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 600 }),
        fc.integer({ min: 60, max: 600 }),
        fc.integer({ min: 2, max: 9 }),
        fc.integer({ min: 0, max: 3 }),
        (w, h, wanted, edge) => {
          const path = startAt(rectangle(w, h), edge, 20);
          const places = tabFinder(RULES)(path, [], wanted);
          const round = pathLength(path);
          places.forEach((p, i) => {
            const { x, y } = p.at;
            const toCorner = Math.min(
              Math.max(x, y),
              Math.max(w - x, y),
              Math.max(x, h - y),
              Math.max(w - x, h - y),
            );
            expect(toCorner).toBeGreaterThan(FIGURES.margin - 1e-6);
            for (const q of places.slice(i + 1))
              expect(apart(p.along, q.along, round)).toBeGreaterThanOrEqual(FIGURES.lifted + 1 - 1e-9);
          });
        },
      ),
    ));

  it('are spread evenly where every edge has room: two lie half the way round from each other', () => {
    const path = rectangle(400, 300);
    const places = tabFinder(RULES)(path, [], 2);
    expect(places).toHaveLength(2);
    expect(apart(places[0]!.along, places[1]!.along, 1400)).toBeGreaterThan(700 - 4);
  });

  it('are none on edges that mate, near the way in, or where nothing holds them', () => {
    const path = rectangle(300, 200);
    const mates = tabFinder({ ...RULES, mating: new Set(['e0', 'e2']) })(path, [], 4);
    expect(new Set(mates.map((p) => p.edge))).toEqual(new Set(['e1', 'e3']));
    // A way in as long as they get, 60 mm.
    const zone: Path = [{ kind: 'line', from: { x: 120, y: 0 }, to: { x: 180, y: 0 } }];
    for (const p of tabFinder(RULES)(path, zone, 8).filter((t) => t.edge === 'e0'))
      expect(Math.abs(p.at.x - 150)).toBeGreaterThan(30 + 6 / 2 + 6);
    expect(tabFinder({ ...RULES, holds: (p) => p.x > 150 })(path, [], 4).every((p) => p.at.x > 140)).toBe(
      true,
    );
  });

  it('are as many as fit, and fewer than wanted where they do not', () => {
    const { lifted, margin } = FIGURES;
    const room = (w: number, h: number) => tabFinder(RULES)(rectangle(w, h), [], 99).length;
    // An edge of two margins carries one tab, one that is longer by a lifted stretch and a millimetre two.
    expect(room(2 * margin + 0.01, 10)).toBe(2);
    expect(room(2 * margin + lifted + 1.01, 10)).toBe(4);
    expect(room(2 * margin - 0.01, 10)).toBe(0);
  });

  it('are the same from a finder that has answered before as from a new one', () => {
    const finder = tabFinder(RULES);
    const base = rectangle(420, 260);
    for (const [edge, along] of [
      [0, 30],
      [2, 111],
      [3, 5],
    ] as const) {
      const path = startAt(base, edge, along);
      expect(finder(path, [], 4)).toEqual(tabFinder(RULES)(path, [], 4));
    }
  });
});
