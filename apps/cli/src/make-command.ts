import { cutterAsDeclared, diameterNow } from '@haunch/gauge';
import { loadClip } from '@haunch/geometry';
import {
  type Drawings,
  drawingsOf,
  jointNotWanted,
  makeJob,
  notProved,
  type Outputs,
  outputsOf,
  readJob,
} from '@haunch/job';
import { labelProblems, lettersWithoutType, paperFiles, paperOf } from '@haunch/job/paper';
import { routerPast } from '@haunch/job/shop-book';
import type { Diagnostic } from '@haunch/model';
import { Command } from 'commander';
import { openDayBook } from './day-book-file.js';
import { BAD_INPUT, DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { assertWritable, besideFile, readInput, writeFolder } from './files.js';
import { postsFor } from './load-post.js';
import { fontOf, type PaperChoices, withPaperOptions } from './paper-options.js';
import { Progress } from './progress.js';
import { type ProverPool, proverPool } from './provers/prover-pool.js';
import { threadsForProofs } from './provers/threads.js';

interface MakeOptions extends PaperChoices {
  /** False with `--no-paper`. */
  readonly paper: boolean;
  readonly out: string;
  readonly json?: boolean;
  readonly unproved?: boolean;
  readonly book?: string;
  readonly replace?: boolean;
}

const range = (least: number | null, most: number | null): string =>
  least === null || most === null ? 'not measured' : `${least.toFixed(3)} … ${most.toFixed(3)} mm`;

/** Why nothing was written: each board's broken rules with their findings, each joint that is not as wanted. */
function refusals({ report }: Outputs): Diagnostic[] {
  return [
    ...report.boards
      .filter((b) => !b.pass)
      .map((b) =>
        notProved(
          b.id,
          b.rules.filter((r) => r.verdict === 'fail').map((r) => `${r.rule} ${r.title}`),
        ),
      ),
    ...report.joints
      .filter((j) => j.verdict !== 'as wanted')
      .flatMap((j) =>
        j.fits
          .filter((f) => f.verdict !== 'as wanted')
          .map((f) =>
            jointNotWanted(
              j.joint,
              f.fit,
              f.verdict,
              f.standing > f.wanted ? `blocked by ${f.standing} mm left in a corner` : range(f.least, f.most),
              `${f.wanted} mm`,
            ),
          ),
      ),
  ];
}

function printFindings({ report }: Outputs): void {
  for (const b of report.boards)
    for (const r of b.rules.filter((x) => x.verdict === 'fail'))
      for (const f of r.findings.slice(0, 8))
        process.stderr.write(
          `${r.rule}: ${[`board ${b.id}`, f.program && `program ${f.program}`, f.line !== undefined && `line ${f.line}`, f.part && `part ${f.part}`, f.joint && `joint ${f.joint}`].filter(Boolean).join(', ')}: ${f.message}\n`,
        );
}

function printSummary(
  { report, files }: Pick<Outputs, 'report'> & { readonly files: ReadonlyMap<string, unknown> },
  out: string,
  { replaced, removed }: { readonly replaced: number; readonly removed: number },
  times: ReadonlyMap<string, number>,
): void {
  const line = (text = ''): void => void process.stdout.write(`${text}\n`);
  line(report.title);
  line(`${report.pass ? 'proved' : 'NOT PROVED'}: ${report.summary}`);
  line();
  for (const b of report.boards)
    line(
      `  ${b.id.padEnd(14)} ${String(b.thickness).padStart(6)} mm  ${(b.use * 100).toFixed(1).padStart(5)} % used  ${String(b.blocks).padStart(5)} blocks  ${(b.seconds / 60).toFixed(1).padStart(5)} min  ${b.programs.map((p) => p.file).join(', ')}`,
    );
  for (const b of report.boards.filter((x) => x.programs.length > 1)) {
    line();
    line(`  ${b.id} is cut by ${b.programs.length} programs, in this order:`);
    for (const p of b.programs) {
      line(`    ${p.file}`);
      for (const word of p.setup) line(`      ${word}`);
    }
  }
  line();
  line('  joint         plates          wanted   as cut   verdict');
  for (const j of report.joints)
    line(
      `  ${j.joint.padEnd(13)} ${`${j.enteringPart} in ${j.slotPart}`.padEnd(14)} ${(j.wanted?.toFixed(3) ?? '-').padStart(7)}  ${(j.clearance?.toFixed(3) ?? '-').padStart(7)}   ${j.verdict}`,
    );
  line();
  line(`stages: ${[...times].map(([stage, s]) => `${stage} ${s.toFixed(2)} s`).join(', ')}`);
  line(
    `${files.size} files written to ${out}${replaced > 0 ? ` (${replaced} of an earlier make replaced${removed > 0 ? `, ${removed} removed` : ''})` : ''}`,
  );
  line(`open ${out}/report.html first; read its cautions before you cut`);
  if (files.has('paper/setup.pdf'))
    line(`at the machine: ${out}/paper/setup.pdf; print paper at full size (100 %)`);
}

/** Whether the day book lets the job's router cut: known as it is, and its ladder not overdue. */
function cutterFit(text: string, file: string, book: string): boolean {
  const job = readJob(text, file);
  if (!job.ok) return true; // The chain itself says why.
  const known = diameterNow(routerPast(job.value, openDayBook(book).entries), {
    locus: { file: book },
    nominal: job.value.router.diameter,
  });
  say(known.diagnostics);
  if (!known.ok) return false;
  // By the label or as this job's own ladder shows it: the book may know it otherwise.
  say(cutterAsDeclared(job.value.router, known.value, 'book', { file: book }));
  const { diameter, u, metresLeft } = known.value;
  process.stderr.write(
    `note: by the day book ${job.value.router.id} measures ${diameter.toFixed(3)} ± ${(2 * u).toFixed(3)} mm; ${Math.floor(metresLeft)} m until its next ladder\n`,
  );
  return true;
}

/** The whole of `haunch make`, with a pool where proofs may be made beside it. */
async function make(
  file: string,
  options: MakeOptions,
  exit: (code: number) => void,
  pool: ProverPool | undefined,
): Promise<void> {
  const text = new TextDecoder().decode(readInput(file));
  assertWritable(options.out);
  const outline = fontOf(options);
  if (options.book !== undefined && !cutterFit(text, file, options.book)) {
    process.stderr.write('nothing was written\n');
    return exit(REFUSED);
  }
  const progress = new Progress(options.json === true);
  let drawn: Drawings | undefined;
  const made = await makeJob({
    text,
    file,
    source: besideFile(file),
    posts: await postsFor(text, file),
    progress: (stage, board) => progress.enter(stage, board),
    ...(pool === undefined ? {} : { prover: pool.prove }),
    drafted: async (draft) => {
      progress.enter('write');
      drawn = drawingsOf(draft, await loadClip());
    },
  });
  if (!made.ok) {
    say(made.diagnostics);
    if (options.json)
      process.stdout.write(
        `${JSON.stringify({ format: 'haunch-refusal', version: 1, diagnostics: made.diagnostics }, null, 1)}\n`,
      );
    process.stderr.write('nothing was written\n');
    return exit(exitCodeOf(made.diagnostics));
  }
  progress.enter('write');
  const clip = await loadClip();
  const outputs = outputsOf(made.value, clip, drawn);
  say(made.diagnostics);
  if (!made.value.pass) {
    printFindings(outputs);
    say(refusals(outputs));
    if (!options.unproved) {
      if (options.json) process.stdout.write(outputs.files.get('report.json')!);
      process.stderr.write('nothing was written\n');
      return exit(REFUSED);
    }
  }
  const files = new Map<string, string | Uint8Array>(outputs.files);
  if (options.paper) {
    progress.enter('paper');
    const data = paperOf(made.value, outputs.report);
    const { page = data.paper.page, only } = options;
    const problems = labelProblems({ page, labels: data.paper.labels });
    if (problems.length > 0) {
      say(problems);
      process.stderr.write('nothing was written\n');
      return exit(exitCodeOf(problems));
    }
    say(lettersWithoutType(data, outline));
    for (const [name, content] of await paperFiles({ ...data, paper: { ...data.paper, page } }, clip, {
      ...(only === undefined ? {} : { only }),
      ...(outline === undefined ? {} : { outline }),
    }))
      files.set(name, content);
  }
  try {
    const written = writeFolder(options.out, files, options.replace === true);
    if (options.json) process.stdout.write(outputs.files.get('report.json')!);
    else printSummary({ report: outputs.report, files }, options.out, written, progress.times());
    if (options.book !== undefined && made.value.pass)
      process.stderr.write(
        `note: nothing was entered in the day book, as nothing is cut yet; once it is: haunch book cut ${options.out} --book ${options.book}\n`,
      );
    exit(made.value.pass ? DONE : REFUSED);
  } catch (e) {
    if (!(e instanceof UsageError)) throw e;
    process.stderr.write(`error: ${e.message}\n`);
    exit(BAD_INPUT);
  }
}

/** `haunch make <job.json> --out <folder>`: the whole chain. */
export const makeCommand = (exit: (code: number) => void): Command =>
  withPaperOptions(
    new Command('make')
      .description(
        'refit, lay out, plan, write and prove a whole job; writes programs only when all of it is proved',
      )
      .argument('<job>', 'job file (.json)')
      .requiredOption('--out <folder>', 'folder for programs, layouts, parts and the report')
      .option('--json', 'print the report as JSON instead of a summary')
      .option('--unproved', 'write the programs even when they are not proved; their first line says so')
      .option(
        '--book <file>',
        "the shop's day book (.jsonl): the cutter's wear is read from it; nothing is entered before it is cut (haunch book cut)",
      )
      .option('--replace', 'overwrite files in the folder that haunch did not write')
      .option('--no-paper', 'write no setup sheets, tickets, assembly sheet and lists')
      .addHelpText(
        'after',
        '\nHAUNCH_THREADS in the environment: threads that share the work, 1 for one alone; without it one for each core, 4 at the most',
      ),
  ).action(async (file: string, options: MakeOptions) => {
    const pool = proverPool(
      threadsForProofs(process.env.HAUNCH_THREADS),
      new URL('./proof-worker.js', import.meta.url),
    );
    try {
      await make(file, options, exit, pool);
    } finally {
      pool?.close();
    }
  });
