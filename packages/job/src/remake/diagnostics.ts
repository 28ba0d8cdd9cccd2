import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const lay = diagnosticsOf('lay');

const mm = (v: number): string => v.toFixed(3);
const range = ([a, b]: readonly [number, number]): string =>
  Math.abs(a - b) < 5e-4 ? mm(a) : `${mm(a)} to ${mm(b)}`;

const KINDS = { thickness: 'of clearance', ends: 'between the ends', seat: 'at the seat' } as const;

/** What one fit of the lost part would be, in a sentence. mm */
export interface MisfitFigure {
  readonly joint: string;
  readonly kind: keyof typeof KINDS;
  /** The plate's thickness at the very spot; null where none is in question. */
  readonly thickness: number | null;
  readonly clearance: readonly [number, number];
  readonly window: readonly [number, number];
}

export const remakeMisfit = (part: string, board: string, figure: MisfitFigure, more: number): Diagnostic => {
  const { joint, kind, thickness, clearance, window } = figure;
  const thick = thickness === null ? '' : ` (${mm(thickness)} mm thick where ${joint} grips)`;
  return lay(
    'warning',
    'remake-misfit',
    `'${part}' from board '${board}'${thick} would have ${range(clearance)} mm ${KINDS[kind]} in ${joint}, where ${range(window)} mm are wanted${more > 0 ? `, and miss ${more} more` : ''}`,
    { part, board, joint },
    thickness === null
      ? 'What it meets is cut already: ease the new part there by hand, or make both again.'
      : clearance[0] < window[0]
        ? 'Take a thinner off-cut, or plan to ease the faces where it enters.'
        : 'Take a thicker off-cut; this one would rattle.',
  );
};

export const remakeUsed = (board: string): Diagnostic =>
  lay(
    'warning',
    'remake-used',
    `board '${board}' was cut in that make, and where nothing is left of it is not known here`,
    { board },
    'Enter what is left of it in the day book (haunch book off-cut) and give that with --book; or give it in the job as a board of its own.',
  );

export const remakeSpent = (board: string, state: 'cut' | 'gone', file: string | undefined): Diagnostic =>
  lay(
    'warning',
    'remake-spent',
    `board '${board}' ${state === 'gone' ? 'is gone' : 'has been cut from since'}, by the day book`,
    { board, ...(file === undefined ? {} : { file }) },
    state === 'gone'
      ? 'If it is there all the same, measure it and enter it anew: haunch book board --anew.'
      : 'Enter what is left of it: haunch book off-cut.',
  );

export const remakeOtherStock = (part: string, board: string, stock: string, wanted: string): Diagnostic =>
  lay(
    'warning',
    'remake-other-stock',
    `'${part}' is of '${wanted}', and board '${board}' is '${stock}'`,
    { part, board },
    'Only boards of its stock or material are taken; if it is the same sheet goods, give both the same "material" in the job.',
  );

export const remakeOtherThickness = (part: string, board: string, was: number, is: number): Diagnostic =>
  lay(
    'warning',
    'remake-other-thickness',
    `'${part}' was ${mm(was)} mm thick and is ${mm(is)} mm from board '${board}': what comes through it, or lies flush with its faces, will stand ${is < was ? 'proud' : 'back'} by ${mm(Math.abs(is - was))} mm in all`,
    { part, board },
    'Look where that is seen before you cut; plane it off, or take an off-cut nearer to the old thickness.',
  );

export const remakeOtherReport = (title: string): Diagnostic =>
  lay(
    'error',
    'remake-other-report',
    `the record '${title}' holds other parts than this job`,
    {},
    'Give the report.json of the very make by which the partners were cut.',
  );

export const remakeNone = (part: string, wanted: readonly [number, number] | null): Diagnostic =>
  lay(
    'error',
    'remake-none',
    wanted !== null && wanted[0] > wanted[1]
      ? `no board of one thickness fits all the slots that '${part}' enters, as they were cut`
      : `no board would do for '${part}' with what is cut already`,
    { part },
    wanted === null
      ? 'The reasons are named above; add a board or an off-cut that has none of them.'
      : wanted[0] > wanted[1]
        ? `The tightest takes ${mm(wanted[1])} mm at most, the widest wants ${mm(wanted[0])} mm at least: take the thicker one and ease it where it is tight.`
        : `It wants ${range(wanted)} mm where it is gripped: add an off-cut that measures so.`,
  );

export const remakeNoRecord = (part: string, fits: readonly string[]): Diagnostic =>
  lay(
    'warning',
    'remake-no-record',
    `the record has no figure for ${fits.slice(0, 4).join(', ')}${fits.length > 4 ? ` and ${fits.length - 4} more` : ''}, so '${part}' was not compared there`,
    { part },
    'Measure the partner there before you cut; a report of this version has every fit that the job has.',
  );
