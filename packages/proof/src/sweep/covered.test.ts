import { describe, expect, it } from 'vitest';
import { coveredBy } from './covered.js';
import type { Curve } from './merge-tracks.js';

const line = (x0: number, y0: number, x1: number, y1: number): Curve => ({
  kind: 'line',
  a: { x: x0, y: y0 },
  b: { x: x1, y: y1 },
});
const arc = (start: number, sweep: number, r = 5): Curve => {
  const at = (a: number) => ({ x: r * Math.cos(a), y: r * Math.sin(a) });
  return { kind: 'arc', centre: { x: 0, y: 0 }, r, start, sweep, a: at(start), b: at(start + sweep) };
};

describe('coveredBy', () => {
  const covered = coveredBy([line(100, 0, 500, 300), arc(6, 2)]);

  it('knows a piece of a straight way, at its very ends too, and no longer one', () => {
    expect(covered(line(140, 30, 460, 270))).toBe(true);
    expect(covered(line(460, 270, 140, 30))).toBe(true);
    expect(covered(line(100, 0, 500, 300))).toBe(true);
    expect(covered(line(100, 0, 504, 303))).toBe(false);
    expect(covered(line(96, -3, 500, 300))).toBe(false);
  });

  it('takes a step of a program’s figures for the same, and ten for another way', () => {
    expect(covered(line(140, 30.0001, 460, 270))).toBe(true);
    expect(covered(line(140, 30.001, 460, 270))).toBe(false);
  });

  it('knows a piece of an arc across direction zero, and no longer one', () => {
    expect(covered(arc(6.2, 1))).toBe(true);
    expect(covered(arc(6.2 - 2 * Math.PI, 1))).toBe(true);
    expect(covered(arc(6, 2.01))).toBe(false);
    expect(covered(arc(5.9, 1))).toBe(false);
    expect(covered(arc(6.2, 1, 5.01))).toBe(false);
    expect(coveredBy([arc(0, 2 * Math.PI)])(arc(6, 2))).toBe(true);
  });

  it('knows a place on a way, and none beside it or off an arc’s end', () => {
    expect(covered(line(140, 30, 140, 30))).toBe(true);
    expect(covered(line(5, 0, 5, 0))).toBe(true);
    expect(covered(line(-5, 0, -5, 0))).toBe(false);
    expect(covered(line(140, 31, 140, 31))).toBe(false);
  });

  it('never takes a chord for its arc, nor an arc for its chord', () => {
    const { a, b } = arc(6, 2);
    expect(covered({ kind: 'line', a, b })).toBe(false);
    expect(coveredBy([{ kind: 'line', a, b }])(arc(6, 2))).toBe(false);
  });
});
