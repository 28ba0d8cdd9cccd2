import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const STORED = join(ROOT, 'packages/job/test/paper/reading-stand.paper.json');
const out = mkdtempSync(join(tmpdir(), 'haunch-paper-'));
const haunch = (...args: string[]) => runHaunch(out, args);

beforeAll(() => {
  mkdirSync(join(out, 'made/paper'), { recursive: true });
  cpSync(STORED, join(out, 'made/paper/paper.json'));
});
afterAll(() => rmSync(out, { recursive: true, force: true }));

describe('haunch paper', () => {
  it('prints a made folder again, for other paper and in inches, and leaves what else is there', async () => {
    writeFileSync(join(out, 'made/paper/mine.txt'), 'my own');
    const run = await haunch('paper', 'made', '--page', 'letter', '--unit', 'inch');
    expect(run.status, run.stderr).toBe(0);
    expect(readFileSync(join(out, 'made/paper/mine.txt'), 'utf8')).toBe('my own');
    const setup = readFileSync(join(out, 'made/paper/setup.pdf'), 'latin1');
    expect(setup).toMatch(/^%PDF-1\.3/);
    // Letter held across: 11 by 8½ inches of 72 points.
    expect(setup).toMatch(/\/MediaBox \[0 0 792(\.\d+)? 612(\.\d+)?\]/);
    expect(JSON.parse(readFileSync(join(out, 'made/paper/paper.json'), 'utf8')).paper).toMatchObject({
      page: 'Letter',
      unit: 'inch',
    });
  });

  it('prints some kinds alone, the same bytes every time', async () => {
    for (const folder of ['a', 'b']) {
      const run = await haunch('paper', 'made', '--out', folder, '--only', 'tickets,quote');
      expect(run.status, run.stderr).toBe(0);
    }
    const files = readdirSync(join(out, 'a/paper')).sort();
    expect(files).toEqual(['lists.json', 'paper.json', 'quote.csv', 'quote.pdf', 'tickets.pdf']);
    for (const f of files)
      expect(readFileSync(join(out, 'a/paper', f))).toEqual(readFileSync(join(out, 'b/paper', f)));
    const again = await haunch('paper', 'made', '--out', 'a', '--only', 'tickets');
    expect([again.status, again.stderr]).toEqual([
      2,
      expect.stringMatching(/not written by haunch|--replace/),
    ]);
  });

  it.each<[string, string[], RegExp]>([
    [
      'a kind that there is not',
      ['paper', 'made', '--only', 'setup,poster'],
      /no paper 'poster'; give some of setup/,
    ],
    ['a unit that there is not', ['paper', 'made', '--unit', 'ell'], /no unit 'ell'; give mm or inch/],
    [
      'labels that the page has no room for',
      ['paper', 'narrow', '--page', 'letter'],
      /labels 3 × 14 on Letter would be .* need 40 × 21 mm/,
    ],
    ['a font that is none', ['paper', 'made', '--font', 'made/paper/paper.json'], /no TrueType font/],
    ['a folder that was not made', ['paper', '.'], /holds no paper\/paper\.json/],
    [
      'a file that this version did not write',
      ['paper', 'broken'],
      /cannot be printed again: .*\n {2}hint: Make the job again/,
    ],
  ])('refuses %s, with a sentence', async (_, args, says) => {
    mkdirSync(join(out, 'broken/paper'), { recursive: true });
    writeFileSync(join(out, 'broken/paper/paper.json'), '{ "format": "haunch-paper", "version": 1 }');
    const data = JSON.parse(readFileSync(STORED, 'utf8'));
    data.paper.labels.rows = 14;
    mkdirSync(join(out, 'narrow/paper'), { recursive: true });
    writeFileSync(join(out, 'narrow/paper/paper.json'), JSON.stringify(data));
    const run = await haunch(...args);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(says);
    expect(run.stderr).not.toMatch(/ {4}at /);
    expect(existsSync(join(out, 'x'))).toBe(false);
  });

  it('prints nothing for programs that are not proved', async () => {
    const data = JSON.parse(readFileSync(STORED, 'utf8'));
    mkdirSync(join(out, 'unproved/paper'), { recursive: true });
    writeFileSync(
      join(out, 'unproved/paper/paper.json'),
      JSON.stringify({ ...data, report: { ...data.report, pass: false } }),
    );
    const run = await haunch('paper', 'unproved');
    expect(run.status).toBe(1);
    expect(run.stderr).toMatch(/are not proved, so no paper is printed/);
    expect(readdirSync(join(out, 'unproved/paper'))).toEqual(['paper.json']);
  });
});
