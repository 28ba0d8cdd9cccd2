import { type DayBookEntry, fitThicknessMap } from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import { thicknessAt } from '@haunch/model';
import { Command, InvalidArgumentError, Option } from 'commander';
import { enterInDayBook, now } from '../day-book-file.js';
import { DONE, exitCodeOf, say, UsageError } from '../exit.js';
import { positiveLengthOption } from '../length-option.js';
import { type PlacedReading, readingsOption, sizeOption } from '../reading-option.js';
import { counted, line } from './book-line.js';
import { checkedName, sayNotWhole } from './known-board.js';

interface BoardOptions {
  readonly book: string;
  readonly size: readonly [number, number];
  readonly stock?: string;
  readonly reading: readonly PlacedReading[];
  readonly nominal?: number;
  readonly instrument?: string;
  readonly temperature?: number;
  readonly humidity?: number;
  readonly grain?: 'x' | 'y' | 'none';
  readonly anew?: boolean;
}

const numberOption = (text: string): number => {
  const n = Number(text);
  if (!Number.isFinite(n) || text.trim() === '') throw new InvalidArgumentError(`'${text}' is no number`);
  return n;
};

/** `haunch book board <id> --size … --reading …`: a sheet as it was measured. */
export const bookBoardCommand = (exit: (code: number) => void): Command =>
  new Command('board')
    .description('enter a sheet with its readings; they are checked before')
    .argument('<board>', 'its name, as jobs will call it')
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .requiredOption('--size <width,height>', 'along X and Y, such as 2440mm,1220mm', sizeOption)
    .requiredOption(
      '--reading <thickness@x,y>',
      'such as 17.72mm@50,1170, or 17.72mm alone; may be repeated',
      readingsOption,
    )
    .option('--stock <name>', 'what it is; its name when left out')
    .option('--nominal <thickness>', 'the thickness on its label', positiveLengthOption)
    .option('--instrument <name>', 'with what it was measured')
    .option('--temperature <°C>', 'while measuring', numberOption)
    .option('--humidity <per cent>', 'while measuring', numberOption)
    .option('--anew', 'it is another sheet under an old name: what was cut from that one is not missing here')
    .addOption(new Option('--grain <axis>', 'along which edge the grain runs').choices(['x', 'y', 'none']))
    .action((name: string, options: BoardOptions) => {
      const board = checkedName(name);
      const { book, size, reading, nominal, instrument, temperature, humidity, grain } = options;
      const [width, height] = size;
      if (humidity !== undefined && (humidity < 0 || humidity > 100))
        throw new UsageError(`a humidity of ${humidity} per cent cannot be`);
      const locus = { board };
      const map = fitThicknessMap(reading, rectangleRing(0, 0, width, height), {
        locus,
        ...(nominal === undefined ? {} : { nominal }),
      });
      say(map.diagnostics);
      if (!map.ok) return exit(exitCodeOf(map.diagnostics));
      const entry: DayBookEntry = {
        v: 2,
        kind: 'board',
        when: now(),
        board,
        stock: options.stock ?? board,
        width,
        height,
        readings: [...reading],
        ...(instrument === undefined ? {} : { instrument }),
        ...(temperature === undefined ? {} : { temperature }),
        ...(humidity === undefined ? {} : { humidity }),
        ...(grain === undefined ? {} : { grain }),
        ...(options.anew ? { anew: true } : {}),
      };
      enterInDayBook(book, [entry]);
      const there = thicknessAt(map.value, { x: width / 2, y: height / 2 });
      line(
        `${board}: ${there.thickness.toFixed(2)} ± ${(2 * there.u).toFixed(2)} mm at the middle, by ${counted(reading.length, 'reading')}; entered`,
      );
      sayNotWhole(book, board);
      exit(DONE);
    });
