import type { PostProcessor } from '@haunch/model';
import type { KitRule } from '../kit.js';
import { isMotion, readIn, type TriedPost, wordsOf, writeSample } from './post-trial.js';
import { SAMPLES } from './sample-toolpaths.js';

const isWhole = (v: unknown, least: number, most: number): boolean =>
  Number.isInteger(v) && (v as number) >= least && (v as number) <= most;

/** What is wrong with what a post says of itself. */
function manifestProblems(post: PostProcessor): string[] {
  const out: string[] = [];
  const say = (ok: boolean, what: string): void => {
    if (!ok) out.push(what);
  };
  say(
    typeof post.name === 'string' && /^[a-z0-9][a-z0-9._-]*$/.test(post.name),
    `name "${post.name}": small letters, digits, dots and dashes are wanted`,
  );
  say(post.contract === 1, `contract ${String(post.contract)}: 1 is wanted`);
  for (const f of ['start', 'move', 'end'] as const)
    say(typeof post[f] === 'function', `${f} is no function`);
  const d = post.dialect;
  if (typeof d !== 'object' || d === null) return [...out, 'dialect is missing'];
  say(typeof d.name === 'string' && d.name.trim() !== '', 'dialect.name is empty');
  say(
    /^[a-z0-9]{1,8}$/i.test(d.extension),
    `dialect.extension "${d.extension}": 1 to 8 letters or digits, without a dot`,
  );
  say(d.unit === 'mm' || d.unit === 'inch', `dialect.unit "${String(d.unit)}": mm or inch`);
  say(isWhole(d.decimals, 0, 6), `dialect.decimals ${d.decimals}: 0 to 6`);
  say(isWhole(d.feedDecimals, 0, 6), `dialect.feedDecimals ${d.feedDecimals}: 0 to 6`);
  say(isWhole(d.blockLength, 20, 100_000), `dialect.blockLength ${d.blockLength}: from 20`);
  say(typeof d.modal === 'boolean', 'dialect.modal is missing');
  const a = d.arcs;
  if (typeof a !== 'object' || a === null) return [...out, 'dialect.arcs is missing'];
  say(['none', 'centre', 'radius'].includes(a.form), `dialect.arcs.form "${String(a.form)}"`);
  say(
    a.greatestSweep > 0 && a.greatestSweep <= 2 * Math.PI + 1e-9,
    `dialect.arcs.greatestSweep ${a.greatestSweep}: above 0, up to a whole turn`,
  );
  say(
    a.chordTolerance > 0 && a.chordTolerance <= 0.05,
    `dialect.arcs.chordTolerance ${a.chordTolerance} mm: up to 0.05, as a fit lives in tenths`,
  );
  const absolute = d.meaning?.centres === 'absolute';
  say(
    a.form !== 'centre' || (a.centre === 'absolute') === absolute,
    `dialect.arcs.centre "${a.centre}" and dialect.meaning.centres "${d.meaning?.centres ?? 'incremental'}" disagree`,
  );
  return out;
}

/** Lines that stand for a control in which something else was left in force, by what it is. */
const LEFT_BEHIND: readonly { readonly what: string; readonly line: (foreign: boolean) => string }[] = [
  { what: 'incremental distances', line: () => 'G91' },
  { what: 'another plane', line: () => 'G18' },
  { what: 'the other unit', line: (foreign) => (foreign ? 'G70' : 'G20') },
  { what: 'inverse-time feed', line: () => 'G93' },
];

/** Rules on the text and on the post's manners. */
export const TEXT_RULES: readonly KitRule<TriedPost>[] = [
  {
    id: 'T01',
    title: 'the manifest is complete and makes sense',
    why: 'the host lowers what the dialect says it lacks, and believes it',
    check: (t) => manifestProblems(t.subject),
  },
  {
    id: 'T02',
    title: 'a post keeps nothing: the same toolpath gives the same bytes, whatever was written between',
    why: 'the second program of a job must not depend on the first',
    check: ({ post, trials }) => {
      const out: string[] = [];
      // Twice over, and in the other order.
      for (const sample of [...SAMPLES, ...[...SAMPLES].reverse()]) {
        const before = trials.find((x) => x.sample === sample);
        if (!before || out.length > 3) continue;
        const again = writeSample(post, sample);
        if ('why' in again) out.push(`${sample.name}: written once, then refused: ${again.why}`);
        else if (again.text !== before.text) {
          const old = before.lines;
          const now = again.text.split('\n');
          const i = old.findIndex((l, k) => l !== now[k]);
          out.push(`${sample.name}: line ${i + 1} was "${old[i]}", then "${now[i]}"`);
        }
      }
      return out;
    },
  },
  {
    id: 'T03',
    title: 'every sample can be written',
    why: 'a post that cannot spell a move stops the job at the machine’s door',
    check: (t) => t.refused.map((r) => `${r.sample}: ${r.why}`),
  },
  {
    id: 'T04',
    title: 'the text reads without error',
    why: 'what a control makes of a text that the standard forbids is anybody’s guess',
    check: (t) =>
      t.trials.flatMap(({ sample, reading, lines }) =>
        reading.diagnostics
          .filter((d) => d.level === 'error')
          .map((d) => {
            const line = d.locus?.line;
            return `${sample.name}${line === undefined ? '' : `, line ${line} "${lines[line - 1]?.slice(0, 60)}"`}: ${d.message}`;
          }),
      ),
  },
  {
    id: 'T19',
    title: 'nothing is inherited from what ran before',
    why: 'a control keeps its modes from program to program',
    check: ({ post, trials }) => {
      const foreign = post.dialect.meaning?.units === 'G70 G71';
      const out: string[] = [];
      for (const { sample, text, reading } of trials.slice(0, 4))
        for (const { what, line } of LEFT_BEHIND) {
          const after = readIn(post, `${line(foreign)}\n${text}`);
          const same =
            after.moves.length === reading.moves.length &&
            after.moves.every((m, i) => {
              const n = reading.moves[i]!;
              return JSON.stringify({ ...m, line: 0 }) === JSON.stringify({ ...n, line: 0 });
            });
          if (!same)
            out.push(`${sample.name}: runs otherwise where ${what} was left in force (${line(foreign)})`);
        }
      return out;
    },
  },
  {
    id: 'T20',
    title: 'no block is longer than the dialect says, and block numbers count upwards',
    why: 'controls cut long blocks off without a word',
    check: (t) =>
      t.trials.flatMap(({ sample, lines }) => {
        const out: string[] = [];
        let last = -1;
        lines.forEach((line, i) => {
          if (line.length > t.post.dialect.blockLength)
            out.push(`${sample.name}, line ${i + 1}: ${line.length} characters`);
          const numbers = [...wordsOf(t.post, line).matchAll(/N\s*(\d+)/g)];
          if (numbers.length > 1) out.push(`${sample.name}, line ${i + 1}: numbered twice`);
          const n = numbers[0] === undefined ? null : Number(numbers[0][1]);
          if (n !== null && n <= last) out.push(`${sample.name}, line ${i + 1}: N${n} after N${last}`);
          last = n ?? last;
        });
        return out;
      }),
  },
  {
    id: 'T21',
    title: 'only arcs that the dialect declares: their form, their greatest sweep, helices',
    why: 'what was not declared was not lowered, and the machine may not know it',
    check: (t) => {
      const { arcs } = t.post.dialect;
      const out: string[] = [];
      for (const { sample, lines, reading } of t.trials)
        for (const m of reading.moves) {
          if (m.kind !== 'arc') continue;
          const words = wordsOf(t.post, lines[m.line - 1]!);
          const where = `${sample.name}, line ${m.line} "${words}"`;
          if (arcs.form === 'none') out.push(`${where}: an arc, and none are declared`);
          if (arcs.form === 'centre' && /R/.test(words))
            out.push(`${where}: a radius, and centres are declared`);
          if (arcs.form === 'radius' && /[IJ]/.test(words))
            out.push(`${where}: a centre, and radii are declared`);
          if (Math.abs(m.sweep) > arcs.greatestSweep + 1e-3)
            out.push(`${where}: it sweeps more than is declared`);
          if (!arcs.helix && m.from.z !== m.to.z && m.fromKnown.z)
            out.push(`${where}: a helix, and none are declared`);
        }
      return out;
    },
  },
  {
    id: 'T22',
    title: 'only characters that a control can read, and remarks only in the brackets declared',
    why: 'old controls stop at the first character they do not know',
    check: (t) =>
      t.trials.flatMap(({ sample, lines }) =>
        lines.flatMap((line, i): string[] => {
          const { comments } = t.post.dialect;
          if (/[^ -~\t]/.test(line)) return [`${sample.name}, line ${i + 1}: a character outside ASCII`];
          const words = wordsOf(t.post, line);
          if (/[()]/.test(words) || (comments?.open !== ';' && words.includes(';')))
            return [`${sample.name}, line ${i + 1}: a remark that the dialect does not declare`];
          return /[a-z]/.test(words) ? [`${sample.name}, line ${i + 1}: small letters`] : [];
        }),
      ),
  },
  {
    id: 'T23',
    title: 'no block turns on an offset, a length or a radius that was not asked for',
    why: 'cutter compensation and offsets of the table shift every wall',
    check: (t) =>
      t.trials.flatMap(({ sample, lines }) =>
        lines.flatMap((line, i) => {
          const words = wordsOf(t.post, line);
          const found = /G(41|42|43|92|68|51)(?![\d])/.exec(words.replace(/(\d)\s+(?=\d)/g, '$1'));
          return found ? [`${sample.name}, line ${i + 1}: ${found[0]}`] : [];
        }),
      ),
  },
  {
    id: 'T24',
    title: 'a post leaves alone what it is given',
    why: 'the host and other posts use the same data',
    check: ({ refused }) =>
      refused
        .filter((r) =>
          /read only|not extensible|Cannot assign|Cannot add|Cannot delete|Cannot define/i.test(r.why),
        )
        .map((r) => `${r.sample}: it writes to what it was given (${r.why})`),
  },
  {
    id: 'T25',
    title: 'blocks are blocks: words in capitals with numbers that are numbers',
    why: 'a word without a number, or one that is no number, reads as something else',
    check: (t) =>
      t.trials.flatMap(({ sample, lines, reading, lineMoves }) => {
        const out = lines.flatMap((line, i): string[] =>
          /NaN|Infinity|undefined|null|e[+-]\d/.test(wordsOf(t.post, line))
            ? [`${sample.name}, line ${i + 1}: "${line}"`]
            : [],
        );
        // A stop for a change of cutter by hand is one that the dialect has declared.
        const changes = (line: number): boolean => {
          const move = lineMoves[line - 1];
          return (
            t.post.dialect.stopsAfterChange === true &&
            typeof move === 'number' &&
            sample.toolpath.moves[move]?.kind === 'cutter'
          );
        };
        const stops = reading.moves.filter((m) => m.kind === 'stop' && !changes(m.line));
        return stops.length > 0
          ? [...out, `${sample.name}, line ${stops[0]!.line}: the program waits, and nobody asked`]
          : out;
      }),
  },
];

/** Whether a rule's subject moves at all; a kit that reads nothing proves nothing. */
export const readsMotion = (t: TriedPost): boolean => t.trials.some((x) => x.reading.moves.some(isMotion));
