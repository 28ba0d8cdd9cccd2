import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Clip, loadClip } from '@haunch/geometry';
import { commanded, type Made, type MadeBoard, makeJob, meaningOf, proveOrRefuseOnBoard } from '@haunch/job';
import type { DialectMeaning, PostProcessor } from '@haunch/model';
import { writeProgram } from '@haunch/nc/write';
import { seededRandom } from '@haunch/nesting';
import { iso6983, iso6983With } from '@haunch/post-iso6983';
import { linear, linearWith } from '@haunch/post-linear';
import { rs274ngc, rs274ngcWith } from '@haunch/post-rs274ngc';
import {
  judgedOf,
  meaningOfStyle,
  type PlainMotion,
  plainMotion,
  rewriteProgram,
  someStyle,
  tryMutations,
  wallWitness,
} from '@haunch/testkit';

const FOLDER = join(fileURLToPath(new URL('../../..', import.meta.url)), 'docs/examples/sideboard');

const DIALECTS: readonly (readonly [string, PostProcessor])[] = [
  ['RS274/NGC', rs274ngc],
  ['RS274/NGC, inches', rs274ngcWith({ unit: 'inch' })],
  ['ISO 6983', iso6983],
  ['ISO 6983, quarters, absolute centres', iso6983With({ arcs: 'quarters', centres: 'absolute' })],
  ['straight moves', linear],
  ['straight moves, inches', linearWith({ unit: 'inch' })],
];

const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};
const argument = (name: string, usual: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  const value = at < 0 ? usual : Number(process.argv[at + 1]);
  if (!Number.isInteger(value) || value < 0) {
    process.stderr.write(`--${name} wants a whole number that is not negative\n`);
    process.exit(2);
  }
  return value;
};

const judgeOf = (made: Made, board: MadeBoard, clip: Clip) => (text: string, meaning?: DialectMeaning) =>
  judgedOf(proveOrRefuseOnBoard(made, board, { text, ...(meaning === undefined ? {} : { meaning }) }, clip));

/**
 * The inner cuts of a board in another order: workingsteps that are inside profiles and stand one after another
 * change places; each begins with a travel at clearance height, so that nothing else changes.
 */
function reordered(
  { plan }: MadeBoard,
  text: string,
  motions: readonly PlainMotion[],
  random: () => number,
): PlainMotion[] {
  const free = new Set(plan.workplan.steps.filter((s) => s.kind === 'inside profile').map((s) => s.feature));
  const lines = text.split('\n');
  const stepAt = lines.map((l) => /^\(\S+\/\d+ (\S+) /.exec(l)?.[1] ?? null);
  const chunks: { free: boolean; motions: PlainMotion[] }[] = [];
  let line = 0;
  for (const m of motions) {
    let begun: string | null = null;
    for (; line < m.line; line++) begun = stepAt[line] ?? begun;
    if (begun !== null || chunks.length === 0)
      chunks.push({ free: begun !== null && free.has(begun), motions: [] });
    chunks[chunks.length - 1]!.motions.push(m);
  }
  const out: PlainMotion[] = [];
  for (let k = 0; k < chunks.length; ) {
    const run = [];
    for (; k < chunks.length && chunks[k]!.free; k++) run.push(chunks[k]!);
    for (let i = run.length - 1; i > 0; i--) {
      const j = Math.floor(random() * (i + 1));
      [run[i], run[j]] = [run[j]!, run[i]!];
    }
    if (run.length === 0) run.push(chunks[k++]!);
    out.push(...run.flatMap((c) => c.motions));
  }
  return out;
}

const count = argument('count', 2000);
const rewrites = argument('rewrites', 500);
const seed = argument('seed', 1);
/** Every so many-th mistake is made in the sheet's program, whose proof takes longer, with 0 none; the others in the off-cut's. */
const share = argument('sheet-every', 10);

const job = readFileSync(join(FOLDER, 'job.json'), 'utf8');
const result = await makeJob({
  text: job,
  file: 'job.json',
  source: (name) => (existsSync(join(FOLDER, name)) ? readFileSync(join(FOLDER, name)) : undefined),
});
if (!result.ok) throw new Error(JSON.stringify(result.diagnostics));
const made = result.value;
const clip = await loadClip();
const boards = [...made.boards].sort((a, b) => a.program.text.length - b.program.text.length);
const small = boards[0]!;
const large = boards[boards.length - 1]!;

let tried = 0;
let killed = 0;
let harmful = 0;
let alarms = 0;
let rewritten = 0;
const killedBy = new Map<string, number>();
for (const [d, [name, post]] of DIALECTS.entries()) {
  for (const board of share === 0 ? [small] : [small, large]) {
    const program = writeProgram(commanded(made.job, board.plan), post, { title: 'trial' });
    if (!program.ok) throw new Error(JSON.stringify(program.diagnostics));
    const { text } = program.value;
    const { meaning } = meaningOf(post);
    const told = meaning === undefined ? {} : { meaning };
    const judge = judgeOf(made, board, clip);
    const plain = plainMotion(text, meaning);
    if (plain === null) throw new Error(`${name}: the plain reader does not know this program`);
    const inSheet = (all: number): number => (share === 0 ? 0 : all / share);
    const each = (all: number): number =>
      Math.ceil((board === small ? all - inSheet(all) : inSheet(all)) / DIALECTS.length);
    const started = performance.now();
    const tally = tryMutations({
      text,
      ...told,
      count: each(count),
      seed: seed + d,
      judge: (t) => judge(t, meaning),
      witness: wallWitness({
        board: board.board,
        parts: board.items.map((i) => i.part),
        cutters: made.job.cutters,
        machine: made.job.machine,
        holding: made.job.holding,
        right: plain,
      }),
      borne: 0.01,
      progress: (done, of) => {
        if (process.stderr.isTTY) process.stderr.write(`\r${name}, ${board.board.id}: ${done} of ${of} `);
      },
    });
    tried += tally.tried;
    killed += tally.killed;
    for (const [rule, n] of Object.entries(tally.killedBy)) killedBy.set(rule, (killedBy.get(rule) ?? 0) + n);
    const seconds = ((performance.now() - started) / 1000).toFixed(0);
    print(`${name}, ${board.board.id}: ${tally.tried} mistakes, ${tally.killed} refused (${seconds} s)`);
    for (const [kind, [n, k]] of Object.entries(tally.byKind))
      if (n > 0) print(`  ${kind}: ${k} of ${n} refused`);
    const reasons = new Map<string, number>();
    for (const s of tally.survivors) {
      if (s.harmful) {
        harmful++;
        print(`  LET THROUGH, line ${s.mutation.line}: ${s.mutation.was} -> ${s.mutation.now}: ${s.reason}`);
      } else {
        const reason = s.reason.replace(/than [\d.]+ mm.*$/, 'than 0.01 mm; the most is reported');
        reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
      }
    }
    for (const [reason, n] of reasons) print(`  ${n} let through: ${reason}`);
    const random = seededRandom(seed + 100 + d);
    for (let k = 0; k < each(rewrites); k++) {
      const style = someStyle(random);
      const order = k % 2 === 1 && post === rs274ngc;
      const motions = order ? reordered(board, text, plain.motions, random) : plain.motions;
      const verdict = judge(rewriteProgram({ ...plain, motions }, style), meaningOfStyle(style));
      rewritten++;
      if (verdict.pass) continue;
      alarms++;
      print(`  FALSE ALARM ${verdict.reason}${order ? ', in another order' : ''}: ${JSON.stringify(style)}`);
    }
  }
}
print(
  `${tried} mistakes, ${killed} refused (${((100 * killed) / Math.max(1, tried)).toFixed(1)} %), ${tried - killed} let through, ${harmful} of them harmful; ${rewritten} other ways of writing, ${alarms} false alarms`,
);
print(
  `first reasons: ${[...killedBy]
    .sort((a, b) => b[1] - a[1])
    .map(([r, n]) => `${r} ${n}`)
    .join(', ')}`,
);
if (harmful > 0 || alarms > 0) process.exitCode = 1;
