import { CORNER_FELT, FELT } from '@haunch/gauge';
import { feelLadder, makeLadder, plugPlace } from '@haunch/job';
import { ladderEntries } from '@haunch/job/shop-book';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openDayBook } from './day-book-file.js';
import { DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { assertWritable, besideFile, readInput, writeFolder, writeOutput } from './files.js';
import { postsFor } from './load-post.js';
import { Progress } from './progress.js';

interface LadderOptions {
  readonly out: string;
  readonly board?: string;
  readonly felt: readonly { readonly rung: string; readonly felt: string }[];
  readonly slot: readonly { readonly cut: string; readonly measured: string }[];
  readonly peg: readonly { readonly cut: string; readonly measured: string }[];
  readonly book?: string;
  readonly metres?: number;
  readonly grinding?: number;
  readonly replace?: boolean;
}

/** `x4=hand`, one or several with commas between; `r1=bottoms` of the relieved rung, `h1=8.05` of the housing. */
function feltOption(value: string, before: LadderOptions['felt']): LadderOptions['felt'] {
  return [
    ...before,
    ...value.split(',').map((one) => {
      const [rung, felt] = one.split('=').map((s) => s.trim());
      if (rung === 'r1') {
        if (CORNER_FELT.some((f) => f === felt)) return { rung, felt: felt! };
        throw new InvalidArgumentError(
          `say whether the plug's corners reach the floor of r1: r1=${CORNER_FELT.join(' or r1=')}`,
        );
      }
      if (rung === 'h1') {
        if (/^\d+(?:\.\d+)? ?(?:[a-z"].*)?$/.test(felt ?? ''))
          return { rung, felt: /[a-z"]/.test(felt!) ? felt! : `${felt} mm` };
        throw new InvalidArgumentError('give the depth of h1 as measured, such as h1=8.05');
      }
      const known = FELT.find((f) => f === felt || f.replace(/[^a-z]/g, '') === felt?.replace(/[^a-z]/g, ''));
      if (!rung || !known)
        throw new InvalidArgumentError(
          `say a rung and how it felt, such as x4=hand; it is one of: ${FELT.join(', ')}`,
        );
      return { rung, felt: known };
    }),
  ];
}

/** `20=19.98`: as cut by the program, as measured. */
function measuredOption(value: string, before: LadderOptions['slot']): LadderOptions['slot'] {
  const [cut, measured] = value.split('=').map((s) => s.trim());
  if (!cut || !measured)
    throw new InvalidArgumentError('give the width in the program and as measured, such as 20=19.98');
  return [
    ...before,
    {
      cut: /[a-z"]/.test(cut) ? cut : `${cut} mm`,
      measured: /[a-z"]/.test(measured) ? measured : `${measured} mm`,
    },
  ];
}

const line = (text = ''): void => void process.stdout.write(`${text}\n`);

async function make(file: string, options: LadderOptions, exit: (code: number) => void): Promise<void> {
  const text = new TextDecoder().decode(readInput(file));
  assertWritable(options.out);
  const progress = new Progress(false);
  const made = await makeLadder(
    {
      text,
      file,
      source: besideFile(file),
      posts: await postsFor(text, file),
      progress: (stage, board) => progress.enter(stage, board),
    },
    options.board,
  );
  say(made.diagnostics);
  if (!made.ok || !made.value.pass) {
    process.stderr.write('nothing was written\n');
    return exit(made.ok ? REFUSED : exitCodeOf(made.diagnostics));
  }
  const { board, ladder, files, program } = made.value;
  writeFolder(options.out, files, options.replace === true);
  line(`ladder for board ${board.id}, laid in the waste of the job's layout`);
  line();
  line('  rung   across   width in the program   clearance');
  const thickness = ladder.parts[0]!.thickness!;
  for (const r of ladder.rungs)
    line(
      `  ${r.id.padEnd(6)} ${r.axis.toUpperCase()}        ${(thickness + r.clearance).toFixed(3).padStart(9)} mm         ${r.clearance.toFixed(3).padStart(7)} mm`,
    );
  if (ladder.relieved)
    line(
      `  ${ladder.relieved.id.padEnd(6)} relieved corners  ${(thickness + ladder.relieved.clearance).toFixed(3).padStart(9)} mm: the plug must bottom on its floor (r1=bottoms); gap or rocking says that the reliefs are too small (r1=stands)`,
    );
  if (ladder.housing)
    line(
      `  ${ladder.housing.id.padEnd(6)} housing           ${(thickness + ladder.housing.clearance).toFixed(3).padStart(9)} mm: measure its depth, ${ladder.housing.depth.toFixed(3)} mm in the program; the plug's end must reach its floor (h1=the depth)`,
    );
  line(`  notch and peg of ${ladder.gaugeWidth.toFixed(3)} mm on the edge opposite the rungs across X`);
  line();
  line(`program: ${options.out}/ladder/${board.id}-ladder.${program.extension}`);
  line(`which rung is which: ${options.out}/ladder/${board.id}-rungs.svg`);
  line(
    'Clamp the sheet as for the job, cut the ladder, leave the sheet where it is. Try the plug in each rung,',
  );
  line('counting from the cut-off corner, and type what was felt:');
  line(
    `  haunch ladder ${file} --board ${board.id} --felt x3=mallet,x4=hand,x7=rattles${ladder.relieved ? ',r1=bottoms' : ''}${ladder.housing ? `,h1=${ladder.housing.depth.toFixed(2)}` : ''} --out ${file.replace(/\.json$/, '')}-felt.json`,
  );
  exit(DONE);
}

/** What can be made out of a job's text before it is read in earnest; its faults are told then. */
function lenient(text: string): { boards?: { id: string }[]; cutters?: { id: string; kind?: string }[] } {
  try {
    return JSON.parse(text);
  } catch {
    return {};
  }
}

/** A count given on the command line. @throws InvalidArgumentError */
function countOption(text: string): number {
  const n = Number(text);
  if (!(n >= 0) || !Number.isFinite(n)) throw new InvalidArgumentError(`'${text}' is not a number from 0`);
  return n;
}

async function feel(file: string, options: LadderOptions, exit: (code: number) => void): Promise<void> {
  const text = new TextDecoder().decode(readInput(file));
  const job = lenient(text);
  const cutter = job.cutters?.find((c) => (c.kind ?? 'router') === 'router')?.id;
  const board = options.board ?? job.boards?.[0]?.id;
  const ofRungs = options.felt.filter((a) => a.rung !== 'r1' && a.rung !== 'h1');
  const saidOf = (rung: string): string | undefined =>
    [...options.felt].reverse().find((a) => a.rung === rung)?.felt;
  const [corner, housing] = [saidOf('r1'), saidOf('h1')];
  const source = besideFile(file);
  const typed = {
    board,
    cutter,
    answers: ofRungs,
    ...(corner === undefined ? {} : { corner }),
    ...(housing === undefined ? {} : { housing }),
    ...(options.slot.length > 0 ? { slots: options.slot } : {}),
    ...(options.peg.length > 0 ? { pegs: options.peg } : {}),
  };
  const first = feelLadder(text, file, typed, source);
  // A job whose layout fails is told so by make; its ladder then goes by the board's mean.
  const plug = first.ok ? await plugPlace({ text, file, source }, board) : null;
  const felt = plug?.ok ? feelLadder(text, file, typed, source, plug.value) : first;
  say(felt.diagnostics);
  if (!felt.ok) {
    process.stderr.write('nothing was written\n');
    exit(exitCodeOf(felt.diagnostics));
    return;
  }
  writeOutput(options.out, felt.value.text, options.replace === true);
  const { ladders, router, settings } = felt.value.job;
  const ladder = ladders.find((l) => l.kind === 'felt' && l.board === board);
  if (ladder?.kind === 'felt') {
    const { drive, snug, slip, u, driveU, slipU, thresholds } = ladder.reading;
    const give = (value: number, of: number): string => `${value.toFixed(3)} ± ${(2 * of).toFixed(3)} mm`;
    const between = ({ from, to }: { from: number | null; to: number | null }): string =>
      from === null && to === null
        ? 'somewhere (no rung says)'
        : from === null
          ? `at ${to!.toFixed(3)} mm or tighter`
          : to === null
            ? `above ${from.toFixed(3)} mm`
            : `between ${from.toFixed(3)} and ${to.toFixed(3)} mm`;
    line(`  by hand begins ${between(thresholds.hand)}`);
    line(`  rattling begins ${between(thresholds.rattle)}`);
    line(
      `  drive ${give(drive, driveU)}, snug ${give(snug, u)}, slip ${give(slip, slipU)}; this job is cut ${settings.fit.family}`,
    );
    if (ladder.corner)
      line(
        `  corners ${ladder.corner.felt === 'bottoms' ? 'reach the floor of r1' : 'stand off the floor of r1: give more relief and cut a new ladder'}`,
      );
    if (ladder.deeper !== 0)
      line(
        `  housings come out ${Math.abs(ladder.deeper).toFixed(3)} mm too ${ladder.deeper > 0 ? 'deep' : 'shallow'}; this job cuts them so much ${ladder.deeper > 0 ? 'shallower' : 'deeper'}`,
      );
    if (ladder.measured)
      line(
        `  cutter ${router.id}: ${ladder.measured.diameter.toFixed(3)} ± ${(2 * ladder.measured.u).toFixed(3)} mm; common to slot and peg ${ladder.measured.bias.toFixed(3)} mm`,
      );
  }
  line(`written: ${options.out}`);
  if (options.book !== undefined) {
    const { metres, grinding, book } = options;
    const entries = ladderEntries(felt.value.job, board, openDayBook(book).entries, {
      when: now(),
      metres,
      grinding,
    });
    enterInDayBook(book, entries);
    line(`entered in ${book}`);
  }
  exit(DONE);
}

/** `haunch ladder <job.json> --out <folder>` makes the test coupon; with `--felt` it reads it back. */
export const ladderCommand = (exit: (code: number) => void): Command =>
  new Command('ladder')
    .description('make the fit ladder of a job in the waste of its layout, or type what was felt in it')
    .argument('<job>', 'job file (.json)')
    .option('--board <id>', 'the board to cut it from; that with the most parts when left out')
    .option(
      '--felt <rung=felt>',
      `how the plug went in: ${FELT.join(', ')}; r1=${CORNER_FELT.join(' or ')} for the relieved corner, h1=8.05 for the depth of the housing; may be repeated`,
      feltOption,
      [],
    )
    .option(
      '--slot <cut=measured>',
      'width of the gauge notch in the program and as measured',
      measuredOption,
      [],
    )
    .option(
      '--peg <cut=measured>',
      'width of the gauge peg in the program and as measured',
      measuredOption,
      [],
    )
    .requiredOption('--out <path>', 'folder for the ladder; with --felt, the job file to write')
    .option('--book <file>', "the shop's day book (.jsonl): ladder and cutter are entered in it")
    .option(
      '--metres <metres>',
      'how far the cutter has run since it was ground; what the day book says when left out',
      countOption,
    )
    .option(
      '--grinding <times>',
      'how often the cutter has been ground; as the day book has it when left out',
      countOption,
    )
    .option('--replace', 'overwrite what is there')
    .action(async (file: string, options: LadderOptions) => {
      if (options.felt.length > 0) return feel(file, options, exit);
      if (options.slot.length + options.peg.length > 0)
        throw new UsageError('slot and peg belong with --felt: say how the plug went in as well');
      return make(file, options, exit);
    });
