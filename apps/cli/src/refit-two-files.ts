import { refitByTwo } from '@haunch/job';
import { DONE, exitCodeOf, say, UsageError } from './exit.js';
import { readInput, writeOutput } from './files.js';
import { type DrawingRefitOptions, howRead } from './refit-drawing-file.js';

/** Refits a drawing by what it and a second one for another thickness teach; the exit code. @throws UsageError */
export function refitTwoFiles(file: string, second: string, options: DrawingRefitOptions): number {
  const { from, to, out } = options;
  if (options.features !== undefined || options.exportFeatures !== undefined)
    throw new UsageError('--with learns from two drawings and needs no table of features');
  if (to.length !== 1) throw new UsageError('--with makes one drawing; give --to once, such as --to 17.4mm');
  if (from.length === 1 || from.length > 2)
    throw new UsageError(
      '--with needs --from twice, first for the first drawing, or not at all where both state it',
    );
  if (out === undefined) throw new UsageError('nothing to write; give --out with a name in .dxf or .svg');
  const [a, b] = from;
  const result = refitByTwo({
    first: { content: readInput(file), file, ...(a === undefined ? {} : { thickness: a }) },
    second: { content: readInput(second), file: second, ...(b === undefined ? {} : { thickness: b }) },
    to: to[0]!,
    ...(options.leastWeb === undefined ? {} : { leastWeb: options.leastWeb }),
    read: howRead(options),
    out,
  });
  say(result.diagnostics);
  if (!result.ok) {
    process.stderr.write('nothing was written\n');
    return exitCodeOf(result.diagnostics);
  }
  const { parts, learnt, moved, text } = result.value;
  if (text !== null) writeOutput(out, text, options.replace === true);
  if (options.json) {
    process.stdout.write(
      `${JSON.stringify({ format: 'haunch-refit-two', version: 1, file, with: second, out, moved, learnt, diagnostics: result.diagnostics }, null, 1)}\n`,
    );
    return DONE;
  }
  for (const p of parts) {
    const own = learnt.parts.find((l) => l.part === p.id);
    const edges = own ? Object.keys(own.edges).length : 0;
    process.stdout.write(
      `  ${p.id.padEnd(8)} ${String(moved[p.id]).padStart(4)} points moved  ${own ? `${edges} edges follow` : 'nothing was learnt of it'}\n`,
    );
  }
  process.stdout.write(`written: ${out}\n`);
  return DONE;
}
