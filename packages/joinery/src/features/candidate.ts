import type { Point } from '@haunch/geometry';
import type { FeatureKind } from '@haunch/model';
import type { Wall, WallCourse } from './wall-course.js';

/** A feature before it has an id; its sides are elements of its contour. mm */
export interface Candidate {
  readonly kind: FeatureKind;
  readonly measure: 'width' | 'depth';
  readonly size: number;
  readonly extent: number;
  readonly count: number;
  readonly thickness: number;
  readonly sheets: 1 | 2;
  readonly sides: readonly [readonly number[], readonly number[]];
  readonly confidence: number;
  readonly follows: boolean;
  readonly reasons: readonly string[];
  readonly at: Point;
}

/** The thickness that a drawn size stands for, in sheets of one or two, and how far it is off. mm */
export interface Matched {
  readonly thickness: number;
  readonly sheets: 1 | 2;
  readonly off: number;
  /** How far it may be off. */
  readonly most: number;
  /** How many slots share a clearance that is wider than a fit; 0 where it is a fit. */
  readonly alike: number;
}

/** Says which thickness a drawn size stands for, if any. */
export type Match = (size: number) => Matched | null;

/** Sizes within this of a thickness are meant to be it, mm; others hold a drawn fit. */
export const EXACT = 0.021;

/** How much of the confidence a drawn fit costs. */
export const fitCost = (m: Matched): number =>
  Math.abs(m.off) <= EXACT ? 0 : 0.25 * Math.min(1, Math.abs(m.off) / m.most);

/** A wall of a course by its number. @throws RangeError where the element is none. */
export function wallAt(w: WallCourse, k: number): Wall {
  const e = w.elements[k]!;
  if (e.kind !== 'wall') throw new RangeError(`element ${k} of ${w.course.contour} is no wall`);
  return e;
}

/** The middle of walls, each by its mid-point. */
export function middleOf(walls: readonly Wall[]): Point {
  const n = 2 * walls.length;
  return {
    x: walls.reduce((s, e) => s + e.from.x + e.to.x, 0) / n,
    y: walls.reduce((s, e) => s + e.from.y + e.to.y, 0) / n,
  };
}

/** A length as people read it. */
export const figure = (v: number): string => String(Number(v.toFixed(3)));

/** What a matched size says to people. */
export const matchReason = (size: number, m: Matched): string => {
  const what = m.sheets === 2 ? `two sheets of ${figure(m.thickness)}` : figure(m.thickness);
  return Math.abs(m.off) <= EXACT
    ? `${figure(size)} mm, as thick as ${what} mm`
    : `${figure(size)} mm, ${what} mm with a drawn fit of ${figure(m.off)} mm`;
};
