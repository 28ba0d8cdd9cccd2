import { spawnSync } from 'node:child_process';
import { appendFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { JobSchema } from '@haunch/job';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const HAUNCH = join(ROOT, 'apps/cli/bin/haunch.mjs');
let folder: string;
const haunch = (...args: string[]) => runHaunch(folder, args);
const book = (...args: string[]) => haunch('book', ...args, '--book', 'book.jsonl');
const text = (): string => readFileSync(join(folder, 'book.jsonl'), 'utf8');

const SHEET = [
  ['--size', '2440mm,1220mm', '--nominal', '18mm', '--stock', 'birch 18'],
  ['--reading', '17.72mm@50,1170', '--reading', '17.65mm@2390,50'],
  ['--reading', '17.70mm@1220,600', '--reading', '17.68mm@50,50'],
].flat();

describe('the day book by command', () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'haunch-book-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('takes a sheet with its readings, and refuses a slip of the point without a line written', async () => {
    const entered = await book('board', 'S7', ...SHEET);
    expect(entered.status, entered.stderr).toBe(0);
    expect(entered.stdout).toMatch(/^S7: 17\.69 ± 0\.\d+ mm at the middle, by 4 readings; entered/);
    const before = text();
    const slip = await book(
      'board',
      'S8',
      '--size',
      '2440mm,1220mm',
      '--reading',
      '1.77mm@50,50',
      '--reading',
      '17.7mm@9,9',
    );
    expect(slip.status).toBe(2);
    expect(slip.stderr).toContain('gauge/impossible-reading');
    expect(text()).toBe(before);
  });

  it('takes an off-cut with the map of its sheet, and refuses one that was not in it', async () => {
    const inside = await book('off-cut', 'O1', '--of', 'S7', '--size', '800mm,300mm', '--at', '1600mm,900mm');
    expect(inside.status, inside.stderr).toBe(0);
    expect(inside.stdout).toContain("by the sheet's map; entered");
    const outside = await book(
      'off-cut',
      'O2',
      '--of',
      'S7',
      '--size',
      '800mm,600mm',
      '--at',
      '1900mm,900mm',
    );
    expect(outside.status).toBe(2);
    expect(outside.stderr).toContain('280 mm outside');
    const unknown = await book('off-cut', 'O3', '--of', 'S9', '--size', '80mm,60mm', '--at', '0mm,0mm');
    expect(unknown.status).toBe(2);
    expect(unknown.stderr).toMatch(/S9/);
    const forJob = await book('for-job', 'O1');
    const boards = JobSchema.shape.boards.parse(JSON.parse(forJob.stdout));
    expect(boards[0]).toMatchObject({ id: 'O1', width: 800, height: 300 });
  });

  it('counts the metres of a made job once, however often they are entered', async () => {
    const job = join(ROOT, 'docs/examples/reading-stand/job.json');
    const made = await haunch('make', '--no-paper', job, '--out', 'made');
    expect(made.status, made.stderr).toBe(0);
    const cut = await book('cut', 'made');
    expect(cut.status, cut.stderr).toBe(0);
    const metres = /([\d.]+) m run/.exec(cut.stdout)![1]!;
    const again = await book('cut', 'made');
    expect(again.stdout).toContain('already entered as cut 1 time; nothing was added');
    expect((await book('show')).stdout).toContain(`${metres} m run`);
    const twice = await book('cut', 'made', '--times', '2');
    expect(twice.status, twice.stderr).toBe(0);
    // Both figures are rounded to a tenth.
    const shown = Number(/([\d.]+) m run/.exec((await book('show')).stdout)![1]);
    expect(Math.abs(shown - 2 * Number(metres))).toBeLessThan(0.16);
  }, 240_000);

  it('takes what was felt, proposes and applies nothing', async () => {
    const felt = await book('felt', 'made', '--rest', 'right');
    expect(felt.status, felt.stderr).toBe(0);
    expect((await book('felt', 'made', '--joint', 'M-NO=tight')).stderr).toContain(
      "no joint 'M-NO' was made there",
    );
    const before = text();
    const proposed = await book('propose');
    expect(proposed.stdout).toMatch(/snug 0\.\d+ ± 0\.\d+ mm, from \d+ joints; the trade uses/);
    expect(proposed.stdout).toContain('proposals only, nothing was changed');
    expect(text()).toBe(before);
  });

  it('keeps what has been cut when the job’s sheets are gauged again, each of several alike by itself', async () => {
    const job = JSON.parse(readFileSync(join(ROOT, 'docs/examples/reading-stand/job.json'), 'utf8'));
    const [sheet] = job.boards;
    sheet.count = 3;
    const write = (name: string) => writeFileSync(join(folder, name), JSON.stringify(job));
    write('three.json');
    const gauge = (name: string) => haunch('gauge', name, '--book', 'three.jsonl');
    const names = [sheet.id, `${sheet.id}-2`, `${sheet.id}-3`];
    expect((await gauge('three.json')).stdout).toContain(`entered in three.jsonl: ${names.join(', ')}`);
    appendFileSync(
      join(folder, 'three.jsonl'),
      `${JSON.stringify({ v: 2, kind: 'cut', when: new Date().toISOString(), job: 'j', board: names[1], program: null, times: 1, runs: [] })}\n`,
    );
    const states = async () =>
      JSON.parse((await haunch('book', 'show', '--json', '--book', 'three.jsonl')).stdout).boards.map(
        (b: any) => [b.id, b.state],
      );
    const after = [
      [names[0], 'whole'],
      [names[1], 'cut'],
      [names[2], 'whole'],
    ];
    expect(await states()).toEqual(after);
    const again = await gauge('three.json');
    expect(again.stdout).toContain('nothing was added');
    expect(again.stdout).toContain(`${names[1]} stays cut from`);
    sheet.readings = ['17.51 mm', '17.53 mm', '17.52 mm'];
    write('measured-again.json');
    expect((await gauge('measured-again.json')).stdout).toContain(
      `entered in three.jsonl: ${names.join(', ')}`,
    );
    expect(await states()).toEqual(after);
  });

  it('asks for a new ladder after grinding', async () => {
    const ground = await book('ground', 'router-6');
    expect(ground.status, ground.stderr).toBe(0);
    expect(ground.stdout).toContain('needs a new ladder');
  });

  it('goes out and in again, and in again without doubles', async () => {
    expect((await book('export', '--out', 'all.json')).status).toBe(0);
    const first = await haunch('book', 'import', 'all.json', '--book', 'other.jsonl');
    expect(first.stdout).toMatch(/^\d+ entries added, 0 known already/);
    expect((await haunch('book', 'import', 'all.json', '--book', 'other.jsonl')).stdout).toMatch(
      /^0 entries added/,
    );
    expect(readFileSync(join(folder, 'other.jsonl'), 'utf8')).toBe(text());
  });

  it('sets a line that was torn off aside, says so, and loses nothing else', async () => {
    const whole = text();
    appendFileSync(join(folder, 'book.jsonl'), '{"v":2,"kind":"cut","wh');
    const shown = await book('show');
    expect(shown.status).toBe(0);
    expect(shown.stderr).toContain('gauge/day-book-torn');
    expect((await book('gone', 'O1')).status).toBe(0);
    expect(text().startsWith(whole)).toBe(true);
    expect((await book('show')).stdout).not.toContain(
      'O1: 800 × 300 mm birch 18, of S7 at (1600, 900); 4 readings, whole',
    );
  });

  it('says of a folder that it is one', async () => {
    const run = await haunch('book', 'show', '--book', '.');
    expect([run.status, run.stderr]).toEqual([2, 'error: . is a folder, not a file\n']);
  });

  it.each([['show'], ['propose'], ['for-job'], ['export', '--out', 'gone.json']])(
    'takes a book that is not there for a slip in its name: %s',
    async (...command) => {
      const run = await haunch('book', ...command, '--book', 'none.jsonl');
      expect(run.status).toBe(2);
      expect(run.stderr).toContain('there is no day book none.jsonl');
      expect(existsSync(join(folder, 'none.jsonl'))).toBe(false);
      expect(existsSync(join(folder, 'gone.json'))).toBe(false);
    },
  );

  it('says nothing of a fault when whoever reads stops early', () => {
    const run = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${HAUNCH}" book show --book book.jsonl | head -1`],
      {
        cwd: folder,
        encoding: 'utf8',
      },
    );
    expect(run.stdout).toMatch(/^book\.jsonl: \d+ entries/);
    expect(run.stderr).not.toMatch(/EPIPE|node:events/);
  });
});
