import {
  type MatesFor,
  type ProveFacts,
  type ProvenText,
  type ProveResult,
  programFile,
  proveAgainstDrawing,
  proveAgainstJob,
  proveAgainstMaster,
  proveSeveralAgainstJob,
  replayHtml,
  replaySeveralHtml,
} from '@haunch/job';
import type { Outcome } from '@haunch/model';
import { Command, InvalidArgumentError, Option } from 'commander';
import { dialectOption } from './dialect-option.js';
import { BAD_INPUT, DONE, exitCodeOf, REFUSED, say } from './exit.js';
import { besideFile, readInput, writeOutput } from './files.js';
import { cutterOption, lengthOption, positiveLengthOption } from './length-option.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';

/** The thickness of the sheet, and of parts of other sheets by their ids. */
interface Thicknesses {
  readonly sheet?: number;
  readonly parts: Readonly<Record<string, number>>;
}

interface ProveOptions {
  readonly against: string;
  readonly cutter?: ReadonlyMap<number | 'any', number>;
  readonly thickness?: Thicknesses;
  readonly dialect?: string;
  readonly inHand?: readonly string[];
  readonly mates?: string;
  readonly fit?: 'drive' | 'snug' | 'slip';
  readonly clearance?: number;
  readonly relief?: NonNullable<ProveFacts['relief']>;
  readonly zZero?: 'top' | 'bed';
  readonly held?: 'tabs' | 'otherwise';
  readonly travelHeight?: number;
  readonly replay?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

/** Collects `--thickness 17.7mm` (the sheet) and `--thickness BR=17.3mm` (a part of another sheet). */
function thicknessOption(text: string, before: Thicknesses = { parts: {} }): Thicknesses {
  const at = text.lastIndexOf('=');
  if (at === 0) throw new InvalidArgumentError(`'${text}' names no part before the '='`);
  if (at < 0) return { ...before, sheet: positiveLengthOption(text) };
  return {
    ...before,
    parts: { ...before.parts, [text.slice(0, at)]: positiveLengthOption(text.slice(at + 1)) },
  };
}

function print(r: ProveResult): void {
  const line = (text = ''): void => void process.stdout.write(`${text}\n`);
  line(`${r.program} against ${r.against}, board ${r.board}: ${r.pass ? 'PROVED' : 'REFUSED'}`);
  for (const p of r.alignment?.parts ?? [])
    line(
      `  ${p.item.padEnd(13)} found at X ${p.x.toFixed(3)} Y ${p.y.toFixed(3)}, turned ${p.turnDegrees}°${p.mirrored ? ', CUT UNMIRRORED' : ''}${p.by === 'edges' ? ', by its edges' : ''}`,
    );
  for (const rule of r.rules) {
    line(
      `  ${rule.rule} ${rule.verdict.padEnd(10)} ${rule.title}${rule.margin === null ? '' : `  (margin ${rule.margin.toFixed(3)} ${rule.unit})`}`,
    );
    if (rule.verdict !== 'pass')
      for (const f of rule.findings.slice(0, 10)) {
        const place = [
          f.program && `program ${f.program}`,
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

/** What the options say that no drawing says. */
async function factsOf(options: ProveOptions, program: string): Promise<ProveFacts> {
  const { cutter, thickness, dialect, zZero, fit, clearance, relief, held, travelHeight } = options;
  return {
    cutters: cutter ?? new Map(),
    ...(thickness?.sheet === undefined ? {} : { thickness: thickness.sheet }),
    ...(thickness === undefined ? {} : { partThickness: thickness.parts }),
    ...(zZero === undefined ? {} : { zZero }),
    ...(dialect === undefined ? {} : { dialect: await dialectOption(dialect, program) }),
    ...(fit === undefined ? {} : { fit }),
    ...(clearance === undefined ? {} : { clearance }),
    ...(relief === undefined ? {} : { relief }),
    ...(held === undefined ? {} : { held }),
    ...(travelHeight === undefined ? {} : { travelHeight }),
  };
}

/** Whether a file's text is a master; a text that is no JSON is left to the job's reader, which says where. */
function isMaster(text: string): boolean {
  try {
    return (JSON.parse(text) as { format?: unknown } | null)?.format === 'haunch-master';
  } catch {
    return false;
  }
}

async function prove(file: string, options: ProveOptions): Promise<Outcome<ProvenText> | null> {
  const read = programFile(readInput(file), file);
  if (!read.ok) return read;
  const program = read.value;
  const progress = new Progress(options.json === true);
  const { against } = options;
  const content = readInput(against);
  const facts = await factsOf(options, file);
  if (/\.dxf$/i.test(against)) {
    const mates: MatesFor | undefined =
      options.mates === undefined || options.mates === 'found'
        ? options.mates
        : { content: readInput(options.mates), file: options.mates };
    return proveAgainstDrawing(program, { content, file: against }, facts, mates);
  }
  if (!/\.json$/i.test(against)) return null;
  const text = new TextDecoder().decode(content);
  if (isMaster(text)) return proveAgainstMaster(program, { content: text, file: against }, facts);
  return proveAgainstJob(program, {
    text,
    file: against,
    source: besideFile(against),
    posts: await postsFor(text, against),
    progress: (stage) => progress.enter(stage),
    ...(facts.dialect === undefined ? {} : { dialect: facts.dialect }),
  });
}

/** Several programs of one board, or one that names no cutter, against a job. @returns the exit code. */
async function proveSeveral(files: readonly string[], options: ProveOptions): Promise<number> {
  const { against, inHand } = options;
  const text = /\.json$/i.test(against) ? new TextDecoder().decode(readInput(against)) : '';
  if (text === '' || isMaster(text)) {
    process.stderr.write(
      `error: programs in sequence are proved against a job (.json), which ${against} is not\n`,
    );
    return BAD_INPUT;
  }
  if (new Set(files).size < files.length) {
    process.stderr.write('error: a program is named twice; each is run once\n');
    return BAD_INPUT;
  }
  const progress = new Progress(options.json === true);
  const { dialect } = await factsOf(options, files[0]!);
  const programs = [];
  for (const file of files) {
    const read = programFile(readInput(file), file);
    if (!read.ok) {
      say(read.diagnostics);
      return exitCodeOf(read.diagnostics);
    }
    programs.push(read.value);
  }
  const outcome = await proveSeveralAgainstJob(
    {
      programs,
      ...(inHand === undefined ? {} : { inHand }),
    },
    {
      text,
      file: against,
      source: besideFile(against),
      posts: await postsFor(text, against),
      progress: (stage) => progress.enter(stage),
      ...(dialect === undefined ? {} : { dialect }),
    },
  );
  say(outcome.diagnostics);
  if (options.json) {
    const refusal = { format: 'haunch-refusal', version: 1, diagnostics: outcome.diagnostics };
    process.stdout.write(`${JSON.stringify(outcome.ok ? outcome.value.result : refusal, null, 1)}\n`);
  } else if (outcome.ok) print(outcome.value.result);
  if (!outcome.ok) return exitCodeOf(outcome.diagnostics);
  if (options.replay !== undefined)
    writeOutput(
      options.replay,
      replaySeveralHtml({ title: `${files.join(', ')}, replayed from their texts`, ...outcome.value.scene }),
      options.replace === true,
    );
  return outcome.value.result.pass ? DONE : REFUSED;
}

/** `haunch prove <program> --against <job.json | master.json | layout.dxf>`. */
export const proveCommand = (exit: (code: number) => void): Command =>
  new Command('prove')
    .description('read a program back and judge what it would really cut, joint by joint')
    .argument(
      '<program...>',
      'program text, whoever wrote it; several are proved as they are run, one after the other on one board',
    )
    .requiredOption(
      '--against <file>',
      'job (.json), master (.json), or drawing of the parts or of their layout (.dxf)',
    )
    .option(
      '--cutter <diameter>',
      'measured cutter, for a master or drawing: 6mm for every tool, 2=5mm for tool 2; may be repeated',
      cutterOption,
    )
    .option(
      '--thickness <length>',
      'sheet thickness, for a master or drawing; BR=17.3mm for a part of another sheet; may be repeated',
      thicknessOption,
    )
    .option(
      '--dialect <name>',
      'what the program is written in: rs274ngc, iso6983, linear or a post-processor’s package, options after commas (iso6983,centres=absolute)',
    )
    .option(
      '--in-hand <cutter>',
      'the cutter in the machine while a program runs that names none, for each program in turn; for a job',
      (id: string, before: readonly string[] = []) => [...before, id],
    )
    .option('--mates <found | master.json>', 'which part enters which slot, for a drawing')
    .addOption(
      new Option('--fit <family>', 'how tight joints shall be, for a master (snug)').choices([
        'drive',
        'snug',
        'slip',
      ]),
    )
    .option('--clearance <length>', 'total clearance of plate in slot, for a master', lengthOption)
    .addOption(
      new Option('--relief <form>', 'how inside corners are relieved, for a master (diagonal)').choices([
        'diagonal',
        'along the wall',
        'least',
        'none',
      ]),
    )
    .addOption(
      new Option('--z-zero <place>', 'where Z zero is, for a master or drawing').choices(['top', 'bed']),
    )
    .option(
      '--travel-height <length>',
      'how high above the sheet travels are safe, for a master or drawing (10mm)',
      positiveLengthOption,
    )
    .addOption(
      new Option(
        '--held <how>',
        'what holds the parts to the end, for a master or drawing: tabs, or otherwise, as by vacuum (tabs)',
      ).choices(['tabs', 'otherwise']),
    )
    .option('--replay <file.html>', 'write a page that replays the cut, with a time slider')
    .option('--replace', 'overwrite the replay when it exists')
    .option('--json', 'print the proof as JSON')
    .action(async (files: readonly string[], options: ProveOptions) => {
      const [file = ''] = files;
      if (files.length > 1 || options.inHand !== undefined) return exit(await proveSeveral(files, options));
      const outcome = await prove(file, options);
      if (outcome === null) {
        process.stderr.write(
          `error: ${options.against} is neither a job or master (.json) nor a drawing (.dxf)\n`,
        );
        return exit(BAD_INPUT);
      }
      say(outcome.diagnostics);
      if (!outcome.ok) {
        if (options.json)
          process.stdout.write(
            `${JSON.stringify({ format: 'haunch-refusal', version: 1, diagnostics: outcome.diagnostics }, null, 1)}\n`,
          );
        return exit(exitCodeOf(outcome.diagnostics));
      }
      const { result, scene } = outcome.value;
      if (options.replay !== undefined)
        writeOutput(
          options.replay,
          replayHtml({ title: `${file}, replayed from its text`, ...scene }),
          options.replace === true,
        );
      if (options.json) process.stdout.write(`${JSON.stringify(result, null, 1)}\n`);
      else print(result);
      exit(result.pass ? DONE : REFUSED);
    });
