import { refitFile } from '@haunch/job';
import { Command } from 'commander';
import { DONE, exitCodeOf, say } from './exit.js';
import { readInput, writeOutput } from './files.js';
import { lengthOption, namedLengthOption, positiveLengthOption } from './length-option.js';

interface RefitOptions {
  readonly thickness: number;
  readonly part: Readonly<Record<string, number>>;
  readonly clearance: number;
  readonly relief?: number;
  readonly out: string;
  readonly json?: boolean;
  readonly replace?: boolean;
}

/** `haunch refit <master> --thickness 17.4mm --out <file>`. */
export const refitCommand = (exit: (code: number) => void): Command =>
  new Command('refit')
    .description('move every edge that lies on a mark to where new thicknesses put it')
    .argument('<master>', 'master (.json)')
    .requiredOption(
      '--thickness <length>',
      'thickness of all parts, such as 17.4mm or 0.731in',
      positiveLengthOption,
    )
    .option(
      '--part <id=length>',
      'thickness of one part, such as BR=17.3mm; may be repeated',
      namedLengthOption,
      {},
    )
    .option(
      '--clearance <length>',
      'total clearance of plate in slot (drawings and pictures)',
      lengthOption,
      0,
    )
    .option(
      '--relief <diameter>',
      'relieve inside corners for a cutter of this diameter (drawings and pictures)',
      positiveLengthOption,
    )
    .requiredOption('--out <file>', 'what to write: master (.json), drawing (.dxf) or picture (.svg)')
    .option('--json', 'print what moved as JSON')
    .option('--replace', 'overwrite the output file when it exists')
    .action((file: string, options: RefitOptions) => {
      const result = refitFile({
        content: new TextDecoder().decode(readInput(file)),
        file,
        thickness: options.thickness,
        parts: options.part,
        clearance: options.clearance,
        out: options.out,
        ...(options.relief === undefined
          ? {}
          : { relief: { radius: options.relief / 2, surplus: 0.1, form: 'diagonal' as const } }),
      });
      say(result.diagnostics);
      if (!result.ok) {
        process.stderr.write('nothing was written\n');
        return exit(exitCodeOf(result.diagnostics));
      }
      writeOutput(options.out, result.value.text, options.replace === true);
      const { moved, master } = result.value;
      if (options.json)
        process.stdout.write(
          `${JSON.stringify({ format: 'haunch-refit', version: 1, file, out: options.out, parts: master.parts.map((p) => ({ id: p.id, thickness: p.thickness, moved: moved[p.id] })), diagnostics: result.diagnostics }, null, 1)}\n`,
        );
      else {
        for (const p of master.parts)
          process.stdout.write(
            `  ${p.id.padEnd(8)} ${String(p.thickness).padStart(8)} mm  ${String(moved[p.id]).padStart(4)} points moved\n`,
          );
        process.stdout.write(`written: ${options.out}\n`);
      }
      exit(DONE);
    });
