import {
  type DryAssembly,
  defaultAllowances,
  dryAssemble,
  dryPieceOf,
  findJoints,
  fitParts,
  readMaster,
  refitMaster,
} from '@haunch/joinery';
import { type Diagnostic, type Master, type Outcome, ok } from '@haunch/model';
import { Command } from 'commander';
import { BAD_INPUT, DONE, exitCodeOf, say } from './exit.js';
import { readInput } from './files.js';
import { lengthOption, namedLengthOption, positiveLengthOption } from './length-option.js';

interface DryfitOptions {
  readonly at?: number;
  readonly part: Readonly<Record<string, number>>;
  readonly clearance?: number;
  readonly json?: boolean;
}

const mm = (clearance: number | null): string => (clearance === null ? 'free' : `${clearance.toFixed(4)}`);

function print({ interference, joints, steps, plan }: DryAssembly): void {
  const line = (text: string): void => {
    process.stdout.write(`${text}\n`);
  };
  line('clearance of each joint, mm, by direction (* the joint holds there):');
  for (const j of joints) {
    line(`  ${j.joint}: ${j.enteringPart} in ${j.slotPart}`);
    for (const p of j.places)
      line(
        `    ${p.feature.padEnd(24)} ${p.directions.map((d) => `${d.direction}${d.located ? '*' : ''} ${mm(d.clearance)}`).join('  ')}`,
      );
  }
  line(`interference: ${interference.total.toFixed(4)} mm³`);
  if (steps.length > 0) line(`the ${steps.length} steps that the master lists can be done`);
  if (!plan) return;
  line('an order that works:');
  for (const s of plan.steps) line(`  ${s.step}. ${s.text}`);
  line(`hands: at most ${plan.hands} separate things at once`);
  for (const c of plan.captive)
    line(
      `  ${c.part} cannot come out before ${c.keptBy.join(', ')} ${c.keptBy.length > 1 ? 'are' : 'is'} gone`,
    );
}

function dryfit(master: Master, { at, part, clearance }: DryfitOptions): Outcome<DryAssembly> {
  const said: Diagnostic[] = [];
  let piece = master;
  if (at !== undefined || Object.keys(part).length > 0) {
    const own = Object.fromEntries(master.parts.map((p) => [p.id, at ?? p.thickness]));
    const refitted = refitMaster(master, { thicknesses: { ...own, ...part } });
    if (!refitted.ok) return refitted;
    said.push(...refitted.diagnostics);
    piece = refitted.value;
  }
  if (clearance === undefined) return dryAssemble(piece);
  const joinery = findJoints(piece, defaultAllowances('snug', clearance));
  if (!joinery.ok) return joinery;
  const cut = fitParts(piece, joinery.value, { relief: null });
  if (!cut.ok) return cut;
  const play = Math.max(0, ...joinery.value.joints.flatMap((j) => j.fits.map((f) => f.wanted)));
  const done = dryAssemble(dryPieceOf(piece, cut.value), { play });
  return done.ok
    ? ok(done.value, [...said, ...joinery.diagnostics, ...cut.diagnostics, ...done.diagnostics])
    : done;
}

/** `haunch dryfit <master> [--at 17.4mm] [--clearance 0.1mm] [--json]`. */
export const dryfitCommand = (exit: (code: number) => void): Command =>
  new Command('dryfit')
    .description(
      'put a piece together in numbers: what collides, what holds, and in what order it goes together',
    )
    .argument('<master>', 'master (.json)')
    .option('--at <length>', 'refit all parts to this thickness first, such as 17.4mm', positiveLengthOption)
    .option(
      '--part <id=length>',
      'thickness of one part, such as BR=17.3mm; may be repeated',
      namedLengthOption,
      {},
    )
    .option('--clearance <length>', 'put together as cut, with this clearance of plate in slot', lengthOption)
    .option('--json', 'print the result as JSON')
    .action((file: string, options: DryfitOptions) => {
      const master = readMaster(new TextDecoder().decode(readInput(file)), file);
      const result: Outcome<DryAssembly> = master.ok ? dryfit(master.value, options) : master;
      say(result.diagnostics);
      if (!result.ok) {
        if (options.json)
          process.stdout.write(
            `${JSON.stringify({ format: 'haunch-dryfit', version: 1, file, pass: false, diagnostics: result.diagnostics }, null, 1)}\n`,
          );
        else
          process.stderr.write(
            exitCodeOf(result.diagnostics) === BAD_INPUT
              ? 'nothing was put together\n'
              : 'it does not go together\n',
          );
        return exit(exitCodeOf(result.diagnostics));
      }
      if (options.json)
        process.stdout.write(
          `${JSON.stringify({ format: 'haunch-dryfit', version: 1, file, pass: true, ...result.value, diagnostics: result.diagnostics }, null, 1)}\n`,
        );
      else print(result.value);
      exit(DONE);
    });
