import type { Point } from '@haunch/geometry';
import { type Diagnostic, diagnosticsOf, type Locus } from '@haunch/model';

const say = diagnosticsOf('gauge');

const mm = (value: number): string => `${+value.toFixed(3)} mm`;
const place = (at: Point | undefined): string => (at ? ` at (${+at.x.toFixed(1)}, ${+at.y.toFixed(1)})` : '');

/** A board has no reading at all. */
export const noReadings = (locus: Locus): Diagnostic =>
  say(
    'error',
    'no-readings',
    'there is no thickness reading for this board',
    locus,
    'Measure it: three readings at least, not at the raw edge but some 50 mm in.',
  );

/** More readings than a map takes. */
export const tooManyReadings = (count: number, most: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'too-many-readings',
    `this board has ${count} thickness readings; ${most} are the most that are taken`,
    locus,
    'Keep an even spread of them: a sheet bends slowly, and a few dozen tell its surface as well.',
  );

/** A reading cannot be a sheet's thickness beside the others: a slip of the point, or another unit. */
export const impossibleReading = (
  value: number,
  index: number,
  rest: number,
  byLabel: boolean,
  guess: string | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'impossible-reading',
    `reading ${index + 1} is ${mm(value)} where ${byLabel ? `the board's label says ${mm(rest)}` : `the board's other readings lie about ${mm(rest)}`}`,
    locus,
    guess === undefined
      ? 'Measure again, or check the unit and the point.'
      : `Perhaps ${guess} was meant; measure again.`,
  );

/** A reading lies outside the board. */
export const readingOffBoard = (at: Point, index: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'reading-off-board',
    `reading ${index + 1} was taken${place(at)}, which is not on the board`,
    { ...locus, at },
    'Places count from the board’s lower left corner, in the machine’s X and Y; check them.',
  );

/** Places of readings that all lie in one corner of the board, and would cover it if they were inches. */
export const placesInCorner = (x: number, y: number, locus: Locus): Diagnostic =>
  say(
    'warning',
    'places-in-corner',
    `all readings lie within ${Math.ceil(x)} × ${Math.ceil(y)} mm of the board's lower left corner; the rest of it was not measured`,
    locus,
    'Are the places in inches? They count in mm. If they are right, take further readings in the other corners.',
  );

/** An off-cut that does not lie in the sheet it is said to come from. */
export const offCutOutside = (
  corner: Point,
  inSheet: Point,
  beyond: number,
  sheet: { readonly width: number; readonly height: number },
  meant: Point | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'off-cut-outside',
    `the off-cut's corner${place(corner)} would have been${place(inSheet)} in its sheet, ${mm(beyond)} outside its ${+sheet.width.toFixed(1)} × ${+sheet.height.toFixed(1)} mm`,
    locus,
    meant === undefined
      ? '"at" is where the off-cut’s own lower left corner, as it lies on the machine now, was in the sheet; check it with the turn and both sizes.'
      : `"at" is where the off-cut’s own lower left corner, as it lies on the machine now, was in the sheet; if (${+meant.x.toFixed(1)}, ${+meant.y.toFixed(1)}) was meant, write that.`,
  );

/** Two off-cuts that cannot both have come out of their sheet where they are said to. */
export const offCutsOverlap = (
  one: string,
  other: string,
  sheet: string,
  depth: number,
  locus: Locus,
): Diagnostic =>
  say(
    'warning',
    'off-cuts-overlap',
    `off-cut '${one}' and off-cut '${other}' take up the same room of sheet '${sheet}', ${+depth.toFixed(1)} mm of it`,
    locus,
    'Measure where both came from and enter the wrong one again; one that is used up: haunch book gone.',
  );

/** A board measured by one reading alone, with nothing to hold it against. */
export const unheldReading = (value: number, locus: Locus): Diagnostic =>
  say(
    'note',
    'unheld-reading',
    `one reading of ${mm(value)} speaks for the whole board, and nothing says whether it is right`,
    locus,
    'Take two more, or give the thickness on the label as "nominal": a slip of the point is then found.',
  );

/** A reading that no sheet has, where nothing else is known of the board. */
export const noSuchSheet = (
  value: number,
  index: number,
  guess: string | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'impossible-reading',
    `reading ${index + 1} is ${mm(value)}, and no sheet for slots is so ${value < 10 ? 'thin' : 'thick'}`,
    locus,
    guess === undefined
      ? 'Measure again, or check the unit and the point; a sheet that is so, needs its label’s thickness as "nominal".'
      : `Perhaps ${guess} was meant; a sheet that is so, needs its label’s thickness as "nominal".`,
  );

/** Readings that fall in groups, one of which must be a slip, and nothing says which. */
export const readingsApart = (
  one: readonly number[],
  value: number,
  rest: number,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'readings-apart',
    `reading${one.length === 1 ? '' : 's'} ${one.map((i) => i + 1).join(', ')} (about ${mm(value)}) and the others (about ${mm(rest)}) cannot be of one board`,
    locus,
    'Measure again, and check the unit and the point; the thickness on the label as "nominal" would say which are wrong.',
  );

/** Two boards whose readings each go with the other board. */
export const swappedReadings = (
  a: string,
  meanA: number,
  b: string,
  meanB: number,
  by: 'label' | 'earlier',
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'swapped-readings',
    `the readings of boards '${a}' (about ${mm(meanA)}) and '${b}' (about ${mm(meanB)}) each go better with ${by === 'label' ? "the other one's label" : 'what was measured on the other one before'}`,
    locus,
    by === 'label'
      ? 'Exchange them; if they are right where they are, the labels ("nominal") are exchanged.'
      : 'Exchange them; if they are right where they are, the boards got each other’s names.',
  );

/** A reading that the others do not lead one to expect. */
export const outlyingReading = (
  value: number,
  index: number,
  expected: number,
  u: number,
  at: Point | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'warning',
    'outlying-reading',
    `reading ${index + 1}${place(at)} is ${mm(value)}; the others lead to ${mm(expected)} ± ${mm(2 * u)} there, so it was left out of the map`,
    { ...locus, ...(at ? { at } : {}) },
    'Take it again, burr knocked off and the anvils flat; if it stays, add a second reading beside it.',
  );

/** The readings of a board differ more than a good sheet's. */
export const wideSpread = (least: number, most: number, placed: boolean, locus: Locus): Diagnostic =>
  say(
    'warning',
    'wide-spread',
    `the board's readings go from ${mm(least)} to ${mm(most)}, ${mm(most - least)} apart`,
    locus,
    placed
      ? 'Each slot is cut for the thickness where its part lies; further readings make that surer, or take another sheet.'
      : 'Note the place of each reading, so that every slot is cut for the thickness where its part lies; or take another sheet.',
  );

/** A sheet outside the limits of its standard. */
export const outsideStandard = (standard: string, what: string, locus: Locus): Diagnostic =>
  say(
    'error',
    'outside-standard',
    `by ${standard}, ${what}`,
    locus,
    'Check that it is the sheet that was ordered; to cut it all the same, leave the standard out of the job.',
  );

/** A reading at the machine that is not this board's. */
export const notThisBoard = (
  value: number,
  expected: number,
  limit: number,
  at: Point | undefined,
  guess: string | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'not-this-board',
    `the sheet on the machine measures ${mm(value)}${place(at)}; this board's map says ${mm(expected)}, and ${mm(limit)} is the most they may differ`,
    locus,
    guess === undefined
      ? 'Stop. Look whether the right sheet lies there, the right way round; if it is, it has moved with the air: measure it anew.'
      : `Stop. Perhaps ${guess} was meant; measure again.`,
  );

/** A reading at the machine without its place, of a sheet whose map is not even. */
export const loadNeedsPlace = (least: number, most: number, limit: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'load-needs-place',
    `the reading at the machine has no place, and this board's map goes from ${mm(least)} to ${mm(most)}, more than the ${mm(limit)} that the reading may differ`,
    locus,
    'Say where it was taken, behind an @: 17.72mm@1220,610, from the lower left corner.',
  );

/** Slot and peg have more error in common than the cutter can give them. */
export const commonBias = (
  bias: number,
  limit: number,
  wide: number,
  thick: number,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'common-bias',
    `slots measure ${mm(wide)} and pegs ${mm(thick)} more than they were cut; ${mm(bias)} of that is common to both, and ${mm(limit)} is the most a cutter's measure may carry`,
    locus,
    'A cutter makes slots wider and pegs thinner by the same amount. Check the calliper’s zero and the machine’s scale, then measure again.',
  );

/** A measured diameter is far from what the job says of the cutter. */
export const otherCutter = (measured: number, nominal: number, locus: Locus): Diagnostic =>
  say(
    'warning',
    'other-cutter',
    `the cutter measures ${mm(measured)} where the job has ${mm(nominal)}, ${mm(measured - nominal)} apart`,
    locus,
    'Is it another cutter, or another width typed as cut? Wear and grinding seldom take so much; look at its shank and measure again.',
  );

/** What is known of a cutter by measuring is not what the job says of it. */
export const cutterDiffers = (
  id: string,
  known: number,
  u: number,
  declared: number,
  by: 'ladder' | 'book',
  locus: Locus,
): Diagnostic =>
  say(
    'warning',
    'cutter-differs',
    `cutter '${id}' is ${mm(known)} ± ${mm(2 * u)} by ${by === 'ladder' ? 'slots and pegs of the ladder' : 'the day book'}, and the job has ${mm(declared)}: ${mm(Math.abs(known - declared))} apart`,
    locus,
    by === 'ladder'
      ? `Is it the cutter that the job means? Programs are written for what was measured. In the next job write "diameter": "${mm(known)}"; in this one that would move the layout.`
      : `Is it this cutter, or one that was ground? If it is, write "diameter": "${mm(known)}" in the job: lengths between ends would be ${mm(2 * Math.abs(known - declared))} off.`,
  );

/** A slot's or peg's measure that cannot be of what was cut: a slip of the point, or another unit. */
export const impossibleMeasure = (
  what: 'slot' | 'peg',
  cut: number,
  measured: number,
  guess: string | undefined,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'impossible-measure',
    `the ${what} cut ${mm(cut)} wide cannot measure ${mm(measured)}`,
    locus,
    guess === undefined
      ? 'Measure again, or check the unit, the point, and the width that was cut.'
      : `Perhaps ${guess} was meant; measure again.`,
  );

/** A diameter needs a slot and a peg. */
export const noSlotOrPeg = (missing: 'slot' | 'peg', locus: Locus): Diagnostic =>
  say(
    'error',
    'no-slot-or-peg',
    `no ${missing} was measured, so the cutter's size cannot be told from the calliper's error`,
    locus,
    'Measure one slot and one peg of the ladder at least.',
  );

/** A cutter was never measured as it is now. */
export const ladderMissing = (id: string, reground: boolean, locus: Locus): Diagnostic =>
  say(
    'error',
    'ladder-missing',
    reground
      ? `cutter '${id}' has been ground or swapped since it was last measured`
      : `cutter '${id}' has never been measured by a ladder`,
    locus,
    'Cut a ladder with it and measure a slot and a peg.',
  );

/** A cutter has run too far since its last ladder. */
export const ladderDue = (
  id: string,
  metres: number,
  moved: number,
  limit: number,
  locus: Locus,
): Diagnostic =>
  say(
    'error',
    'ladder-due',
    `cutter '${id}' has run ${Math.round(metres)} m since its last ladder and may have worn by ${mm(moved)}; ${mm(limit)} is the most`,
    locus,
    'Cut a short ladder and measure a slot and a peg.',
  );

/** A calibration without any length along an axis. */
export const calibrationLacks = (axis: 'x' | 'y', locus: Locus): Diagnostic =>
  say(
    'error',
    'calibration-lacks',
    `no length along ${axis.toUpperCase()} was measured`,
    locus,
    'Measure a long and a short pitch along each axis, and both diagonals.',
  );

/** A length of the calibration cut that the others contradict. */
export const calibrationOff = (index: number, measured: number, off: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'calibration-off',
    `length ${index + 1} (${mm(measured)}) is ${mm(off)} off what the other lengths lead to`,
    locus,
    'Measure that length again, and check what was typed for it.',
  );

/** A line of the day book that cannot be read. */
export const dayBookLine = (problem: string, locus: Locus): Diagnostic =>
  say(
    'error',
    'day-book-line',
    `the day book cannot be read here: ${problem}`,
    locus,
    'Mend this line by hand, or move it to another file; the others are whole.',
  );

/** A line written by a later version. */
export const dayBookNewer = (version: number, known: number, locus: Locus): Diagnostic =>
  say(
    'error',
    'day-book-newer',
    `this line has version ${version}; versions 1 to ${known} are known here`,
    locus,
    'It was written by a later Haunch: use that one.',
  );

/** The last line was torn off. */
export const dayBookTorn = (locus: Locus): Diagnostic =>
  say(
    'warning',
    'day-book-torn',
    'the last line of the day book was torn off in the middle and is set aside',
    locus,
    'Something stopped while it was written; enter it again. Everything before it is whole.',
  );
