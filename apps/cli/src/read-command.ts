import { describeFile } from '@haunch/job';
import { Command, Option } from 'commander';
import { DONE, exitCodeOf, say } from './exit.js';
import { readInput } from './files.js';
import { positiveLengthOption } from './length-option.js';

interface ReadOptions {
  readonly json?: boolean;
  readonly unit?: 'mm' | 'cm' | 'm' | 'inch';
  readonly thickness?: number;
}

/** `haunch read <file>`: what is in a master or a drawing. */
export const readCommand = (exit: (code: number) => void): Command =>
  new Command('read')
    .description(
      'say what is in a drawing (.dxf, .svg) or a master (.json): parts, features, units, thickness',
    )
    .argument('<file>', 'drawing or master')
    .option('--json', 'print everything as JSON')
    .addOption(
      new Option('--unit <unit>', 'unit of a drawing that states none').choices(['mm', 'cm', 'm', 'inch']),
    )
    .option(
      '--thickness <length>',
      'thickness the drawing was made for, when it does not say',
      positiveLengthOption,
    )
    .action((file: string, options: ReadOptions) => {
      const read = describeFile(readInput(file), file, {
        ...(options.unit === undefined ? {} : { unit: options.unit }),
        ...(options.thickness === undefined ? {} : { thickness: options.thickness }),
      });
      say(read.diagnostics);
      if (!read.ok) {
        if (options.json)
          process.stdout.write(
            `${JSON.stringify({ format: 'haunch-refusal', version: 1, diagnostics: read.diagnostics }, null, 1)}\n`,
          );
        return exit(exitCodeOf(read.diagnostics));
      }
      const r = read.value;
      if (options.json) process.stdout.write(`${JSON.stringify(r, null, 1)}\n`);
      else {
        const line = (text: string): void => void process.stdout.write(`${text}\n`);
        line(`${r.title}: a ${r.kind}, ${r.parts.length} part${r.parts.length === 1 ? '' : 's'}`);
        line(`unit: ${r.units.name} (${r.units.basis}: ${r.units.reason})`);
        line(
          `thickness: ${r.thickness.value === null ? 'not stated' : `${r.thickness.value} mm`}; ${r.thickness.reasons.join('; ')}`,
        );
        for (const p of r.parts)
          line(
            `  ${p.id.padEnd(10)} ${p.name.padEnd(20)} ${`${p.outline.width} × ${p.outline.height} mm`.padEnd(22)} ${p.thickness === null ? '' : `${p.thickness} mm thick`}  ${p.through.length} through cuts, ${p.pockets.length} pockets, ${p.holes.length} holes`,
          );
        if (r.mates.length > 0) line(`${r.mates.length} mates: ${r.mates.map((m) => m.id).join(', ')}`);
      }
      exit(DONE);
    });
