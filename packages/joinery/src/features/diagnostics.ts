import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';
import { farWords } from '../change-limit.js';

const features = diagnosticsOf('features');

const mm = (value: number): string => `${+value.toFixed(3)} mm`;
const list = (names: readonly string[]): string =>
  names.length > 5 ? `${names.slice(0, 4).join(', ')} and ${names.length - 4} more` : names.join(', ');

/** Nothing in the drawing speaks for a thickness. */
export const noThickness = (hint: string | null, locus: Locus): Diagnostic =>
  features(
    'warning',
    'no-thickness',
    'nothing in it slots into anything: no width or step repeats as a sheet thickness would',
    locus,
    hint ?? 'A piece without slots needs no refit. If it has slots, state the thickness it was drawn for.',
  );

/** Several thicknesses are about equally likely. */
export const severalThicknesses = (values: readonly string[], locus: Locus): Diagnostic =>
  features(
    'warning',
    'several-thicknesses',
    `its slots and steps speak for several thicknesses: ${values.join('; ')}`,
    locus,
    'State the one it was drawn for, or all of them where the piece is made of several sheets.',
  );

/** A drawing is to be resized, but nobody has said what it was drawn for. */
export const thicknessNotConfirmed = (candidates: readonly string[], locus: Locus): Diagnostic =>
  features(
    'error',
    'thickness-not-confirmed',
    candidates.length === 0
      ? 'nobody has said for which thickness it was drawn, and nothing in it speaks for one'
      : `nobody has said for which thickness it was drawn; it speaks for ${candidates.join('; ')}`,
    locus,
    'Say it with --from, such as --from 18mm. Nothing is resized on a likelihood alone.',
  );

const nothingOf = (thicknesses: readonly number[]): string =>
  `no slot, notch, tenon, finger or housing of ${thicknesses.map(mm).join(' or ')} was found in it`;

/** Slots for a plate that leans: they follow thickness by their angle, which recognition does not do. */
export const leaningSlots = (
  part: string,
  entering: string,
  width: number,
  degrees: number,
  file: Locus,
): Diagnostic =>
  features(
    'warning',
    'leaning-slots',
    `slots ${mm(width)} wide that tenons of part ${entering} fit are left as drawn: a plate leaning at ${+degrees.toFixed(2)} degrees needs them so wide, and wider or narrower for another sheet`,
    { ...file, part },
    'Let `haunch mates` find the piece and refit the master: its marks follow the angle.',
  );

/** No feature of the stated thickness was found. */
export const nothingFollows = (thicknesses: readonly number[], locus: Locus): Diagnostic =>
  features(
    'warning',
    'nothing-follows',
    nothingOf(thicknesses),
    locus,
    'Check the thickness and the unit of the drawing.',
  );

/** A refit is asked for, and of what is in the drawing nothing follows: it would give the drawing back as it is. */
export const nothingToRefit = (thicknesses: readonly number[], count: number, locus: Locus): Diagnostic =>
  features(
    'error',
    'nothing-follows',
    count === 0
      ? nothingOf(thicknesses)
      : `${count === 1 ? 'the one feature in it does' : `the ${count} features in it do`} not follow ${thicknesses.map(mm).join(' or ')}, so a refit would change nothing`,
    locus,
    count === 0
      ? 'Check the thickness and the unit of the drawing.'
      : "Check the thickness; or export the table with --export-features, set 'follows' to true where it is right, and give it back with --features.",
  );

/** Several parts were refitted one by one, without their joints being known. */
export const partsNotChecked = (parts: number, locus: Locus): Diagnostic =>
  features(
    'note',
    'parts-not-checked',
    `its ${parts} parts were refitted each by itself, not checked against each other: where an end moves in one part, the mortise for it in another may have stayed where it was`,
    locus,
    'Let `haunch mates` find the joints and make a master of it; `haunch refit` then refits the piece as a whole.',
  );

/** Slots are taken for a thickness although they are wider than a fit makes them. */
export const looseSlots = (slots: number, width: number, thickness: number, locus: Locus): Diagnostic =>
  features(
    'warning',
    'loose-slots',
    `${slots} slots are ${mm(width)} wide, and are taken for ${mm(thickness)} with ${mm(width - thickness)} of clearance drawn`,
    locus,
    'If they are for another sheet, state its thickness as well, or set their follows to false in the table.',
  );

/** The text of a table is not JSON, or breaks its format. */
export const tableMalformed = (problem: string, locus: Locus): Diagnostic =>
  features(
    'error',
    'table',
    problem,
    locus,
    'Export the table again and change only hold, follows, thickness, sheets and outerSize.',
  );

/** A table names a part that the drawing does not have. */
export const tablePartMissing = (part: string, known: readonly string[], locus: Locus): Diagnostic =>
  features(
    'error',
    'table-part-missing',
    `the table names part '${part}', which the drawing does not have`,
    locus,
    `Its parts are ${list(known)}. Export the table again if the drawing was changed.`,
  );

/** A table names an edge that the part does not have. */
export const tableEdgeMissing = (edge: string, locus: Locus): Diagnostic =>
  features(
    'error',
    'table-edge-missing',
    `its straight edge '${edge}' is not in the drawing`,
    locus,
    'Export the table again if the drawing was changed, or take the feature out of the table.',
  );

/** A feature's sides are not as far apart as the table says. */
export const tableSizeDiffers = (said: number, drawn: number, locus: Locus): Diagnostic =>
  features(
    'error',
    'table-size-differs',
    `the table says that its sides are ${mm(said)} apart, and the drawing has ${mm(drawn)}`,
    locus,
    'The drawing was changed since the table was made; export the table again.',
  );

/** A feature's sides are not parallel. */
export const tableSidesAskew = (edges: readonly [string, string], locus: Locus): Diagnostic =>
  features(
    'error',
    'table-sides-askew',
    `its edges '${edges[0]}' and '${edges[1]}' are not parallel, so no distance between them can follow`,
    locus,
    'Name edges that face each other, or take the feature out of the table.',
  );

/** Two features have one id. */
export const tableSameId = (id: string, locus: Locus): Diagnostic =>
  features('error', 'table-same-id', `a second feature is called '${id}'`, locus, 'Rename one of them.');

/** What is asked cannot all hold. */
export const contradictoryHolds = (asked: string, others: readonly string[], locus: Locus): Diagnostic =>
  features(
    'error',
    'contradictory-holds',
    `${asked} cannot be kept together with ${list(others)}`,
    locus,
    "Change one of them to 'usual', or set 'follows' to false for a feature that need not follow.",
  );

/** A new thickness is missing for a thickness that features follow. */
export const changeMissing = (thickness: number, given: readonly number[], locus: Locus): Diagnostic =>
  features(
    'error',
    'change-missing',
    `features follow ${mm(thickness)}, and no new thickness is given for it`,
    locus,
    given.length === 0
      ? 'Give the measured thickness of the sheet.'
      : `Given are ${given.map(mm).join(', ')}; give one for ${mm(thickness)} as well, its own if it stays.`,
  );

/** A new thickness so far from the drawn one that the design is another. */
export const changeTooFar = (from: number, to: number, locus: Locus): Diagnostic => {
  const { message, hint } = farWords(from, to);
  return features('error', 'too-far', message, locus, hint);
};

/** A finger or the web beside a feature would become too thin. */
export const webTooThin = (
  what: string,
  after: number,
  before: number,
  least: number,
  locus: Locus,
): Diagnostic =>
  features(
    'error',
    'web-too-thin',
    `${what} would be ${mm(Math.max(0, after))} thin, where ${mm(before)} are drawn and ${mm(least)} are the least`,
    locus,
    'Choose a nearer thickness, hold the other wall, or allow a thinner web.',
  );

/** An edge between features would vanish or run backwards. */
export const featureVanishes = (edge: string, followed: readonly string[], locus: Locus): Diagnostic =>
  features(
    'error',
    'vanishes',
    `edge '${edge}' would have no length left, because ${list(followed)} follow${followed.length === 1 ? 's' : ''} the thickness`,
    locus,
    "Choose a nearer thickness, hold the other wall, or set 'follows' to false.",
  );

/** Two neighbouring edges would no longer meet. */
export const featureParts = (first: string, second: string, locus: Locus): Diagnostic =>
  features(
    'error',
    'neighbours-part',
    `edges '${first}' and '${second}', which meet here, would not meet any more`,
    locus,
    'Hold the other wall, or draw a straight edge between them that can take up the change.',
  );

/** What a contour runs into after the change: itself, its part's outline, or another cut or hole by name. */
export type RunsInto = 'itself' | 'the outline' | { readonly id: string };

/** A contour crosses itself or another after the change. */
export const featureCrosses = (other: RunsInto, locus: Locus): Diagnostic =>
  features(
    'error',
    'crosses',
    other === 'itself'
      ? 'its contour would cross itself here'
      : other === 'the outline'
        ? "it would run into the part's outline here"
        : `it would run into '${other.id}' here`,
    locus,
    'Choose a nearer thickness, or leave more material in the drawing.',
  );

/** Two drawings have no parts in common. */
export const pairUnlike = (part: string, why: string, locus: Locus): Diagnostic =>
  features(
    'warning',
    'pair-unlike',
    `part '${part}' has no counterpart in the other drawing: ${why}`,
    locus,
    'Both drawings must show the same design; the part is left as it is drawn.',
  );

/** Nothing at all corresponds in two drawings. */
export const pairNothing = (locus: Locus): Diagnostic =>
  features(
    'error',
    'pair-nothing',
    'no part of the one drawing corresponds to a part of the other',
    locus,
    'Give two drawings of one design, at two thicknesses.',
  );

/** Two thicknesses to learn from are too near each other. */
export const pairSameThickness = (a: number, b: number, locus: Locus): Diagnostic =>
  features(
    'error',
    'pair-same-thickness',
    `the two drawings are for ${mm(a)} and ${mm(b)}, too near each other to learn from`,
    locus,
    'Give drawings whose thicknesses differ by at least 0.05 mm.',
  );

/** An edge moved between the two drawings, but not by whole or half thicknesses. */
export const pairOdd = (edge: string, moved: number, change: number, locus: Locus): Diagnostic =>
  features(
    'warning',
    'pair-odd',
    `edge '${edge}' moved by ${mm(moved)} where the thickness changed by ${mm(change)}: not by whole or half thicknesses`,
    locus,
    'It is moved in proportion; check whether something else was changed there.',
  );

/** A place in a part. */
export const inPart = (part: string, feature: string, at: Point): Locus => ({ part, feature, at });
