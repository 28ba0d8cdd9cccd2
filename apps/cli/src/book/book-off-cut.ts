import {
  boardsOfBook,
  checkOffCut,
  type DayBookEntry,
  fitThicknessMap,
  inheritMap,
  overlappingOffCuts,
} from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import { writtenForJob } from '@haunch/job';
import { thicknessAt } from '@haunch/model';
import { Command, InvalidArgumentError } from 'commander';
import { enterInDayBook, now, openKeptDayBook } from '../day-book-file.js';
import { DONE, exitCodeOf, say, UsageError } from '../exit.js';
import { placeOption, sizeOption } from '../reading-option.js';
import { line } from './book-line.js';
import { checkedName, knownBoard, sayNotWhole } from './known-board.js';

/** Degrees. @throws InvalidArgumentError */
function degreesOption(text: string): number {
  const n = Number(text);
  if (!Number.isFinite(n) || text.trim() === '' || Math.abs(n) > 360)
    throw new InvalidArgumentError(`'${text}' is no angle in degrees`);
  return n;
}

interface OffCutOptions {
  readonly book: string;
  readonly of: string;
  readonly size: readonly [number, number];
  readonly at: readonly [number, number];
  readonly turn: number;
  readonly over?: boolean;
  readonly anew?: boolean;
}

/** `haunch book off-cut rest-1 --of sheet-1 --size … --at …`: what is left of a sheet inherits its map. */
export const bookOffCutCommand = (exit: (code: number) => void): Command =>
  new Command('off-cut')
    .description('enter what is left of a board; it inherits the map of the sheet it comes from')
    .argument('<off-cut>', 'its name, as jobs will call it')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .requiredOption('--of <board>', 'the board or off-cut that it was cut from')
    .requiredOption('--size <width,height>', 'along its own X and Y, such as 800mm,300mm', sizeOption)
    .requiredOption(
      '--at <x,y>',
      'where its own lower left corner, as it will lie, was in that board, such as 1600mm,900mm',
      placeOption,
    )
    .option(
      '--turn <degrees>',
      'how its X axis was turned there about that corner, counter-clockwise',
      degreesOption,
      0,
    )
    .option('--anew', 'it is another off-cut under an old name')
    .option('--over', 'it lies with its other face up: its X axis ran to the left there, before any turn')
    .action((name: string, { book, of, size, at, turn, over = false, anew }: OffCutOptions) => {
      const board = checkedName(name);
      if (board === of)
        throw new UsageError(`'${board}' cannot come from itself; give the off-cut a name of its own`);
      const parent = knownBoard(book, of);
      const [width, height] = size;
      const motion = { turnedOver: over, turn: (turn * Math.PI) / 180, x: at[0], y: at[1] };
      const outside = checkOffCut(
        { width, height },
        motion,
        rectangleRing(0, 0, parent.width, parent.height),
        { file: book, board },
      );
      say(outside);
      if (outside.length > 0) return exit(exitCodeOf(outside));
      const entry: DayBookEntry = {
        v: 2,
        kind: 'off-cut',
        when: now(),
        board,
        parent: of,
        width,
        height,
        motion,
        ...(anew ? { anew } : {}),
      };
      enterInDayBook(book, [entry]);
      const { readings, offCut } = knownBoard(book, board);
      const sheet = rectangleRing(0, 0, offCut!.sheetWidth, offCut!.sheetHeight);
      const map = fitThicknessMap(readings, sheet);
      const own = map.ok && inheritMap(map.value, offCut!.motion);
      const there = own && thicknessAt(own, { x: width / 2, y: height / 2 });
      line(
        `${board}: ${width} × ${height} mm of ${offCut!.sheet}${there ? `, ${there.thickness.toFixed(2)} ± ${(2 * there.u).toFixed(2)} mm at its middle by the sheet's map` : ''}; entered`,
      );
      sayNotWhole(book, board);
      say(overlappingOffCuts(openKeptDayBook(book).entries, board, { file: book, board }));
      exit(DONE);
    });

/** `haunch book gone <board>`: it is used up. */
export const bookGoneCommand = (exit: (code: number) => void): Command =>
  new Command('gone')
    .description('enter that a board or off-cut is used up')
    .argument('<board>', 'its name')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .action((board: string, { book }: { readonly book: string }) => {
      const there = knownBoard(book, board);
      if (there.state === 'gone') line(`${board} was entered as gone already; nothing was added`);
      else {
        enterInDayBook(book, [{ v: 2, kind: 'gone', when: now(), board }]);
        line(`${board} is gone`);
      }
      exit(DONE);
    });

/** `haunch book for-job <board>…`: boards as a job file has them. */
export const bookForJobCommand = (exit: (code: number) => void): Command =>
  new Command('for-job')
    .description(
      'print boards and off-cuts as a job has them under "boards"; all that are whole when none is named',
    )
    .argument('[board...]', 'their names')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .action((wanted: readonly string[], { book }: { readonly book: string }) => {
      const boards =
        wanted.length > 0
          ? wanted.map((id) => knownBoard(book, id))
          : [...boardsOfBook(openKeptDayBook(book).entries).values()].filter((b) => b.state === 'whole');
      line(JSON.stringify(boards.map(writtenForJob), null, 1));
      for (const b of boards.filter((x) => x.state !== 'whole'))
        process.stderr.write(
          `note: ${b.id} ${b.state === 'gone' ? 'was entered as gone' : 'has been cut from; enter what is left as off-cuts'}\n`,
        );
      exit(DONE);
    });
