import { type Diagnostic, fail, type Locus, type Outcome, ok } from '@haunch/model';
import { ladderDue, ladderMissing } from '../diagnostics.js';
import { fitGaussian } from '../map/gaussian-fit.js';
import { DRIFT_LIMIT, USUAL_WEAR } from './practice.js';

/** A diameter that was measured after so many metres of cutting. mm; metres. */
export interface DiameterSighting {
  readonly metres: number;
  readonly diameter: number;
  readonly u: number;
  /** How often the cutter had been ground when it was measured. */
  readonly grinding: number;
}

/** A cutter's past: what it measured, and how far it has run. */
export interface CutterHistory {
  readonly id: string;
  /** How often it has been ground; a fresh grind is a new cutter as far as its diameter goes. */
  readonly grinding: number;
  readonly metres: number;
  readonly sightings: readonly DiameterSighting[];
  /** Ladders whose rungs were felt with it, measured or not: since then it may have worn. metres. */
  readonly ladders?: readonly { readonly metres: number; readonly grinding: number }[];
}

/** The diameter to reckon with now. mm; metres. */
export interface DiameterNow {
  readonly diameter: number;
  readonly u: number;
  /** Wear in mm of diameter a metre run, as far as it is known. */
  readonly wear: number;
  readonly wearU: number;
  /** Metres that may still be run before a new ladder is due. */
  readonly metresLeft: number;
}

/** The diameter is taken as unknown within this about its first sighting, mm. */
const DIAMETER_DOUBT = 0.5;
/** How far a cutter may be from its label, standard uncertainty, mm. Common practice, no source. */
const DIAMETER_BY_LABEL = 0.04;
/** Beyond this many metres no one looks ahead. */
const HORIZON = 100_000;

/**
 * The diameter now and when a ladder is due, from all sightings since the last grinding: a straight line over metres run,
 * whose slope starts from what wear usually is and moves with the data (Bayesian regression).
 * A ladder of which only the rungs were felt tells no diameter, but its joints were fitted with the cutter as it was then: wear
 * counts from it, and `nominal`, within 0.04 mm, stands for what was not measured.
 * Refuses a cutter that was never measured or tried as it is (new, swapped or reground) and one whose ladder is overdue.
 */
export function diameterNow(
  history: CutterHistory,
  options: { readonly limit?: number; readonly nominal?: number; readonly locus?: Locus } = {},
): Outcome<DiameterNow> {
  const { limit = DRIFT_LIMIT, nominal, locus = {} } = options;
  const asItIs = <T extends { readonly grinding: number; readonly metres: number }>(all: readonly T[]): T[] =>
    all.filter((s) => s.grinding === history.grinding).sort((a, b) => a.metres - b.metres);
  const ladder = asItIs(history.ladders ?? []).at(-1);
  const measured = asItIs(history.sightings);
  const sightings: readonly DiameterSighting[] =
    measured.length === 0 && ladder && nominal !== undefined
      ? [{ ...ladder, diameter: nominal, u: DIAMETER_BY_LABEL }]
      : measured;
  const last = sightings.at(-1);
  if (!last)
    return fail(
      ladderMissing(
        history.id,
        history.grinding + history.sightings.length + (history.ladders?.length ?? 0) > 0,
        locus,
      ),
    );
  const fit = fitGaussian({
    rows: sightings.map((s) => [1, s.metres - last.metres]),
    values: sightings.map((s) => s.diameter - last.diameter - USUAL_WEAR.perMetre * (s.metres - last.metres)),
    noise: sightings.map((s) => s.u ** 2),
    prior: [DIAMETER_DOUBT ** 2, USUAL_WEAR.doubt ** 2],
  });
  const wear = USUAL_WEAR.perMetre + fit.mean[1]!;
  const wearU = Math.sqrt(fit.covariance[1]![1]!);
  const run = history.metres - last.metres;
  // Since its last ladder the joints were fitted to the cutter as it was then: what may have moved counts from there.
  const since = history.metres - Math.max(last.metres, ladder?.metres ?? Number.NEGATIVE_INFINITY);
  const moved = (metres: number): number => Math.abs(wear) * metres + 2 * wearU * metres;
  const perMetre = Math.abs(wear) + 2 * wearU;
  const metresLeft = Math.min(HORIZON, limit / perMetre - since);
  if (moved(since) > limit) {
    const due: Diagnostic = ladderDue(history.id, since, moved(since), limit, locus);
    return fail(due);
  }
  const u2 = fit.covariance[0]![0]! + 2 * run * fit.covariance[0]![1]! + run * run * fit.covariance[1]![1]!;
  return ok({
    diameter: last.diameter + fit.mean[0]! + wear * run,
    u: Math.sqrt(Math.max(0, u2)),
    wear,
    wearU,
    metresLeft,
  });
}
