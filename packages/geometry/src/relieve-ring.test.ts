import { describe, expect, it } from 'vitest';
import { distance, type Point } from './point.js';
import { cornerRelief } from './relief.js';
import { relieveRing } from './relieve-ring.js';
import {
  polygonRing,
  type Ring,
  rectangleRing,
  reverseRing,
  ring,
  ringSegments,
  type Segment,
} from './ring.js';
import { ringArea } from './ring-area.js';
import { pointInRing } from './ring-contains.js';
import { ringProblems } from './ring-problems.js';
import { pointSegmentDistance } from './segment-distance.js';
import { moveRing } from './transform.js';

const R = 3.175;

/** The two segments that meet in vertex `i`. */
function sides(r: Ring, i: number): { before: Segment; after: Segment } {
  const s = ringSegments(r);
  return { before: s[(i + s.length - 1) % s.length]!, after: s[i]! };
}

function discOf(relief: ReturnType<typeof cornerRelief>): { centre: Point; radius: number } {
  if ('problem' in relief) throw new Error(relief.problem);
  return relief;
}

function ringOf(result: ReturnType<typeof relieveRing>): Ring {
  if ('problem' in result) throw new Error(result.problem);
  return result.ring;
}

describe('relieveRing', () => {
  const slot = ring([
    { x: 0, y: 0, bulge: 0, tag: 'south' },
    { x: 80, y: 0, bulge: 0, tag: 'east' },
    { x: 80, y: 18, bulge: 0, tag: 'north' },
    { x: 0, y: 18, bulge: 0, tag: 'west' },
  ]);
  const reliefs = (
    r: Ring,
    air: 'left' | 'right',
    form: 'diagonal' | 'along the wall' | 'least',
    surplus: number,
    radius = R,
  ) =>
    r.vertices.map((v, i) => ({
      ...discOf(cornerRelief({ ...sides(r, i), radius, surplus, form, air })),
      tag: `r${i}`,
      corner: { x: v.x, y: v.y },
    }));

  it('relieves all corners of a slot in every form, as the union of the slot and the swept discs', () => {
    for (const form of ['diagonal', 'along the wall', 'least'] as const)
      for (const surplus of [0, 0.1]) {
        const discs = reliefs(slot, 'left', form, surplus);
        const relieved = ringOf(relieveRing(slot, 'inside', discs));
        expect(ringProblems(relieved)).toEqual([]);
        // Points of the grid are in it when they are in the slot or a disc (or, along a guide, swept beside it).
        for (let x = -7.05; x < 88; x += 0.61)
          for (let y = -7.05; y < 26; y += 0.61) {
            const p = { x, y };
            const swept =
              pointInRing(slot, p) === 'inside' || discs.some((d) => distance(d.centre, p) < d.radius - 1e-3);
            const clear =
              pointInRing(slot, p) === 'outside' &&
              discs.every((d) => distance(d.centre, p) > d.radius + 0.05);
            if (swept) expect(pointInRing(relieved, p)).toBe('inside');
            if (clear) expect(pointInRing(relieved, p)).toBe('outside');
          }
        // No arris of the plate that enters is left standing: every sharp corner is in the relieved slot.
        for (const d of discs) expect(pointInRing(relieved, d.corner)).not.toBe('outside');
      }
  });

  it('keeps the tags of the walls, gives arcs their own, and shortens only the walls that are cut', () => {
    const disc = reliefs(slot, 'left', 'diagonal', 0)[1]!;
    const relieved = ringOf(relieveRing(slot, 'inside', [disc]));
    expect(relieved.vertices.map((v) => v.tag)).toEqual(['south', 'r1', 'east', 'north', 'west']);
    const chord = 2 * R * Math.cos(Math.PI / 4);
    expect(relieved.vertices.map((v) => [v.x, v.y])).toEqual([
      [0, 0],
      [expect.closeTo(80 - chord, 9), 0],
      [80, expect.closeTo(chord, 9)],
      [80, 18],
      [0, 18],
    ]);
    const arc = ringSegments(relieved)[1]!;
    expect(arc).toMatchObject({ kind: 'arc', radius: expect.closeTo(R, 9) });
    expect(distance((arc as { centre: Point }).centre, disc.centre)).toBeLessThan(1e-9);
  });

  it('gives the same ring whichever way the ring runs and however it lies', () => {
    const motion = { mirror: false, turn: 0.7, dx: 31, dy: -7 };
    const area = ringArea(ringOf(relieveRing(slot, 'inside', reliefs(slot, 'left', 'diagonal', 0.1))));
    const back = reverseRing(slot);
    expect(
      ringArea(ringOf(relieveRing(back, 'inside', reliefs(back, 'right', 'diagonal', 0.1)))),
    ).toBeCloseTo(-area, 8);
    const moved = moveRing(motion, slot);
    expect(
      ringArea(ringOf(relieveRing(moved, 'inside', reliefs(moved, 'left', 'diagonal', 0.1)))),
    ).toBeCloseTo(area, 8);
  });

  it('relieves the two inside corners of a notch in an outline', () => {
    const plate = polygonRing([
      { x: 0, y: 0 },
      { x: 60, y: 0 },
      { x: 60, y: 40 },
      { x: 39, y: 40 },
      { x: 39, y: 20 },
      { x: 21, y: 20 },
      { x: 21, y: 40 },
      { x: 0, y: 40 },
    ]);
    for (const form of ['diagonal', 'along the wall', 'least'] as const) {
      const discs = [4, 5].map((i) => ({
        ...discOf(
          cornerRelief({
            ...sides(plate, i),
            radius: R,
            surplus: 0.1,
            form,
            guide: i === 4 ? 'before' : 'after',
            air: 'right',
          }),
        ),
        tag: `r${i}`,
        corner: plate.vertices[i]!,
      }));
      const relieved = ringOf(relieveRing(plate, 'outside', discs));
      expect(ringProblems(relieved)).toEqual([]);
      expect(ringArea(relieved)).toBeLessThan(ringArea(plate) - 1);
      for (const d of discs) expect(pointInRing(relieved, d.corner)).not.toBe('inside');
    }
  });

  it('cuts arcs where the disc crosses them, exactly', () => {
    // A half-round void: its corners lie between the straight side and the arc.
    const void_ = ring([
      { x: 0, y: 0, bulge: 0 },
      { x: 40, y: 0, bulge: 0.6 },
    ]);
    const discs = reliefs(void_, 'left', 'diagonal', 0.05, 2);
    const relieved = ringOf(relieveRing(void_, 'inside', discs));
    expect(ringProblems(relieved)).toEqual([]);
    const [line, wall] = ringSegments(void_) as [Segment, Segment];
    for (const s of ringSegments(relieved))
      if (s.tag !== undefined) {
        const d = discs.find((x) => x.tag === s.tag)!;
        for (const p of [s.from, s.to]) {
          expect(distance(p, d.centre)).toBeCloseTo(2, 9);
          expect(Math.min(pointSegmentDistance(line, p), pointSegmentDistance(wall, p))).toBeLessThan(1e-9);
        }
      }
  });

  it('accepts centres on the 0.0001 mm grid', () => {
    const turned = moveRing({ mirror: false, turn: 0.3, dx: 0, dy: 0 }, slot);
    const snap = (v: number) => Math.round(v * 10_000) / 10_000;
    for (const form of ['diagonal', 'along the wall', 'least'] as const)
      for (const surplus of [0, 0.1]) {
        const discs = reliefs(turned, 'left', form, surplus).map((d) => ({
          ...d,
          centre: { x: snap(d.centre.x), y: snap(d.centre.y) },
        }));
        expect(ringProblems(ringOf(relieveRing(turned, 'inside', discs)))).toEqual([]);
      }
  });

  it('refuses discs that swallow a side, meet on it, cut another side, miss, or have no corner', () => {
    const problem = (r: Ring, discs: Parameters<typeof relieveRing>[2]) => relieveRing(r, 'inside', discs);
    const corner = { x: 0, y: 0 };
    const narrow = rectangleRing(0, 0, 80, 8);
    // Two chords of 2·4.7625·cos 45° = 6.735 mm do not fit on a side of 8 mm; one does.
    expect(problem(narrow, reliefs(narrow, 'left', 'diagonal', 0, 4.7625).slice(0, 1))).toHaveProperty(
      'ring',
    );
    expect(problem(narrow, reliefs(narrow, 'left', 'diagonal', 0, 4.7625))).toEqual({
      problem: expect.stringContaining('overlap'),
      corner: expect.anything(),
    });
    const tiny = rectangleRing(0, 0, 80, 5);
    expect(problem(tiny, reliefs(tiny, 'left', 'diagonal', 0, 4.7625).slice(0, 1))).toEqual({
      problem: expect.stringContaining('swallows'),
      corner,
    });
    const far = { centre: { x: 5, y: 5 }, radius: 3, tag: 'r', corner };
    expect(problem(slot, [far])).toEqual({ problem: expect.stringContaining('does not reach'), corner });
    expect(problem(slot, [{ ...far, corner: { x: 40, y: 0 } }])).toHaveProperty('problem');
    const good = reliefs(slot, 'left', 'diagonal', 0)[0]!;
    expect(problem(slot, [good, good])).toEqual({ problem: expect.stringContaining('two reliefs'), corner });
    expect(relieveRing(slot, 'outside', [good])).toHaveProperty('problem');
    // A thin web between the corner and another part of the same ring.
    const hook = polygonRing([
      { x: 0, y: 0 },
      { x: 30, y: 0 },
      { x: 30, y: -10 },
      { x: -1, y: -10 },
      { x: -1, y: 20 },
      { x: -5, y: 20 },
      { x: -5, y: -14 },
      { x: 34, y: -14 },
      { x: 34, y: 20 },
      { x: 0, y: 20 },
    ]);
    expect(ringProblems(hook)).toEqual([]);
    const t = discOf(
      cornerRelief({
        ...sides(hook, 0),
        radius: 2,
        surplus: 0,
        form: 'along the wall',
        guide: 'after',
        air: 'left',
      }),
    );
    expect(problem(hook, [{ ...t, tag: 'r', corner }])).toEqual({
      problem: expect.stringContaining('another side'),
      corner,
    });
    expect(() => problem(slot, [{ ...far, radius: 0 }])).toThrow(RangeError);
  });
});
