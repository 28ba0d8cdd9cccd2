import { type Diagnostic, fail, type Locus, type Outcome, ok } from '@haunch/model';
import { commonBias, impossibleMeasure, noSlotOrPeg, otherCutter } from '../diagnostics.js';
import { cannotBe, meantThickness } from '../map/check-readings.js';
import { USUAL_REPEATABILITY } from '../map/practice.js';
import { COMMON_BIAS_LIMIT, OTHER_CUTTER } from './practice.js';

/** A length as the program had it and as the calliper shows it, mm. */
export interface MeasuredLength {
  readonly cut: number;
  readonly measured: number;
}

/** What a cutter really cuts. mm. */
export interface EffectiveDiameter {
  readonly diameter: number;
  /** Standard uncertainty of the diameter. */
  readonly u: number;
  /** What slots and pegs have too much in common: the calliper's or the scale's error, which cancels in the diameter. */
  readonly bias: number;
  readonly biasU: number;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/**
 * The diameter from slots and pegs cut with the nominal one and measured with one instrument:
 * D = D_nom + ((Wm − Wc) − (Pm − Pc)) / 2, where slot (W) and peg (P) differences are averaged; the common part
 * ((Wm − Wc) + (Pm − Pc)) / 2 is the instrument's or the scale's and refused beyond max(0.03 mm, 2u). A diameter
 * more than 0.3 mm or 5 % from the nominal one is warned of: it is likely another cutter. mm.
 */
export function effectiveDiameter(input: {
  readonly nominal: number;
  readonly slots: readonly MeasuredLength[];
  readonly pegs: readonly MeasuredLength[];
  readonly repeatability?: number;
  readonly locus?: Locus;
}): Outcome<EffectiveDiameter> {
  const { nominal, slots, pegs, repeatability = USUAL_REPEATABILITY, locus = {} } = input;
  if (slots.length === 0 || pegs.length === 0)
    return fail(noSlotOrPeg(slots.length === 0 ? 'slot' : 'peg', locus));
  const slips = [['slot', slots] as const, ['peg', pegs] as const].flatMap(([what, lengths]) =>
    lengths
      .filter(({ cut, measured }) => cannotBe(measured, cut))
      .map(({ cut, measured }) =>
        impossibleMeasure(what, cut, measured, meantThickness(measured, cut), locus),
      ),
  );
  if (slips.length > 0) return fail(...slips);
  const wide = mean(slots.map((s) => s.measured - s.cut));
  const thick = mean(pegs.map((p) => p.measured - p.cut));
  const u = (repeatability / 2) * Math.sqrt(1 / slots.length + 1 / pegs.length);
  const found: EffectiveDiameter = {
    diameter: nominal + (wide - thick) / 2,
    u,
    bias: (wide + thick) / 2,
    biasU: u,
  };
  const limit = Math.max(COMMON_BIAS_LIMIT, 2 * u);
  const problems: Diagnostic[] =
    Math.abs(found.bias) > limit ? [commonBias(found.bias, limit, wide, thick, locus)] : [];
  if (problems.length > 0) return fail(...problems);
  const off = Math.abs(found.diameter - nominal);
  const strange = off > OTHER_CUTTER.mm || off > OTHER_CUTTER.share * nominal;
  return ok(found, strange ? [otherCutter(found.diameter, nominal, locus)] : []);
}
