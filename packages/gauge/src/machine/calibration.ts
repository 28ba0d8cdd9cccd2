import { fail, type Locus, type Outcome, ok } from '@haunch/model';
import { calibrationLacks, calibrationOff } from '../diagnostics.js';
import { fitGaussian, type GaussianFit } from '../map/gaussian-fit.js';
import { USUAL_REPEATABILITY } from '../map/practice.js';

/**
 * One length measured on the calibration cut, mm.
 * - `pitch`: between like edges of two features, so that cutter and calliper cancel; `approach` says whether the
 *   machine came to both from one side or from opposite ones (then the backlash is in it).
 * - `inside`, `outside`: a slot's width or a peg's, in which the cutter's error stands once.
 * - `diagonal`: between like corners of a rectangle, from (0, 0) to (dx, dy); dy < 0 is the falling one.
 */
export type CalibrationLength =
  | {
      readonly kind: 'pitch';
      readonly axis: 'x' | 'y';
      readonly cut: number;
      readonly measured: number;
      readonly approach?: 'same' | 'opposite';
    }
  | {
      readonly kind: 'inside' | 'outside';
      readonly axis: 'x' | 'y';
      readonly cut: number;
      readonly measured: number;
    }
  | { readonly kind: 'diagonal'; readonly dx: number; readonly dy: number; readonly measured: number };

/** A value with its standard uncertainty. */
export interface Estimate {
  readonly value: number;
  readonly u: number;
}

/**
 * What the machine does to lengths: a point (x, y) of the program is cut at ((1 + scaleX)·x + shear·y, (1 + scaleY)·y),
 * and a move that turns round along an axis starts late by the backlash. Scales and shear are ratios, the rest mm.
 */
export interface MachineCalibration {
  readonly kind: 'machine-calibration';
  readonly scaleX: Estimate;
  readonly scaleY: Estimate;
  readonly shear: Estimate;
  readonly backlashX: Estimate;
  readonly backlashY: Estimate;
  /** How much larger the cutter is than the program assumed, seen beside the rest. */
  readonly cutter: Estimate;
  /** Root mean square of what the lengths do not explain, mm. */
  readonly residual: number;
}

/** What is expected of a machine before it is measured: standard deviations. Common practice, no source. */
const EXPECTED = { scale: 2e-3, shear: 3e-3, backlash: 0.2, cutter: 0.3 };
const PRIOR = [
  EXPECTED.scale,
  EXPECTED.scale,
  EXPECTED.shear,
  EXPECTED.backlash,
  EXPECTED.backlash,
  EXPECTED.cutter,
].map((s) => s * s);
/** What its lengths say nothing of keeps its whole doubt; a hundredth is for rounding. */
const KEPT = 0.99;

/** What a calibration's lengths leave unmeasured: squareness without a diagonal, backlash along an axis without a pitch from opposite sides. */
export const unmeasuredBy = (c: MachineCalibration): readonly ('shear' | 'backlashX' | 'backlashY')[] => [
  ...(c.shear.u > KEPT * EXPECTED.shear ? (['shear'] as const) : []),
  ...(c.backlashX.u > KEPT * EXPECTED.backlash ? (['backlashX'] as const) : []),
  ...(c.backlashY.u > KEPT * EXPECTED.backlash ? (['backlashY'] as const) : []),
];

/** A residual this many times the repeatability means that a length was mistyped or misread. */
const RESIDUAL_LIMIT = 4;

type Row = readonly [
  scaleX: number,
  scaleY: number,
  shear: number,
  backX: number,
  backY: number,
  cutter: number,
];

const rowOf = (l: CalibrationLength): { readonly row: Row; readonly cut: number } => {
  if (l.kind === 'diagonal') {
    const d = Math.hypot(l.dx, l.dy);
    // d' = |A·(dx, dy)| to first order in the scales and the shear.
    return { cut: d, row: [(l.dx * l.dx) / d, (l.dy * l.dy) / d, (l.dx * l.dy) / d, 0, 0, 0] };
  }
  const x = l.axis === 'x';
  const backlash = l.kind === 'pitch' && l.approach === 'opposite' ? 1 : 0;
  const cutter = l.kind === 'inside' ? 1 : l.kind === 'outside' ? -1 : 0;
  return {
    cut: l.cut,
    row: [x ? l.cut : 0, x ? 0 : l.cut, 0, x ? backlash : 0, x ? 0 : backlash, cutter],
  };
};

/** The fit to the lengths with these indices, and what every length is off it. */
function solve(
  rows: readonly { readonly row: Row }[],
  values: readonly number[],
  use: readonly number[],
  repeatability: number,
): { readonly fit: GaussianFit; readonly off: readonly number[] } {
  const fit = fitGaussian({
    rows: use.map((i) => rows[i]!.row),
    values: use.map((i) => values[i]!),
    noise: use.map(() => repeatability ** 2),
    prior: PRIOR,
  });
  const off = values.map((v, i) => v - rows[i]!.row.reduce((sum: number, c, j) => sum + c * fit.mean[j]!, 0));
  return { fit, off };
}

/**
 * Scale, squareness and backlash of a machine from one calibration cut, by least squares with a weak expectation, so that
 * what was not measured stays at zero with a wide doubt. Squareness needs both diagonals (γ ≈ (d₁² − d₂²)/(4ab)), or one
 * with both scales. Refuses lengths that contradict each other. mm.
 */
export function calibrateMachine(
  lengths: readonly CalibrationLength[],
  options: { readonly repeatability?: number; readonly locus?: Locus } = {},
): Outcome<MachineCalibration> {
  const { repeatability = USUAL_REPEATABILITY, locus = {} } = options;
  const lacking = (['x', 'y'] as const).filter(
    (axis) => !lengths.some((l) => l.kind !== 'diagonal' && l.axis === axis),
  );
  if (lacking.length > 0) return fail(...lacking.map((axis) => calibrationLacks(axis, locus)));
  const rows = lengths.map(rowOf);
  const values = lengths.map((l, i) => l.measured - rows[i]!.cut);
  const all = values.map((_, i) => i);
  const solved = solve(rows, values, all, repeatability);
  if (solved.off.some((v) => Math.abs(v) > RESIDUAL_LIMIT * repeatability)) {
    // The culprit is the length without which the others agree best; its own residual may be small where few others check it.
    const squares = all.map((i) => {
      const rest = solve(
        rows,
        values,
        all.filter((j) => j !== i),
        repeatability,
      );
      return rest.off.reduce((sum, v, j) => sum + (j === i ? 0 : v * v), 0);
    });
    const worst = squares.indexOf(Math.min(...squares));
    const rest = solve(
      rows,
      values,
      all.filter((j) => j !== worst),
      repeatability,
    );
    return fail(calibrationOff(worst, lengths[worst]!.measured, rest.off[worst]!, locus));
  }
  const { fit, off } = solved;
  const estimate = (i: number): Estimate => ({ value: fit.mean[i]!, u: Math.sqrt(fit.covariance[i]![i]!) });
  return ok({
    kind: 'machine-calibration',
    scaleX: estimate(0),
    scaleY: estimate(1),
    shear: estimate(2),
    backlashX: estimate(3),
    backlashY: estimate(4),
    cutter: estimate(5),
    residual: Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / off.length),
  });
}
