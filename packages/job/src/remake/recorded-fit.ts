import { type Fit, type FitKind, type FitProof, passing } from '@haunch/model';
import type { Report } from '../report-schema.js';

/** A fit as a report has it: with the entering plate's thickness at the grip where the report notes it. */
export type RecordedFit = Report['joints'][number]['fits'][number];

/** One fit of the remade part with what was already cut. mm */
export interface RemadeFit {
  readonly fit: string;
  readonly joint: string;
  readonly kind: FitKind;
  /** The part that is cut already. */
  readonly partner: string;
  /** The new part's thickness at the very spot that is gripped; null where none is in question. */
  readonly thickness: number | null;
  /** Clearance with the new part: tightest and slackest. */
  readonly clearance: readonly [number, number];
  readonly window: readonly [number, number];
}

/** How far a part's edges may be off what was drawn, as its own proof has it. mm */
export interface EdgeDoubt {
  /** Cut too deep, at the most: gives room. */
  readonly gouge: number;
  /** Left standing, at the most: takes room. */
  readonly excess: number;
}

/** Clearances are told apart to a tenth of a micrometre, as in the proof. */
const SAME = 1e-4;

/** Which fits of a part what was cut already decides, and nothing of the part's own drawing but its thickness. */
export const isGripped = (fit: Fit, part: string): boolean =>
  fit.kind === 'thickness' && fit.enteringPart === part;

/** The thickness that the entering plate had where this fit gripped it, as recorded; `mean` where one wall alone tells nothing. mm */
export function grippedThickness(fit: Fit, record: RecordedFit, mean: number): number {
  if (record.grip !== undefined) return record.grip;
  return record.width === null || record.least === null
    ? mean
    : passing(record.width, fit.lean) - record.least;
}

const of = (
  fit: Fit,
  partner: string,
  thickness: number | null,
  clearance: readonly [number, number],
): RemadeFit => ({
  fit: fit.id,
  joint: fit.joint,
  kind: fit.kind,
  partner,
  thickness,
  clearance,
  window: fit.window,
});

/**
 * What a slot that is already cut leaves for a new plate so thick where it is gripped: its width on record less that; with one wall, the
 * gap on record and half of the difference of the plates, as the other half is on the plate's free side. mm
 */
export function gripWith(fit: Fit, record: RecordedFit, thickness: number, mean: number): RemadeFit {
  const was = grippedThickness(fit, record, mean);
  const more = (was - thickness) * (fit.walls.length / 2);
  return of(fit, fit.slotPart, thickness, [record.least! + more, record.most! + more]);
}

/**
 * What the partner's edges on record leave for edges of the new part that are drawn as the lost one's were: the clearance on
 * record, as wide open as the lost part and the new one may have been cut off their drawing. mm
 */
export function edgesWith(fit: Fit, record: RecordedFit, lost: EdgeDoubt, made: EdgeDoubt): RemadeFit {
  const edges = Math.max(1, fit.enteringEdges.length);
  return of(fit, fit.slotPart, null, [
    record.least! - edges * (lost.gouge + made.excess),
    record.most! + edges * (lost.excess + made.gouge),
  ]);
}

/** What a wall of the new part, as its program cuts it, leaves for the partner's edges, which may be so far off their drawing. mm */
export function wallsWith(fit: Fit, proved: FitProof, partner: EdgeDoubt): RemadeFit | null {
  if (proved.least === null || proved.most === null) return null;
  // A plate between walls is judged by its thickness on record, which is measured.
  const edges = fit.kind === 'thickness' ? 0 : Math.max(1, fit.enteringEdges.length);
  return of(fit, fit.enteringPart, null, [
    Math.min(proved.least - edges * partner.excess, fit.wanted - proved.standing),
    proved.most + edges * partner.gouge,
  ]);
}

/** How far a fit is outside its window, mm; not over 0 where it is in it. */
export const offWindow = ({ clearance, window }: RemadeFit): number => {
  const off = Math.max(window[0] - clearance[0], clearance[1] - window[1]);
  return off <= SAME ? Math.min(0, off) : off;
};

/** The fits outside their windows, the worst first. */
export const misfits = (fits: readonly RemadeFit[]): RemadeFit[] =>
  fits
    .filter((f) => offWindow(f) > 0)
    .sort((a, b) => offWindow(b) - offWindow(a) || (a.fit < b.fit ? -1 : 1));

/**
 * Between which thicknesses a plate goes with every slot that it enters, as they were cut; null where it enters none. The first is
 * over the second where no one thickness does. mm
 */
export function thicknessWanted(
  fits: readonly (readonly [Fit, RecordedFit])[],
  mean: number,
): readonly [number, number] | null {
  if (fits.length === 0) return null;
  const ranges = fits.map(([fit, record]) => {
    const was = grippedThickness(fit, record, mean);
    const share = fit.walls.length / 2;
    return [
      was - (fit.window[1] - record.most!) / share,
      was + (record.least! - fit.window[0]) / share,
    ] as const;
  });
  return [Math.max(...ranges.map((r) => r[0])), Math.min(...ranges.map((r) => r[1]))];
}
