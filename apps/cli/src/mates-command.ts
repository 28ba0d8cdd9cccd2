import type { LayerRule } from '@haunch/drawing';
import { loadClip } from '@haunch/geometry';
import {
  type DescribeOptions,
  type FoundMasterFile,
  findMasterFile,
  picturesOfFound,
  readAnswers,
  type SaidOfDrawing,
} from '@haunch/job';
import type { MasterQuestion } from '@haunch/joinery';
import { fail, type Master, type Outcome } from '@haunch/model';
import { Command } from 'commander';
import { answerOption, followOption, leanOption } from './answer-option.js';
import { DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { readInput, writeOutput } from './files.js';
import { layerOption } from './layer-option.js';
import { positiveLengthOption } from './length-option.js';
import { unitOption } from './unit-option.js';

interface MatesOptions {
  readonly out?: string;
  readonly answers?: string;
  readonly answer: Readonly<Record<string, number>>;
  readonly follow: SaidOfDrawing['follows'];
  readonly lean: Readonly<Record<string, number>>;
  readonly thickness?: number;
  readonly unit?: 'mm' | 'cm' | 'm' | 'inch';
  readonly layer?: Readonly<Record<string, LayerRule>>;
  readonly hidden?: boolean;
  readonly title?: string;
  readonly picture?: string;
  readonly reasons?: boolean;
  readonly json?: boolean;
  readonly replace?: boolean;
}

/** `haunch mates <drawing or master> [--answer question=number] [--out found.master.json]`. */
export const matesCommand = (exit: (code: number) => void): Command =>
  new Command('mates')
    .description(
      'find from flat parts what goes into what, where each part stands and which edges follow whose thickness',
    )
    .argument(
      '<file>',
      'drawing (.dxf, .svg) of flat parts, or a master (.json) to find again from its parts',
    )
    .option('--out <file.json>', 'write the master that was found')
    .option('--answers <file.json>', 'answers of an earlier run: the master it wrote, or {"piece-0": 1}')
    .option(
      '--answer <question=number>',
      'answer a question by the number of its choice; may be repeated',
      answerOption,
      {},
    )
    .option(
      '--follow <edge=part>',
      'what an edge follows, such as P1.c2/e0=P3, =P3:0.5,P4:-1 or =nothing; may be repeated',
      followOption,
      {},
    )
    .option(
      '--lean <part=degrees>',
      'the angle of a part to the plate that it leans through, such as P3=65, where clearance in the slot hides it; may be repeated',
      leanOption,
      {},
    )
    .option(
      '--thickness <length>',
      'thickness the drawing was made for, when it does not say',
      positiveLengthOption,
    )
    .addOption(unitOption())
    .option(
      '--layer <name=rule>',
      'what a layer holds: cut, pocket:8mm, hole:12mm, engrave, leave-out',
      layerOption,
    )
    .option('--hidden', 'read layers that are off or frozen as well')
    .option('--title <text>', "the master's title; the drawing's name if nothing is said")
    .option(
      '--picture <file.svg>',
      'write a picture of the piece, or of each choice while questions are open',
    )
    .option('--reasons', 'print why each edge follows what it follows')
    .option('--json', 'print what was found as JSON')
    .option('--replace', 'overwrite files that exist')
    .action(async (file: string, options: MatesOptions) => exit(await mates(file, options)));

async function mates(file: string, options: MatesOptions): Promise<number> {
  const { out, picture } = options;
  if (out !== undefined && !/\.json$/i.test(out))
    throw new UsageError(
      `a master is written, so that the name of the output ends in .json, not as '${out}'`,
    );
  if (picture !== undefined && !/\.svg$/i.test(picture))
    throw new UsageError(`pictures are written as .svg, so that '${picture}' cannot be`);
  const found = findIn(file, options);
  say(found.diagnostics);
  if (!found.ok) {
    if (options.json)
      printJson({ file, master: null, pass: false, questions: [], diagnostics: found.diagnostics });
    else process.stderr.write('nothing was written\n');
    return exitCodeOf(found.diagnostics);
  }
  const { master, text, questions, unanswered } = found.value;
  const written: string[] = [];
  const write = (path: string, content: string): void => {
    writeOutput(path, content, options.replace === true);
    written.push(path);
  };
  if (picture !== undefined)
    for (const [name, svg] of picturesOfFound(found.value, picture, await loadClip())) write(name, svg);
  if (out !== undefined && text !== null) write(out, text);
  if (options.json)
    printJson({
      file,
      master,
      pass: master !== null,
      questions: questions.map(({ standing: _, ...q }) => q),
      written,
      diagnostics: [...found.diagnostics, ...unanswered],
    });
  else {
    if (master) printMaster(master, options.reasons === true);
    printQuestions(questions);
    for (const name of written) process.stdout.write(`written: ${name}\n`);
  }
  if (master) return DONE;
  say(unanswered);
  process.stderr.write('no master was written\n');
  return REFUSED;
}

function findIn(file: string, options: MatesOptions): Outcome<FoundMasterFile> {
  const content = readInput(file);
  const before =
    options.answers === undefined
      ? null
      : readAnswers(new TextDecoder().decode(readInput(options.answers)), options.answers);
  if (before && !before.ok) return fail(...before.diagnostics);
  const read: DescribeOptions = {
    ...(options.thickness === undefined ? {} : { thickness: options.thickness }),
    ...(options.unit === undefined ? {} : { unit: options.unit }),
    ...(options.layer === undefined ? {} : { layers: options.layer }),
    ...(options.hidden === undefined ? {} : { hiddenLayers: options.hidden }),
  };
  return findMasterFile({
    content,
    file,
    ...(options.title === undefined ? {} : { title: options.title }),
    answers: { ...before?.value.answers, ...options.answer },
    follows: { ...before?.value.follows, ...options.follow },
    leans: { ...before?.value.leans, ...options.lean },
    read,
  });
}

const printJson = (value: object): void =>
  void process.stdout.write(`${JSON.stringify({ format: 'haunch-mates', version: 1, ...value }, null, 1)}\n`);

/** A direction as people read it. */
const wayWords = (way: Master['mates'][number]['enteringMoves']): string =>
  typeof way === 'string' ? way : `(${way.map((c) => +c.toFixed(4)).join(', ')})`;

function printMaster(master: Master, reasons: boolean): void {
  const line = (text: string): void => void process.stdout.write(`${text}\n`);
  const found = master.found!;
  const [x, y, z] = master.envelope!;
  line(
    `${master.title}: ${master.parts.length} parts, ${master.mates.length} mates, ${x} × ${y} × ${z} mm over all`,
  );
  for (const m of master.mates)
    line(
      `  ${m.id.padEnd(16)} ${m.enteringPart} moves ${wayWords(m.enteringMoves)} into ${m.slotPart} (${m.type}); certainty ${found.certainty[m.id]!.toFixed(2)}`,
    );
  const kinds = new Map<string, number>();
  for (const r of found.reasons) kinds.set(r.reason, (kinds.get(r.reason) ?? 0) + 1);
  line(
    `${master.marks.length} marks; edges, centres and frames on them by reason: ${[...kinds].map(([kind, n]) => `${n} × ${kind}`).join(', ')}`,
  );
  if (reasons)
    for (const r of found.reasons)
      line(`  ${r.edge.padEnd(20)} ${(r.mark ?? 'stays').padEnd(20)} ${r.reason}, with ${r.with}`);
  const free = new Map<string, string[]>();
  for (const f of found.free) {
    const follows = f.follows.length === 0 ? 'nothing' : f.follows.join(', ');
    free.set(follows, [...(free.get(follows) ?? []), f.feature]);
  }
  for (const [follows, features] of free)
    line(
      `  free, following ${follows}: ${features.slice(0, NAMED).join(', ')}${features.length > NAMED ? ` and ${features.length - NAMED} more` : ''}`,
    );
}

/** So many free features are named. */
const NAMED = 8;

function printQuestions(questions: readonly MasterQuestion[]): void {
  const line = (text: string): void => void process.stdout.write(`${text}\n`);
  for (const q of questions.filter((q) => q.taken === null)) {
    line(`question ${q.id}: ${q.text}`);
    q.choices.forEach((c, k) => {
      line(`  ${k + 1}. ${c}`);
    });
    line(`  answer with --answer ${q.id}=<number>`);
  }
  const usual = questions.filter((q) => q.taken !== null);
  if (usual.length === 0) return;
  line('taken for want of an answer; --answer <question>=<number> changes it:');
  for (const q of usual) {
    const others = q.choices.flatMap((c, k) => (k + 1 === q.taken ? [] : [`${k + 1}: ${c}`]));
    line(`  ${q.id}=${q.taken}: ${q.choices[q.taken! - 1]}  (${others.join('; ')})`);
  }
}
