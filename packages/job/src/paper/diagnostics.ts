import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const job = diagnosticsOf('job');

/** No order of assembly is known or can be found, so that the assembly sheet has no steps. */
export const noAssemblyOrder = (title: string, why: string): Diagnostic =>
  job(
    'error',
    'no-assembly-order',
    `no order is known in which '${title}' goes together: ${why}`,
    {},
    'List the steps in the master (assembly), or look at what haunch dryfit says of it.',
  );

/** A file that was to be printed again is not what this version wrote. */
export const notPaperData = (file: string, why: string): Diagnostic =>
  job(
    'error',
    'not-paper-data',
    `it cannot be printed again: ${why}`,
    { file },
    'Make the job again with haunch make; it writes the file anew.',
  );

/** Names hold letters that neither the standard fonts nor the one given has. */
export const noTypeForLetters = (letters: readonly string[], given: boolean): Diagnostic =>
  job(
    'warning',
    'no-type-for-letters',
    `${given ? 'neither the standard fonts of PDF nor the font given has' : 'the standard fonts of PDF have no'} type for ${letters
      .slice(0, 12)
      .map((l) => `'${l}'`)
      .join(
        ', ',
      )}${letters.length > 12 ? ` and ${letters.length - 12} more` : ''}: on paper such letters stand by their Unicode number, [U+…]; the codes on tickets hold them whole`,
    {},
    'Give a TrueType font that has them with --font.',
  );

/** Labels that come out too small on the page that is asked for. mm */
export const labelsTooSmall = (
  sheet: string,
  [w, h]: readonly [number, number],
  [leastW, leastH]: readonly [number, number],
): Diagnostic =>
  job(
    'error',
    'labels-too-small',
    `labels ${sheet} would be ${Math.max(0, Math.round(w * 10) / 10)} × ${Math.max(0, Math.round(h * 10) / 10)} mm; a name and a code that can be read need ${leastW} × ${leastH} mm`,
    {},
    'Ask for the page that the labels are of, or change paper.labels in the job.',
  );
