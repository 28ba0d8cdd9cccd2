import type { LayerRule } from '@haunch/drawing';
import { type DescribeOptions, type DrawingRefit, refitDrawing } from '@haunch/job';
import { DONE, exitCodeOf, say, UsageError } from './exit.js';
import { readInput, writeOutput } from './files.js';

/** Options of `haunch refit` that a drawing heeds. */
export interface DrawingRefitOptions {
  readonly from: readonly number[];
  readonly to: readonly number[];
  readonly features?: string;
  readonly exportFeatures?: string;
  readonly leastWeb?: number;
  readonly unit?: 'mm' | 'cm' | 'm' | 'inch';
  readonly layer?: Readonly<Record<string, LayerRule>>;
  readonly hidden?: boolean;
  readonly out?: string;
  readonly json?: boolean;
  readonly replace?: boolean;
}

/** How a drawing that is refitted is to be read. */
export const howRead = ({ unit, layer, hidden }: DrawingRefitOptions): DescribeOptions => ({
  ...(unit === undefined ? {} : { unit }),
  ...(layer === undefined ? {} : { layers: layer }),
  ...(hidden === undefined ? {} : { hiddenLayers: hidden }),
});

const text = (path: string): string => new TextDecoder().decode(readInput(path));

/** Refits a drawing by its features and writes what was asked for; the exit code. @throws UsageError */
export function refitDrawingFile(file: string, options: DrawingRefitOptions): number {
  const { from, to, out } = options;
  if (out !== undefined && to.length === 0)
    throw new UsageError('the new thickness is missing; give --to, such as --to 17.4mm');
  if (out === undefined && options.exportFeatures === undefined)
    throw new UsageError('nothing to write; give --out with a name in .dxf or .svg, or --export-features');
  if (from.length > 0 && to.length > 0 && from.length !== to.length)
    throw new UsageError(`${from.length} times --from and ${to.length} times --to; give them in pairs`);
  if (from.length === 0 && to.length > 1)
    throw new UsageError('several times --to; give --from as often, so that each has its own');
  const result = refitDrawing({
    content: readInput(file),
    file,
    from,
    to,
    ...(options.features === undefined
      ? {}
      : { table: { text: text(options.features), file: options.features } }),
    ...(options.leastWeb === undefined ? {} : { leastWeb: options.leastWeb }),
    read: howRead(options),
    ...(out === undefined ? {} : { out }),
  });
  say(result.diagnostics);
  if (!result.ok) {
    process.stderr.write('nothing was written\n');
    return exitCodeOf(result.diagnostics);
  }
  const { value } = result;
  if (options.exportFeatures !== undefined)
    writeOutput(options.exportFeatures, value.tableText, options.replace === true);
  if (out !== undefined && value.text !== null) writeOutput(out, value.text, options.replace === true);
  if (options.json)
    process.stdout.write(
      `${JSON.stringify({ format: 'haunch-refit-drawing', version: 1, file, out: out ?? null, thickness: value.finding, moved: value.moved, features: value.table.features, diagnostics: result.diagnostics }, null, 1)}\n`,
    );
  else print(value, [options.exportFeatures, out]);
  return DONE;
}

function print({ table, moved, parts }: DrawingRefit, written: readonly (string | undefined)[]): void {
  for (const p of parts) {
    const kinds = new Map<string, number>();
    for (const f of table.features)
      if (f.part === p.id && f.follows) kinds.set(f.kind, (kinds.get(f.kind) ?? 0) + 1);
    const what = [...kinds].map(([kind, n]) => `${n} × ${kind}`).join(', ');
    process.stdout.write(
      `  ${p.id.padEnd(8)} ${String(moved[p.id]).padStart(4)} points moved  ${what === '' ? 'nothing follows' : what}\n`,
    );
  }
  const left = table.features.filter((f) => !f.follows);
  if (left.length > 0)
    process.stdout.write(
      `${left.length} feature${left.length > 1 ? 's are' : ' is'} left as drawn, such as ${left[0]!.id}: ${left[0]!.reasons.join('; ')}\n`,
    );
  for (const name of written) if (name !== undefined) process.stdout.write(`written: ${name}\n`);
}
