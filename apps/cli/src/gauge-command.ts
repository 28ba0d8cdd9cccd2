import { checkLoad, proposeDefaults, thicknessInterval } from '@haunch/gauge';
import { ringBounds } from '@haunch/geometry';
import { checkedAt, type JobBoard, mapPicture, readingsToTake, readJob } from '@haunch/job';
import { boardNews, swappedWithBook } from '@haunch/job/shop-book';
import { type Board, thicknessAt } from '@haunch/model';
import { Command } from 'commander';
import { printProposals } from './book/book-propose.js';
import { enterInDayBook, now, openDayBook } from './day-book-file.js';
import { evidenceWords } from './evidence-words.js';
import { DONE, exitCodeOf, REFUSED, say, UsageError } from './exit.js';
import { readInput, writeFolder } from './files.js';
import { type PlacedReading, readingOption } from './reading-option.js';

interface GaugeOptions {
  readonly board?: string;
  readonly load?: PlacedReading;
  readonly book?: string;
  readonly propose?: boolean;
  readonly out?: string;
  readonly json?: boolean;
  readonly replace?: boolean;
}

const line = (text = ''): void => void process.stdout.write(`${text}\n`);
const two = (v: number): string => v.toFixed(2);

function describe(board: Board): void {
  const { map } = board;
  const box = ringBounds(board.outline);
  const middle = checkedAt(board);
  line(
    `${board.id}: ${box.maxX} × ${box.maxY} mm, ${+board.thickness.toFixed(2)} mm on the whole, from ${board.readings.length} reading${board.readings.length === 1 ? '' : 's'}`,
  );
  if (!map) return;
  line(`  ${evidenceWords(map, board.readings)}`);
  const [low, high] = thicknessInterval(map, middle);
  line(
    `  at the middle ${two(thicknessAt(map, middle).thickness)} mm; nineteen times in twenty between ${two(low)} and ${two(high)} mm`,
  );
  line('  three further readings that would help most:');
  for (const { at, before, after } of readingsToTake(board))
    line(
      `    at (${at.x}, ${at.y}): doubt of the surface ${(2 * before).toFixed(3)} mm, then ${(2 * after).toFixed(3)} mm`,
    );
}

/** Enters the boards of a job and says what was added. */
function enter(book: string, boards: readonly JobBoard[], wanted: ReadonlySet<string>): string[] {
  const { entries, notWhole, noRectangles } = boardNews(openDayBook(book).entries, boards, wanted, now());
  if (entries.length > 0) enterInDayBook(book, entries);
  return [
    entries.length > 0
      ? `entered in ${book}: ${entries.map((e) => e.board).join(', ')}`
      : noRectangles.length > 0
        ? 'nothing was added'
        : `${book} has all this already; nothing was added`,
    ...noRectangles.map(
      (id) => `${id} is no rectangle and is not entered: the day book has two lengths of a board alone`,
    ),
    ...notWhole.map(
      ({ id, state }) =>
        `${id} stays ${state === 'gone' ? 'gone' : 'cut from'} in the day book; another sheet needs another name, or: haunch book board ${id} --anew`,
    ),
  ];
}

/** What the day book proposes for the shop's own table; never applied by itself. */
function propose(book: string | undefined, exit: (code: number) => void): void {
  if (book === undefined) throw new UsageError('say with --book which day book shall propose');
  const proposals = proposeDefaults(openDayBook(book).entries);
  printProposals(proposals);
  exit(DONE);
}

/** `haunch gauge <job.json>`: a sheet's readings as a map, what to measure next, and the check at loading. */
export const gaugeCommand = (exit: (code: number) => void): Command =>
  new Command('gauge')
    .description(
      "turn a job's thickness readings into maps, say where to measure next, and check a sheet at loading",
    )
    .argument('<job>', 'job file (.json)')
    .option('--board <id>', 'one board alone')
    .option(
      '--load <reading>',
      'a reading of the sheet on the machine, such as 17.72mm or 17.72mm@1220,610: go or stop',
      readingOption,
    )
    .option('--book <file>', "the shop's day book (.jsonl): the boards are entered in it")
    .option('--propose', 'say which clearances the day book would propose; nothing is changed')
    .option('--out <folder>', 'folder for the pictures of the maps (SVG)')
    .option('--json', 'print the maps as JSON')
    .option('--replace', 'overwrite what is there')
    .action((file: string, options: GaugeOptions) => {
      if (options.propose) return propose(options.book, exit);
      const job = readJob(new TextDecoder().decode(readInput(file)), file, { ladder: 'not yet' });
      say(job.diagnostics);
      if (!job.ok) return exit(exitCodeOf(job.diagnostics));
      const boards = job.value.boards.filter((b) => options.board === undefined || b.id === options.board);
      if (boards.length === 0)
        throw new UsageError(
          `the job has no board '${options.board}'; it has ${job.value.boards.map((b) => b.id).join(', ')}`,
        );
      if (options.load) {
        const [board] = boards;
        if (boards.length > 1) throw new UsageError('say with --board which board lies on the machine');
        const box = ringBounds(board!.outline);
        const { at } = options.load;
        if (at && (at.x < box.minX || at.x > box.maxX || at.y < box.minY || at.y > box.maxY))
          throw new UsageError(
            `(${at.x}, ${at.y}) is not on board ${board!.id}, which is ${box.maxX} × ${box.maxY} mm`,
          );
        const checked = checkLoad(board!.map!, options.load, {
          outline: board!.outline,
          locus: { file, board: board!.id },
        });
        say(checked.diagnostics);
        if (checked.ok)
          line(
            `go: ${board!.id} measures ${two(options.load.thickness)} mm where ${two(checked.value.expected)} mm was expected${at ? '' : ' at its middle'}`,
          );
        return exit(checked.ok ? DONE : REFUSED);
      }
      const wrong =
        options.book === undefined ? [] : swappedWithBook(openDayBook(options.book).entries, boards, file);
      say(wrong);
      if (wrong.length > 0) return exit(exitCodeOf(wrong));
      if (options.out !== undefined)
        writeFolder(
          options.out,
          new Map(boards.map((b) => [`${b.id}-thickness.svg`, mapPicture(b)])),
          options.replace === true,
        );
      if (options.json)
        line(
          JSON.stringify(
            {
              format: 'haunch-gauge',
              version: 1,
              file,
              boards: boards.map((b) => ({
                id: b.id,
                thickness: b.thickness,
                map: b.map ?? null,
                next: readingsToTake(b),
              })),
            },
            null,
            1,
          ),
        );
      else boards.forEach(describe);
      if (options.out !== undefined && !options.json) line(`pictures written to ${options.out}`);
      if (options.book !== undefined) {
        const words = enter(options.book, job.value.settings.boards, new Set(boards.map((b) => b.id)));
        if (!options.json) words.forEach(line);
      }
      exit(DONE);
    });
