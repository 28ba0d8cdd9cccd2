import type { RemadeFit } from '@haunch/job';

const WHAT = { thickness: 'plate in slot', ends: 'ends', seat: 'seat' } as const;

/** The joints of a part made again as a table for the screen; one sentence where it has none, as of a loose shelf. */
export const remadeFitLines = (fits: readonly RemadeFit[]): string[] =>
  fits.length === 0
    ? ['  it is in no joint: nothing that was cut already binds it']
    : [
        '  joint         with   what          thickness there   clearance with the new part   wanted',
        ...fits.map(
          (f) =>
            `  ${f.joint.padEnd(13)} ${f.partner.padEnd(6)} ${WHAT[f.kind].padEnd(13)} ${(f.thickness === null ? '' : `${f.thickness.toFixed(3)} mm`).padStart(15)} ${`${f.clearance[0].toFixed(3)} … ${f.clearance[1].toFixed(3)} mm`.padStart(29)}   ${f.window[0].toFixed(3)} … ${f.window[1].toFixed(3)} mm`,
        ),
      ];
