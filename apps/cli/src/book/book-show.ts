import {
  type BookBoard,
  boardsOfBook,
  cutterHistoryOf,
  type DayBookEntry,
  diameterNow,
  fitThicknessMap,
} from '@haunch/gauge';
import { rectangleRing } from '@haunch/geometry';
import { cutterInWords } from '@haunch/job/shop-book';
import { Command } from 'commander';
import { openKeptDayBook } from '../day-book-file.js';
import { DONE } from '../exit.js';
import { counted, line } from './book-line.js';

const cuttersOf = (entries: readonly DayBookEntry[]): string[] =>
  [
    ...new Set(
      entries.flatMap((e) =>
        e.kind === 'cut' ? e.runs.map((r) => r.cutter) : 'cutter' in e ? [e.cutter] : [],
      ),
    ),
  ].sort();

function boardWords({ id, stock, width, height, state, offCut, readings }: BookBoard): string {
  const sheet = offCut ?? { sheetWidth: width, sheetHeight: height };
  const map = fitThicknessMap(readings, rectangleRing(0, 0, sheet.sheetWidth, sheet.sheetHeight));
  const own = !map.ok
    ? 'its readings make no map'
    : `${counted(readings.length, 'reading')}, ${map.value.surface === 'level' ? 'one thickness' : map.value.surface === 'plane' ? 'a slope' : 'a curved surface'}`;
  const from = offCut
    ? `, of ${offCut.sheet} at (${+offCut.motion.x.toFixed(1)}, ${+offCut.motion.y.toFixed(1)})${offCut.motion.turn === 0 ? '' : ` turned ${+((offCut.motion.turn * 180) / Math.PI).toFixed(1)}°`}${offCut.motion.turnedOver ? ' turned over' : ''}`
    : '';
  return `${id}: ${+width.toFixed(1)} × ${+height.toFixed(1)} mm ${stock}${from}; ${own}; ${{ whole: 'whole', cut: 'cut from: what is left are off-cuts', gone: 'gone' }[state]}`;
}

interface Cut {
  readonly job: string;
  readonly board: string;
  readonly times: number;
  readonly metres: number;
}

/** What was cut, each program once, as often as entered last. */
function cutsOf(entries: readonly DayBookEntry[]): Cut[] {
  const cuts = new Map<string, Cut>();
  entries.forEach((e, i) => {
    if (e.kind !== 'cut') return;
    const key = e.program ?? `line ${i}`;
    const times = Math.max(e.times, cuts.get(key)?.times ?? 0);
    const metres = times * e.runs.reduce((sum, r) => sum + r.metres, 0);
    cuts.set(key, { job: e.job, board: e.board, times, metres });
  });
  return [...cuts.values()];
}

function feltOf(entries: readonly DayBookEntry[]) {
  const stocks = new Map<string, { tight: number; right: number; loose: number }>();
  for (const e of entries) {
    if (e.kind !== 'felt') continue;
    const counts = stocks.get(e.material ?? e.stock) ?? { tight: 0, right: 0, loose: 0 };
    stocks.set(e.material ?? e.stock, { ...counts, [e.felt]: counts[e.felt] + 1 });
  }
  return [...stocks].map(([stock, counts]) => ({ stock, ...counts }));
}

function section(title: string, lines: readonly string[]): void {
  if (lines.length === 0) return;
  line(title);
  for (const l of lines) line(`  ${l}`);
}

/** `haunch book show`: cutters, boards, off-cuts, cuts, what was felt. */
export const bookShowCommand = (exit: (code: number) => void): Command =>
  new Command('show')
    .description(
      'say what the day book knows: cutters and their ladders, boards, off-cuts, cuts, what was felt',
    )
    .requiredOption('--book <file>', "the shop's day book (.jsonl)")
    .option('--json', 'print it as JSON')
    .action(({ book, json }: { readonly book: string; readonly json?: boolean }) => {
      const { entries, torn } = openKeptDayBook(book);
      const cutters = cuttersOf(entries);
      const boards = [...boardsOfBook(entries).values()];
      const [cuts, felt] = [cutsOf(entries), feltOf(entries)];
      const lost = entries.flatMap((e) => (e.kind === 'torn' ? [e.text] : []));
      if (torn !== null) lost.push(torn);
      if (json) {
        const now = cutters.map((id) => {
          const history = cutterHistoryOf(entries, id);
          const known = diameterNow(history);
          return {
            ...history,
            now: known.ok ? known.value : null,
            problem: known.ok ? null : known.diagnostics[0]!.message,
          };
        });
        line(
          JSON.stringify(
            { format: 'haunch-book-summary', version: 1, cutters: now, boards, cuts, felt, torn: lost },
            null,
            1,
          ),
        );
        return exit(DONE);
      }
      line(`${book}: ${counted(entries.length, 'entry', 'entries')}`);
      section(
        'cutters',
        cutters.map((id) => cutterInWords(entries, id)),
      );
      section('boards and off-cuts', boards.map(boardWords));
      section(
        'cut',
        cuts.map((c) => `${c.job}: ${c.board}, ${counted(c.times, 'time')}, ${c.metres.toFixed(1)} m in all`),
      );
      section(
        'felt at assembly',
        felt.map((f) => `${f.stock}: ${f.tight} tight, ${f.right} right, ${f.loose} loose`),
      );
      section('torn off and lost', lost);
      exit(DONE);
    });
