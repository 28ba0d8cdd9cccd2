import {
  loadClip,
  pointInRing,
  pointRingDistance,
  rectangleRing,
  ringSegments,
  segmentsDistance,
} from '@haunch/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutsOf } from '../../test/cuts.js';
import { formProblems, gougeProblems } from '../../test/laws.js';
import { contourOf, DRILL, HOLDING, inputOf, partOf, ROUTER } from '../../test/workshop.js';
import { line } from '../path.js';
import { planBoard } from '../plan-board.js';
import { GLYPHS, strokedText } from './glyphs.js';
import { placeTickets } from './place-tickets.js';
import { ticketPockets } from './ticket.js';

const VEE = { ...ROUTER, id: 'fine-1', number: 5, diameter: 1, fluteLength: 8, depthPerPass: 1 };
const CUTTERS = [ROUTER, DRILL, VEE];
const ENGRAVING = { cutter: 'fine-1', depth: 0.4 };

describe('glyphs', () => {
  it('are the capitals, the digits and three signs, each within its grid and unlike every other', () => {
    expect(GLYPHS.join('')).toBe('-./0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ');
    const drawn = GLYPHS.map((g) => strokedText(g, 6));
    for (const t of drawn) {
      expect(t.width).toBe(4);
      expect(t.strokes.every((s) => s.length >= 2)).toBe(true);
      for (const p of t.strokes.flat()) {
        expect(p.x >= 0 && p.x <= 4 && p.y >= 0 && p.y <= 6).toBe(true);
      }
    }
    expect(new Set(drawn.map((t) => JSON.stringify(t.strokes))).size).toBe(GLYPHS.length);
  });

  it('follow each other, small letters as capitals, and leave a gap for what is not known', () => {
    expect(strokedText('el-2', 10)).toEqual(strokedText('EL-2', 10));
    expect(strokedText('I I', 6).strokes).toHaveLength(6);
    expect(strokedText('AÄB', 6).unknown).toEqual(['Ä']);
    expect(() => strokedText('', 6)).toThrow(RangeError);
    expect(() => strokedText('A', 0)).toThrow(RangeError);
  });
});

const anyPlate = fc.record({
  width: fc.integer({ min: 30, max: 400 }),
  height: fc.integer({ min: 30, max: 300 }),
  hole: fc.record({ x: fc.integer({ min: 5, max: 90 }), y: fc.integer({ min: 5, max: 90 }) }),
  text: fc.stringMatching(/^[A-Z0-9./-]{1,5}$/),
  letters: fc.integer({ min: 5, max: 20 }),
});

describe('tickets', () => {
  it('lie within the part and keep off every edge, opening, recess and hole, or a note tells why not', () => {
    fc.assert(
      fc.property(anyPlate, ({ width, height, hole, text, letters }) => {
        const [x, y] = [40 + (width * hole.x) / 100, 40 + (height * hole.y) / 100];
        const opening = contourOf('A.o', rectangleRing(x, y, x + width / 20, y + height / 20));
        const pocket = contourOf('A.p', rectangleRing(41, 41, 40 + width / 3, 40 + height / 4));
        const part = partOf('A', rectangleRing(40, 40, 40 + width, 40 + height), {
          through: [opening],
          pockets: [{ ...pocket, face: 'n+', depth: 5 }],
        });
        const input = inputOf([part], { cutters: CUTTERS });
        const { tickets, diagnostics } = placeTickets(input, {
          ...ENGRAVING,
          height: letters,
          texts: { A: text },
        });
        if (tickets.length === 0) {
          expect(diagnostics.map((d) => d.code)).toEqual(['plan/no-room-for-ticket']);
          return;
        }
        const edges = [part.outline, opening, pocket].flatMap((c) => ringSegments(c.ring));
        for (const stroke of tickets[0]!.strokes)
          stroke.slice(1).forEach((b, i) => {
            const run = line(stroke[i]!, b);
            for (const e of edges) expect(segmentsDistance(run, e)).toBeGreaterThan(0.5 + 3 - 1e-3);
            expect(pointInRing(part.outline.ring, b)).toBe('inside');
            expect(pointInRing(opening.ring, b)).toBe('outside');
            expect(pointInRing(pocket.ring, b)).toBe('outside');
          });
      }),
      { numRuns: 60 },
    );
  });

  const plate = partOf('EL', rectangleRing(40, 40, 340, 240));
  const input = inputOf([plate], { cutters: CUTTERS, holding: HOLDING });
  const { tickets } = placeTickets(input, ENGRAVING);

  it('are cut to their depth and no deeper, before the outline, down slopes, and enter nothing else', async () => {
    const plan = planBoard({ ...input, tickets });
    if (!plan.ok) throw new Error(plan.diagnostics[0]?.message);
    const { steps } = plan.value.workplan;
    expect(steps.map((s) => [s.kind, s.feature, s.cutter])).toEqual([
      ['engraving', 'EL.ticket', 'fine-1'],
      ['outside profile', 'EL', 'router-6'],
    ]);
    const cuts = cutsOf(plan.value.toolpath).filter((c) => c.move.from === steps[0]!.id);
    expect(Math.min(...cuts.map((c) => c.move.to.z))).toBe(-0.4);
    expect(formProblems(plan.value, input, 0)).toEqual([]);
    for (const c of cuts)
      if (c.from.z <= 0 && c.move.to.z < c.from.z) {
        const way = Math.hypot(c.move.to.x - c.from.x, c.move.to.y - c.from.y);
        expect(Math.atan2(c.from.z - c.move.to.z, way)).toBeLessThan(VEE.rampAngle + 1e-3);
      }
    // Its own grooves are declared as recesses; without them it would be a gouge.
    const declared = { ...plate, pockets: ticketPockets(tickets[0]!, 1, 'n+') };
    const clip = await loadClip();
    const gouges = (part: typeof plate) =>
      gougeProblems(
        {
          ...plan.value,
          workplan: {
            ...plan.value.workplan,
            steps: steps.map((s) => ({
              ...s,
              feature: s.kind === 'engraving' ? `${'EL.ticket/1.1'}` : s.feature,
            })),
          },
        },
        { ...input, items: [{ item: 'EL', part }] },
        cuts,
        clip,
      );
    expect(gouges(declared)).toEqual([]);
    expect(gouges(plate)).toHaveLength(1);
  });

  it('declare grooves as wide as the cutter round every stroke', () => {
    const pockets = ticketPockets(tickets[0]!, 1, 'n+');
    expect(pockets).toHaveLength(tickets[0]!.strokes.reduce((sum, s) => sum + s.length - 1, 0));
    for (const p of pockets) expect(p.depth).toBe(0.4);
    const [a, b] = tickets[0]!.strokes[0]!;
    expect(pointRingDistance(pockets[0]!.ring, { x: (a!.x + b!.x) / 2, y: (a!.y + b!.y) / 2 })).toBeCloseTo(
      0.5,
      3,
    );
  });

  it('are left out on a seen face, in a part without room, and of letters that are not known, with notes', () => {
    const codesOf = (part: typeof plate, more = {}) =>
      placeTickets(inputOf([part], { cutters: CUTTERS }), { ...ENGRAVING, ...more }).diagnostics.map(
        (d) => d.code,
      );
    expect(codesOf({ ...plate, showFace: 'n+' })).toEqual(['plan/ticket-on-seen-face']);
    expect(codesOf(plate, { height: 190 })).toEqual(['plan/no-room-for-ticket']);
    expect(codesOf(plate, { texts: { EL: 'A?' } })).toEqual(['plan/no-glyph']);
    expect(codesOf(plate, { texts: { EL: '' } })).toEqual([]);
    expect(() => placeTickets(input, { ...ENGRAVING, cutter: 'no' })).toThrow(RangeError);
  });

  it('are refused with a cutter that is none, too deep, or that tears the top', () => {
    const codeOf = (change: object, cutters = CUTTERS) => {
      const plan = planBoard({ ...input, cutters, tickets: tickets.map((t) => ({ ...t, ...change })) });
      return plan.diagnostics.find((d) => d.level === 'error')?.code;
    };
    expect(codeOf({ cutter: 'drill-5' })).toBe('plan/ticket-cutter');
    expect(codeOf({ depth: 18 })).toBe('plan/too-deep');
    expect(codeOf({ depth: 9 })).toBe('plan/flutes-too-short');
    expect(codeOf({}, [ROUTER, DRILL, { ...VEE, upCutLength: 2 }])).toBe('plan/shallow-first-pass');
  });
});
