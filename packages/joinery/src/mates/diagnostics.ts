import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const say = diagnosticsOf('mates');

export const noParts = (): Diagnostic =>
  say('error', 'no-parts', 'There are no parts to find mates between.', {}, 'Give at least two flat parts.');

export const sameId = (part: string): Diagnostic =>
  say('error', 'same-id', `Two parts are named ${part}.`, { part }, 'Give each part a name of its own.');

export const badThickness = (part: string): Diagnostic =>
  say(
    'error',
    'bad-thickness',
    `The thickness of part ${part} is not a number above 0 mm.`,
    { part },
    'State the thickness that the part is drawn for, in mm.',
  );

export const badPocket = (part: string, depth: number, thickness: number): Diagnostic =>
  say(
    'error',
    'bad-pocket',
    `A pocket ${depth} mm deep does not lie within part ${part}, which is ${thickness} mm thick.`,
    { part },
    'Give a depth above 0 and below the thickness, or draw the pocket as a through cut.',
  );

export const fitsNothing = (part: string): Diagnostic =>
  say(
    'warning',
    'fits-nothing',
    `Part ${part} has no slot, notch, tenon or housing that another part fits.`,
    { part },
    'Leave it out if it lies loose in the piece; otherwise check its thickness and that the part it enters is given.',
  );

export const emptySlot = (part: string, others: number): Diagnostic =>
  say(
    'warning',
    'empty-slot',
    others === 1
      ? `A slot or groove of part ${part} is as wide as a plate is thick, and no plate stands in it.`
      : `${others} slots or grooves of part ${part} are as wide as a plate is thick, and no plate stands in them.`,
    { part },
    'Check that every part is given; where all are, the search has not found the whole piece: give fewer parts at once.',
  );

export const severalPieces = (count: number, part: string): Diagnostic =>
  say(
    'warning',
    'several-pieces',
    `The parts make ${count} pieces that no joint holds together; part ${part} begins one of them.`,
    { part },
    'Check whether a part between them is missing, or put the pieces in files of their own.',
  );

export const ambiguous = (question: string, text: string, part: string): Diagnostic =>
  say(
    'warning',
    'ambiguous',
    text,
    { part },
    `Answer question ${question} with the number of the piece that is meant.`,
  );

export const stopped = (): Diagnostic =>
  say(
    'warning',
    'stopped',
    'The search was stopped before every part had a place.',
    {},
    'Let it run longer, or give fewer parts at once.',
  );

export const unknownAnswer = (question: string): Diagnostic =>
  say(
    'error',
    'unknown-answer',
    `There is no question ${question} with that answer.`,
    { path: `answers.${question}` },
    'Ask again without answers and use the ids and numbers that are given then.',
  );

const degrees = (a: number): string => `${+a.toFixed(2)} degrees`;
const wide = (mm: number): string => `${+mm.toFixed(2)} mm`;

export const leansAt = (
  part: string,
  slotted: string,
  angle: number,
  wider: number,
  said: boolean,
): Diagnostic =>
  say(
    'note',
    'leans',
    said
      ? `Part ${part} leans at ${degrees(angle)} to part ${slotted}, as it is said to.`
      : `Part ${part} leans at ${degrees(angle)} to part ${slotted}, as a slot that is ${wide(wider)} wider than the sheet needs.`,
    { part },
    said
      ? 'Leave the angle out to take what the slot tells.'
      : `Give the angle of ${part} (--lean ${part}=${Math.round(angle)}) if clearance is drawn in the slot, which makes the plate seem to lean more.`,
  );

export const leaningSlot = (slotted: string, part: string, angle: number, wider: number): Diagnostic =>
  say(
    'warning',
    'leaning-slot',
    `A slot of part ${slotted} is ${wide(wider)} wider than the sheet of part ${part}, whose tenons fit its length: a plate leaning at ${degrees(angle)} would need that, and none was found in it.`,
    { part: slotted },
    `Give the angle of ${part} (--lean ${part}=${Math.round(angle)}) if it leans there and clearance is drawn in the slot; check that its tenons are long enough to pass right through at that angle.`,
  );
