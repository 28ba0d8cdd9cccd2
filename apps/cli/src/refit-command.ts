import { type RefitResult, refitFile } from '@haunch/job';
import { Command } from 'commander';
import { DONE, exitCodeOf, say, UsageError } from './exit.js';
import { readInput, writeOutput } from './files.js';
import { layerOption } from './layer-option.js';
import { lengthOption, lengthsOption, namedLengthOption, positiveLengthOption } from './length-option.js';
import { type DrawingRefitOptions, refitDrawingFile } from './refit-drawing-file.js';
import { refitTwoFiles } from './refit-two-files.js';
import { unitOption } from './unit-option.js';

interface RefitOptions extends DrawingRefitOptions {
  readonly with?: string;
  readonly thickness?: number;
  readonly part: Readonly<Record<string, number>>;
  readonly clearance: number;
  readonly relief?: number;
}

/** `haunch refit <master or drawing>`: a master by its marks, a drawing by the features recognised in it. */
export const refitCommand = (exit: (code: number) => void): Command =>
  new Command('refit')
    .description(
      'refit a master by its marks, or a drawing by the slots, notches, tenons and fingers recognised in it',
    )
    .argument('<file>', 'master (.json), or drawing (.dxf, .svg)')
    .option(
      '--thickness <length>',
      'new thickness of all parts, such as 17.4mm or 0.731in',
      positiveLengthOption,
    )
    .option(
      '--part <id=length>',
      'thickness of one part of a master, such as BR=17.3mm; may be repeated',
      namedLengthOption,
      {},
    )
    .option(
      '--clearance <length>',
      'total clearance of plate in slot (master to drawing or picture)',
      lengthOption,
      0,
    )
    .option(
      '--relief <diameter>',
      'relieve inside corners for a cutter of this diameter (master to drawing or picture)',
      positiveLengthOption,
    )
    .option(
      '--from <length>',
      'thickness a drawing was made for; may be repeated with --to',
      lengthsOption,
      [],
    )
    .option('--to <length>', 'new thickness for it, in the same order', lengthsOption, [])
    .option(
      '--with <drawing>',
      'second drawing of the same design for another thickness: learn from both what follows (--from once for each)',
    )
    .option('--features <table.json>', 'refit a drawing by this table, exported before and corrected by hand')
    .option('--export-features <table.json>', 'write the table of what was recognised in a drawing')
    .option(
      '--least-web <length>',
      'thinnest web or finger to leave in a drawing (2mm)',
      positiveLengthOption,
    )
    .addOption(unitOption())
    .option(
      '--layer <name=rule>',
      'what a layer of a drawing holds: cut, pocket:8mm, hole:12mm, engrave, leave-out',
      layerOption,
    )
    .option('--hidden', 'read layers of a drawing that are off or frozen as well')
    .option('--out <file>', 'what to write: master (.json), drawing (.dxf) or picture (.svg)')
    .option('--json', 'print what moved as JSON')
    .option('--replace', 'overwrite the output file when it exists')
    .action((file: string, options: RefitOptions) => {
      if (/\.(?:dxf|svg)$/i.test(file)) {
        const to =
          options.to.length > 0 ? options.to : options.thickness === undefined ? [] : [options.thickness];
        return exit(
          options.with === undefined
            ? refitDrawingFile(file, { ...options, to })
            : refitTwoFiles(file, options.with, { ...options, to }),
        );
      }
      if (options.with !== undefined)
        throw new UsageError('--with is for two drawings; a master says by its marks what follows');
      const thickness = options.thickness ?? (options.to.length === 1 ? options.to[0] : undefined);
      if (thickness === undefined)
        throw new UsageError('the new thickness is missing; give --thickness, such as --thickness 17.4mm');
      if (options.out === undefined)
        throw new UsageError('the output is missing; give --out with a name in .json, .dxf or .svg');
      exit(refitMasterFile(file, options, thickness, options.out));
    });

/** Refits a master and writes what was asked for. */
function refitMasterFile(file: string, options: RefitOptions, thickness: number, out: string): number {
  const result = refitFile({
    content: new TextDecoder().decode(readInput(file)),
    file,
    thickness,
    parts: options.part,
    clearance: options.clearance,
    out,
    ...(options.relief === undefined
      ? {}
      : { relief: { radius: options.relief / 2, surplus: 0.1, form: 'diagonal' as const } }),
  });
  say(result.diagnostics);
  if (!result.ok) {
    process.stderr.write('nothing was written\n');
    return exitCodeOf(result.diagnostics);
  }
  writeOutput(out, result.value.text, options.replace === true);
  print(file, out, result.value, options.json === true, result.diagnostics);
  return DONE;
}

function print(
  file: string,
  out: string,
  { moved, master }: RefitResult,
  json: boolean,
  diagnostics: readonly unknown[],
): void {
  if (json) {
    process.stdout.write(
      `${JSON.stringify({ format: 'haunch-refit', version: 1, file, out, parts: master.parts.map((p) => ({ id: p.id, thickness: p.thickness, moved: moved[p.id] })), diagnostics }, null, 1)}\n`,
    );
    return;
  }
  for (const p of master.parts)
    process.stdout.write(
      `  ${p.id.padEnd(8)} ${String(p.thickness).padStart(8)} mm  ${String(moved[p.id]).padStart(4)} points moved\n`,
    );
  process.stdout.write(`written: ${out}\n`);
}
