import { distance, ringSegments } from '@haunch/geometry';
import type { Part, ReliefForm } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { defaultAllowances, findJoints, fitParts, recogniseFeatures, refitByFeatures } from '../src/index.js';
import { demo, valueIn } from './demo.js';
import { farthest } from './features-pieces.js';

const fitted = (form: ReliefForm): readonly Part[] => {
  const joinery = valueIn(findJoints(demo, defaultAllowances('snug')));
  return valueIn(fitParts(demo, joinery, { relief: { radius: 2.985, surplus: 0.1, form } }));
};

/** For every relief of a part, how far its corner is from the walls' corner as drawn without it. */
const strays = (parts: readonly Part[]): number[] =>
  parts.flatMap((p) =>
    [p.outline, ...p.through, ...p.pockets].flatMap((c) =>
      c.reliefs.map((r) => Math.min(...c.bare.vertices.map((v) => distance(v, r.corner)))),
    ),
  );

/** For every relief, how far the nearest arc of its radius is from having its centre. */
const misses = (parts: readonly Part[]): number[] =>
  parts.flatMap((p) =>
    [p.outline, ...p.through, ...p.pockets].flatMap((c) => {
      const arcs = ringSegments(c.ring).flatMap((s) => (s.kind === 'arc' ? [s] : []));
      return c.reliefs.map((r) => Math.min(...arcs.map((a) => distance(a.centre, r.centre))));
    }),
  );

describe('parts with reliefs and clearance in them', () => {
  it.each(['diagonal', 'along the wall', 'least'] as const)(
    'drawn %s: each relief travels with its corner, and back',
    (form) => {
      const parts = fitted(form);
      const count = parts.reduce(
        (n, p) => n + [p.outline, ...p.through, ...p.pockets].reduce((m, c) => m + c.reliefs.length, 0),
        0,
      );
      expect(count).toBeGreaterThan(50);
      const table = valueIn(recogniseFeatures(parts, { thicknesses: [18] }));
      expect(table.reliefs.length).toBeGreaterThanOrEqual(count);
      const there = valueIn(refitByFeatures(parts, table, 17.4));
      expect(Math.max(...strays(parts))).toBeLessThan(0.001);
      expect(Math.max(...strays(there.parts))).toBeLessThan(0.001);
      expect(Math.max(...misses(there.parts))).toBeLessThan(Math.max(...misses(parts)) + 0.001);
      expect(farthest(valueIn(refitByFeatures(there.parts, there.table, 18)).parts, parts)).toBeLessThan(
        3e-4,
      );
      // The clearance that was drawn stays what it was.
      const slots = (t: typeof table) =>
        t.features.filter((f) => f.kind === 'slot').map((f) => f.size - f.thickness);
      const again = valueIn(recogniseFeatures(there.parts, { thicknesses: [17.4] }));
      slots(again).forEach((fit, k) => {
        expect(fit).toBeCloseTo(slots(table)[k]!, 3);
      });
    },
  );
});
