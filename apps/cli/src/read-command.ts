import type { LayerRule } from '@haunch/drawing';
import {
  type DescribeOptions,
  describeFile,
  describeImport,
  describePartly,
  importFile,
  type ReadResult,
} from '@haunch/job';
import type { Diagnostic, Outcome } from '@haunch/model';
import { Command } from 'commander';
import { DONE, exitCodeOf, say } from './exit.js';
import { readInput, writeOutput } from './files.js';
import { importOutputs } from './import-outputs.js';
import { layerOption, severalOption } from './layer-option.js';
import { positiveLengthOption } from './length-option.js';
import { unitOption } from './unit-option.js';

interface ReadOptions {
  readonly json?: boolean;
  readonly unit?: 'mm' | 'cm' | 'm' | 'inch';
  readonly thickness?: number;
  readonly join?: number;
  readonly layer?: Readonly<Record<string, LayerRule>>;
  readonly keep?: readonly string[];
  readonly hidden?: boolean;
  readonly picture?: string;
  readonly report?: string;
  readonly replace?: boolean;
}

/** `haunch read <file>`: what is in a master or a drawing, and what was repaired in it. */
export const readCommand = (exit: (code: number) => void): Command =>
  new Command('read')
    .description(
      'say what is in a drawing (.dxf, .svg) or a master (.json): parts, features, units, thickness, repairs',
    )
    .argument('<file>', 'drawing or master')
    .option('--json', 'print everything as JSON')
    .addOption(unitOption())
    .option(
      '--thickness <length>',
      'thickness the drawing was made for, when it does not say',
      positiveLengthOption,
    )
    .option('--join <length>', 'join line ends that are still open up to this gap', positiveLengthOption)
    .option(
      '--layer <name=rule>',
      'what a layer holds: cut, pocket:8mm, hole:12mm, engrave, leave-out',
      layerOption,
    )
    .option('--keep <repair>', 'do not make this repair, or this kind of repair', severalOption)
    .option('--hidden', 'read layers that are off or frozen as well')
    .option('--picture <file.svg>', 'write a picture of what was read, and one of what was drawn beside it')
    .option('--report <file>', 'write the import report: .html with pictures, .txt or .json')
    .option('--replace', 'replace files that exist')
    .action((file: string, options: ReadOptions) => {
      const how: DescribeOptions = {
        ...(options.unit === undefined ? {} : { unit: options.unit }),
        ...(options.thickness === undefined ? {} : { thickness: options.thickness }),
        ...(options.join === undefined ? {} : { joinWithin: options.join }),
        ...(options.layer === undefined ? {} : { layers: options.layer }),
        ...(options.keep === undefined ? {} : { keep: options.keep }),
        ...(options.hidden === undefined ? {} : { hiddenLayers: options.hidden }),
      };
      const { read, partly } = describe(file, how, options);
      say(read.diagnostics);
      if (!read.ok) {
        if (options.json) {
          const refusal = { format: 'haunch-refusal', version: 1, diagnostics: read.diagnostics };
          const understood = partly === null ? {} : { understood: partly };
          process.stdout.write(`${JSON.stringify({ ...refusal, ...understood }, null, 1)}\n`);
        } else if (partly !== null) {
          process.stdout.write('Not all of it was understood. What was:\n');
          printResult(partly);
        }
        return exit(exitCodeOf(read.diagnostics));
      }
      if (options.json) process.stdout.write(`${JSON.stringify(read.value, null, 1)}\n`);
      else printResult(read.value);
      exit(DONE);
    });

interface Described {
  readonly read: Outcome<ReadResult>;
  /** What was understood of a drawing that is refused, where that is anything. */
  readonly partly: ReadResult | null;
}

/** Describes a file; of a drawing, writes the pictures and the report first, which a refusal needs most. */
function describe(file: string, how: DescribeOptions, options: ReadOptions): Described {
  const content = readInput(file);
  const outputs = options.picture !== undefined || options.report !== undefined;
  if (!outputs && /\.json$/i.test(file)) return { read: describeFile(content, file, how), partly: null };
  const imported = importFile(content, file, how);
  if (!imported.ok) return { read: imported, partly: null };
  const said: readonly Diagnostic[] = imported.diagnostics;
  const { drawing, read } = imported.value;
  // The report holds what was said of the file as well.
  const whole = { drawing, read: { ...read, diagnostics: [...said, ...read.diagnostics] } };
  if (outputs)
    for (const [path, text] of importOutputs(whole, options))
      writeOutput(path, text, options.replace === true);
  const described = describeImport(imported.value, said);
  return {
    read: described,
    partly: described.ok || read.parts.length === 0 ? null : describePartly(imported.value, said),
  };
}

function printResult(r: ReadResult): void {
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
  for (const f of r.families) {
    const [first, ...others] = [...f.parts, ...f.mirrored.map((id) => `${id} (turned over)`)];
    if (others.length > 0) line(`${others.length + 1} alike: ${[first, ...others].join(', ')}`);
  }
  const kinds = new Map<string, number>();
  for (const { kind } of r.repairs) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  if (kinds.size > 0)
    line(
      `repaired: ${[...kinds].map(([kind, n]) => `${n} × ${kind}`).join(', ')}; --report lists each with its place, --keep undoes it`,
    );
  if (r.mates.length > 0) line(`${r.mates.length} mates: ${r.mates.map((m) => m.id).join(', ')}`);
}
