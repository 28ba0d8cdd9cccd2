import { polygonRing } from '@haunch/geometry';
import { stripProblem } from '../problem.js';
import type { GeneratedProblem } from './jigsaw.js';
import type { Whole } from './whole-polygon.js';

/** Copies of one shape that tiles the plane by shifts. */
export interface LatticeOptions {
  readonly name: string;
  /** Width and height of the cell that is shifted, whole numbers. */
  readonly cell: readonly [number, number];
  readonly columns: number;
  readonly rows: number;
  /** How far, as a share of the cell, its sides are bent; below 0.3. */
  readonly depth: number;
}

/** A line from 0 to `length` along one axis, bent sideways at its thirds; whole numbers. */
function bent(length: number, across: number, depth: number, random: () => number): Whole[] {
  const off = (): number => Math.round((random() - 0.5) * 2 * depth * across);
  return [
    [0, 0],
    [Math.round(length / 3), off()],
    [Math.round((2 * length) / 3), off()],
  ];
}

/**
 * Many copies of one shape whose opposite sides match, so that copies fit together without a gap in rows and columns:
 * a strategy that repeats patterns finds the given layout; one that searches piece by piece hardly does. The length of
 * the given layout is possible, and the least only by the measure of the search. Deterministic for the same options
 * and `random`.
 * @throws RangeError for a cell or count that is no whole number from 6 and 1, or a depth outside 0 … 0.3.
 */
export function lattice(o: LatticeOptions, random: () => number): GeneratedProblem {
  const [w, h] = o.cell;
  if (
    ![w, h].every((v) => Number.isInteger(v) && v >= 6) ||
    ![o.columns, o.rows].every((v) => Number.isInteger(v) && v >= 1)
  )
    throw new RangeError('lattice: cells are whole numbers from 6, columns and rows from 1');
  if (!(o.depth >= 0 && o.depth < 0.3)) throw new RangeError('lattice: the depth lies between 0 and 0.3');
  const bottom = bent(w, h, o.depth, random);
  const left = bent(h, w, o.depth, random);
  // Bottom rightwards, right side upwards, top leftwards, left side downwards; opposite sides are shifts of each other.
  const corners: Whole[] = [
    ...bottom,
    ...left.map(([along, off]): Whole => [w + off, along]),
    ...[...bottom.slice(1).reverse(), bottom[0]!].map(
      ([along, off], i): Whole => (i === 2 ? [0, h] : [along, h + off]),
    ),
    ...left
      .slice(1)
      .reverse()
      .map(([along, off]): Whole => [off, along]),
  ];
  corners.splice(6, 0, [w, h]);
  const x0 = Math.min(...corners.map((c) => c[0]));
  const y0 = Math.min(...corners.map((c) => c[1]));
  const y1 = Math.max(...corners.map((c) => c[1]));
  const outline = polygonRing(corners.map(([x, y]) => ({ x: x - x0, y: y - y0 })));
  const height = (o.rows - 1) * h + (y1 - y0);
  const demand = o.columns * o.rows;
  const length = (o.columns - 1) * w + (Math.max(...corners.map((c) => c[0])) - x0);
  const bare = stripProblem({ name: o.name, source: 'generated: one shape that tiles by shifts' }, height, [
    { id: 'tile', demand, outline, turns: [0, Math.PI] },
  ]);
  const known = {
    density: bare.itemArea / (height * length),
    proved: false,
    source: 'the layout that the problem was made from',
  };
  return {
    problem: { ...bare, known },
    layout: {
      kind: 'layout',
      placements: bare.instance.items.map(({ id }, k) => ({
        item: id,
        board: 'strip',
        motion: {
          mirror: false,
          turn: 0,
          dx: (k % o.columns) * w * bare.unit,
          dy: Math.floor(k / o.columns) * h * bare.unit,
        },
      })),
      unplaced: [],
    },
  };
}
