import { type ProposedClearance, proposeDefaults } from '@haunch/gauge';
import { fitCell, USUAL_FITS } from '@haunch/job';
import { Command } from 'commander';
import { openKeptDayBook } from '../day-book-file.js';
import { DONE, UsageError } from '../exit.js';
import { writeOutput } from '../files.js';
import { counted, line } from './book-line.js';

const sightings = ({ ladders, joints }: ProposedClearance): string =>
  `from ${[ladders > 0 && counted(ladders, 'ladder'), joints > 0 && counted(joints, 'joint')].filter(Boolean).join(' and ')}`;

const three = (n: number): number => +n.toFixed(3);

/** A `haunch-fits` file of what is proposed: the usual windows, moved along with the clearance. */
function tableOf(proposals: readonly ProposedClearance[]): string {
  const rows = [...new Set(proposals.map((p) => p.material))].map((material) => ({
    material,
    ...Object.fromEntries(
      proposals
        .filter((p) => p.material === material)
        .map((p) => {
          const usual = fitCell(USUAL_FITS, p.family, material, null);
          const moved = p.proposed - usual.wanted;
          return [
            p.family,
            {
              wanted: three(p.proposed),
              window: usual.window.map((w) => three(w + moved)),
              source: 'measured here',
              note: `± ${(2 * p.u).toFixed(3)} mm, ${sightings(p)}`,
            },
          ];
        }),
    ),
  }));
  return `${JSON.stringify({ format: 'haunch-fits', version: 1, rows }, null, 1)}\n`;
}

/** Prints what a day book proposes for the shop's own table; nothing is applied. */
export function printProposals(proposals: readonly ProposedClearance[]): void {
  if (proposals.length === 0) line('nothing was felt yet, so nothing is proposed');
  for (const p of proposals)
    line(
      `  ${p.material}: ${p.family} ${p.proposed.toFixed(3)} ± ${(2 * p.u).toFixed(3)} mm, ${sightings(p)}; the trade uses ${p.trade.toFixed(3)} mm, drawn towards it by ${Math.round(p.shrinkage * 100)} %`,
    );
  if (proposals.length > 0)
    line('proposals only, nothing was changed: haunch book propose --out writes them as a table of fits');
}

/** `haunch book propose`: which clearances the shop's own past speaks for. */
export const bookProposeCommand = (exit: (code: number) => void): Command =>
  new Command('propose')
    .description(
      "propose clearances for the shop's own table of fits, from ladders and joints felt; nothing is applied",
    )
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .option('--out <file>', 'write them as a haunch-fits file, for jobs that name it')
    .option('--replace', 'overwrite what is there')
    .action((options: { readonly book: string; readonly out?: string; readonly replace?: boolean }) => {
      const proposals = proposeDefaults(openKeptDayBook(options.book).entries);
      printProposals(proposals);
      if (options.out !== undefined) {
        if (proposals.length === 0)
          throw new UsageError(`nothing is proposed, so ${options.out} was not written`);
        writeOutput(options.out, tableOf(proposals), options.replace === true);
        line(`written: ${options.out}; jobs that name it as "table" under "fit" use it`);
      }
      exit(DONE);
    });
