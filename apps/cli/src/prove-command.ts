import { type ProveResult, proveAgainstDrawing, proveAgainstJob } from '@haunch/job';
import { Command, Option } from 'commander';
import { BAD_INPUT, DONE, exitCodeOf, REFUSED, say } from './exit.js';
import { besideFile, readInput } from './files.js';
import { cutterOption, positiveLengthOption } from './length-option.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';

interface ProveOptions {
  readonly against: string;
  readonly cutter?: ReadonlyMap<number | 'any', number>;
  readonly thickness?: number;
  readonly zZero?: 'top' | 'bed';
  readonly json?: boolean;
}

function print(r: ProveResult): void {
  const line = (text = ''): void => void process.stdout.write(`${text}\n`);
  line(`${r.program} against ${r.against}, board ${r.board}: ${r.pass ? 'PROVED' : 'REFUSED'}`);
  for (const rule of r.rules) {
    line(
      `  ${rule.rule} ${rule.verdict.padEnd(10)} ${rule.title}${rule.margin === null ? '' : `  (margin ${rule.margin.toFixed(3)} ${rule.unit})`}`,
    );
    if (rule.verdict !== 'pass')
      for (const f of rule.findings.slice(0, 10)) {
        const place = [
          f.line !== undefined && `line ${f.line}`,
          f.part && `part ${f.part}`,
          f.feature && f.feature,
          f.joint && `joint ${f.joint}${f.jointDistance ? ` (${f.jointDistance.toFixed(1)} mm away)` : ''}`,
        ]
          .filter(Boolean)
          .join(', ');
        line(`       ${place ? `${place}: ` : ''}${f.message}`);
      }
    if (rule.findings.length > 10 && rule.verdict !== 'pass')
      line(`       … and ${rule.findings.length - 10} more`);
  }
  if (r.joints.length === 0)
    line('  joints: unknown (a drawing alone does not say which part enters which slot)');
  for (const j of r.joints)
    line(
      `  ${j.joint.padEnd(13)} ${`${j.enteringPart} in ${j.slotPart}`.padEnd(14)} wanted ${(j.wanted?.toFixed(3) ?? '-').padStart(7)}  as cut ${(j.clearance?.toFixed(3) ?? '-').padStart(7)}  ${j.verdict}`,
    );
}

/** `haunch prove <program> --against <job.json | layout.dxf>`. */
export const proveCommand = (exit: (code: number) => void): Command =>
  new Command('prove')
    .description('read a program back and judge what it would really cut, joint by joint')
    .argument('<program>', 'program text')
    .requiredOption('--against <file>', 'job (.json), or layout drawing in machine coordinates (.dxf)')
    .option(
      '--cutter <diameter>',
      'measured cutter for a drawing: 6mm for every tool, 2=5mm for tool 2; may be repeated',
      cutterOption,
    )
    .option('--thickness <length>', 'sheet thickness for a drawing that states none', positiveLengthOption)
    .addOption(new Option('--z-zero <place>', 'where Z zero is, for a drawing').choices(['top', 'bed']))
    .option('--json', 'print the proof as JSON')
    .action(async (file: string, options: ProveOptions) => {
      const program = { text: new TextDecoder().decode(readInput(file)), file };
      const progress = new Progress(options.json === true);
      const target = readInput(options.against);
      if (!/\.(json|dxf)$/i.test(options.against)) {
        process.stderr.write(
          `error: ${options.against} is neither a job (.json) nor a layout drawing (.dxf)\n`,
        );
        return exit(BAD_INPUT);
      }
      const outcome = /\.json$/i.test(options.against)
        ? await proveAgainstJob(program, {
            text: new TextDecoder().decode(target),
            file: options.against,
            source: besideFile(options.against),
            posts: await postsFor(new TextDecoder().decode(target), options.against),
            progress: (stage) => progress.enter(stage),
          })
        : await proveAgainstDrawing(
            program,
            { content: target, file: options.against },
            {
              cutters: options.cutter ?? new Map(),
              ...(options.thickness === undefined ? {} : { thickness: options.thickness }),
              ...(options.zZero === undefined ? {} : { zZero: options.zZero }),
            },
          );
      say(outcome.diagnostics);
      if (!outcome.ok) {
        if (options.json)
          process.stdout.write(
            `${JSON.stringify({ format: 'haunch-refusal', version: 1, diagnostics: outcome.diagnostics }, null, 1)}\n`,
          );
        return exit(exitCodeOf(outcome.diagnostics));
      }
      if (options.json) process.stdout.write(`${JSON.stringify(outcome.value, null, 1)}\n`);
      else print(outcome.value);
      exit(outcome.value.pass ? DONE : REFUSED);
    });
