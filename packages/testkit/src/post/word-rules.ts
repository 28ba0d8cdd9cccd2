import type { KitRule } from '../kit.js';
import { eachMove, placeOf } from './each-move.js';
import { isMotion, readIn, type TriedPost, wordsOf, writeSample } from './post-trial.js';
import { HOSTILE_NOTE, SAMPLES } from './sample-toolpaths.js';

const FEED_NOISE = 1e-6;

/** The lines of a text that hold a word, by their numbers. */
const linesWith = (t: TriedPost, lines: readonly string[], word: RegExp): number[] =>
  lines.flatMap((l, i) => (word.test(wordsOf(t.post, l)) ? [i] : []));

/** Rules on spindle, feed, cutters, waiting and the end. */
export const WORD_RULES: readonly KitRule<TriedPost>[] = [
  {
    id: 'T12',
    title: 'every cut has its feed: never faster than asked, slower by less than a step',
    why: 'too fast breaks the cutter or throws the part; a feed from before is anybody’s guess',
    check: (t) => {
      const inUnit = t.post.dialect.unit === 'inch' ? 25.4 : 1;
      const step = inUnit / 10 ** t.post.dialect.feedDecimals;
      const out: string[] = [];
      for (const m of eachMove(t)) {
        if (m.move.kind === 'rapid') continue;
        for (const r of m.read) {
          if (r.kind === 'rapid') continue;
          if (r.feed === null) out.push(`${placeOf(m)}: no feed`);
          else if (r.feed > m.move.feed + FEED_NOISE || r.feed < m.move.feed - step - FEED_NOISE)
            out.push(`${placeOf(m)}: feed ${r.feed} mm/min, asked were ${m.move.feed}`);
        }
      }
      return out;
    },
  },
  {
    id: 'T13',
    title: 'the spindle turns clockwise at the speed asked before anything is cut',
    why: 'a standing cutter breaks, and one that turns the wrong way burns',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t))
        for (const r of m.read)
          if (r.kind !== 'rapid' && Math.abs(r.spindle - m.rpm) > 0.5 + FEED_NOISE)
            out.push(`${placeOf(m)}: spindle at ${r.spindle} rev/min, asked were ${m.rpm}`);
      return out;
    },
  },
  {
    id: 'T14',
    title: 'each move is made with the cutter asked for',
    why: 'walls lie by the cutter’s radius beside the path',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t))
        for (const r of m.read)
          if (r.tool !== m.cutter) out.push(`${placeOf(m)}: cutter ${r.tool}, asked was ${m.cutter}`);
      return out;
    },
  },
  {
    id: 'T15',
    title: 'the spindle is told to stop before a cutter is changed and before the end',
    why: 'whoever changes cutters by hand reaches for the collet; a code that should stop it is not the same on all machines',
    check: (t) => {
      const out: string[] = [];
      for (const { sample, lines } of t.trials) {
        let turning: boolean | null = null;
        lines.forEach((line, i) => {
          const words = wordsOf(t.post, line);
          if (/M0?5(?!\d)/.test(words)) turning = false;
          if (/M0?6(?!\d)/.test(words) && turning !== false)
            out.push(`${sample.name}, line ${i + 1}: a change of cutter, and no M5 before it`);
          if (/M(0?2|30)(?!\d)/.test(words) && turning !== false)
            out.push(`${sample.name}, line ${i + 1}: the end, and no M5 before it`);
          if (/M0?[34](?!\d)/.test(words)) turning = true;
        });
      }
      return out;
    },
  },
  {
    id: 'T16',
    title: 'waits last as long as asked',
    why: 'seconds read as milliseconds end before the spindle is up to speed, the other way round they never end',
    check: (t) =>
      t.trials.flatMap(({ sample, reading }) => {
        const wanted = sample.toolpath.moves.flatMap((m) => (m.kind === 'dwell' ? [m.seconds] : []));
        const read = reading.moves.flatMap((m) => (m.kind === 'dwell' ? [m.seconds] : []));
        const same = wanted.length === read.length && wanted.every((s, i) => Math.abs(s - read[i]!) <= 0.05);
        return same
          ? []
          : [`${sample.name}: waits of ${read.join(', ') || 'none'} s, asked were ${wanted.join(', ')} s`];
      }),
  },
  {
    id: 'T17',
    title: 'the program ends with its end, in its last block',
    why: 'a control that runs off the end of a text stops in alarm, or starts again from the top',
    check: (t) =>
      t.trials.flatMap(({ sample, reading, lines }): string[] => {
        if (reading.end !== 'M2' && reading.end !== 'M30') return [`${sample.name}: no M2 or M30`];
        const ends = linesWith(t, lines, /M(0?2|30)(?!\d)/);
        const last = lines.length - 1;
        const after = lines
          .slice((ends[0] ?? last) + 1)
          .filter((l) => wordsOf(t.post, l).replace('%', '').trim() !== '');
        if (ends.length > 1) return [`${sample.name}: it ends ${ends.length} times`];
        return after.length > 0 ? [`${sample.name}: "${after[0]}" stands after the end`] : [];
      }),
  },
  {
    id: 'T18',
    title: 'notes and titles are never more than remarks, whatever stands in them',
    why: 'a part’s name comes from a drawing that anybody may have made',
    check: (t) => {
      const out: string[] = [];
      for (const { sample, lines, lineMoves, reading } of t.trials) {
        const { moves } = sample.toolpath;
        lineMoves.forEach((move, i) => {
          if (
            move !== null &&
            moves[move]?.kind === 'note' &&
            /[A-Z0-9%]/i.test(wordsOf(t.post, lines[i]!).replace(/^\s*N\d+/, ''))
          )
            out.push(`${sample.name}, line ${i + 1}: "${lines[i]!.slice(0, 40)}" is more than a remark`);
        });
        for (const m of reading.moves)
          if (isMotion(m) && moves[lineMoves[m.line - 1] ?? -1]?.kind === 'note')
            out.push(`${sample.name}, line ${m.line}: a note moves the cutter`);
      }
      // The very same text but for remarks, whatever the title says.
      const square = SAMPLES.find((s) => s.name === 'square')!;
      const words = (title: string): string => {
        const written = writeSample(t.post, { ...square, title });
        return 'why' in written
          ? `refused: ${written.why}`
          : JSON.stringify(readIn(t.post, written.text).moves.map((m) => ({ ...m, line: 0 })));
      };
      if (words('plain') !== words(HOSTILE_NOTE)) out.push('square: the title changes what the machine does');
      return out;
    },
  },
];
