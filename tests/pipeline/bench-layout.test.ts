import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { overlapMinimising, runExplorers } from '@haunch/nesting';
import { readProblems } from '@haunch/nesting/trial';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const PAGE = readFileSync(join(ROOT, 'docs/contracts/a-strategy-of-your-own.md'), 'utf8');
const block = (language: string): string =>
  new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(PAGE)![1]!;

let home: string;
const bench = (...args: string[]) => runHaunch(home, ['bench', 'layout', ...args]);
const records = (folder: string) =>
  readFileSync(join(home, folder, 'trials.jsonl'), 'utf8')
    .trimEnd()
    .split('\n')
    .map((l) => JSON.parse(l) as Record<string, any>)
    .sort((a, b) => (a.strategy < b.strategy ? -1 : a.strategy > b.strategy ? 1 : a.seed - b.seed));

describe('haunch bench layout', () => {
  beforeAll(() => {
    home = mkdtempSync(join(tmpdir(), 'haunch-bench-'));
    mkdirSync(join(home, 'problems'));
    writeFileSync(join(home, 'shelves.mjs'), block('js'));
    writeFileSync(join(home, 'problems/twelve.json'), block('json'));
  });
  afterAll(() => rmSync(home, { recursive: true, force: true }));

  it("judges the tutorial's strategy beside the project's own, as the page says", async () => {
    const [, command] = /^haunch bench layout (.*)$/m.exec(block('sh'))!;
    const run = await bench(...command!.split(' '));
    expect(run.status, run.stderr).toBe(0);
    const lines = records('layout-bench');
    expect(lines.map((l) => `${l.strategy} ${l.seed}`)).toEqual(
      ['bottom-left-fill', 'shelves'].flatMap((s) => [1, 2, 3, 4, 5].map((n) => `${s} ${n}`)),
    );
    for (const l of lines) {
      expect(l).toMatchObject({
        format: 'haunch-layout-trial',
        valid: true,
        commonArea: 0,
        reproducible: true,
      });
      expect(l.density).toBeCloseTo(l.itemArea / (l.stripWidth * l.length), 9);
      expect(l.length).toBeGreaterThanOrEqual(l.lowerBound);
      expect(existsSync(join(home, 'layout-bench', l.layoutFile))).toBe(true);
    }
    // Shelves of 50, 40 and 30 by hand: brackets and squares, then the boards: not what a search finds.
    const [own, theirs] = [lines[0]!, lines[5]!];
    expect(own.length).toBeLessThan(theirs.length);
    const page = readFileSync(join(home, 'layout-bench/report.html'), 'utf8');
    expect(page).toContain('bottom-left-fill against shelves');
    expect(page).not.toMatch(/https?:\/\/(?!www\.w3\.org)/);
    expect(run.stdout).toContain('bottom-left-fill against shelves');
  });

  it('gives the same layouts again for the same ticks, on one thread or two', async () => {
    const ran = ['--strategy', 'bottom-left-fill', '--seeds', '1-2', '--budget', '500'];
    for (const [out, threads] of [
      ['one', '1'],
      ['two', '2'],
    ] as const)
      expect((await bench('problems', ...ran, '--out', out, '--threads', threads)).status).toBe(0);
    const hashes = (out: string) => records(out).map((l) => l.layoutSha256);
    expect(hashes('one')).toEqual(hashes('two'));
    expect(hashes('one')[0]).toMatch(/^[0-9a-f]{64}$/);
  });

  it('has explorers on threads of their own come to what they come to one after the other', async () => {
    const ran = ['--strategy', 'overlap-minimising', '--seeds', '2', '--budget', '400', '--explorers', '2'];
    expect((await bench('problems', ...ran, '--out', 'met')).status).toBe(0);
    const text = readFileSync(join(home, 'problems/twelve.json'), 'utf8');
    const read = readProblems(text, 'twelve.json');
    if (!read.ok) throw new Error('the problem cannot be read');
    const [problem] = read.value;
    const explorers = { seed: 2, count: 2, ticks: 400 };
    // With this seed they come to something else when they do not meet.
    const together = runExplorers(
      overlapMinimising,
      problem!.instance,
      overlapMinimising.defaults,
      explorers,
    );
    const file = join(home, 'met', records('met')[0]!.layoutFile);
    const { placements } = JSON.parse(readFileSync(file, 'utf8'));
    expect(placements).toEqual(together.layout.placements);
  });

  it('runs a record again by its own command', async () => {
    const [first] = records('one');
    const args = first!.command.replace('haunch bench layout ', '').split(' ');
    expect((await bench(...args, '--out', 'again')).status).toBe(0);
    expect(records('again')[0]!.layoutSha256).toBe(first!.layoutSha256);
  });

  it('records a strategy that cheats or fails, and does not count it', async () => {
    const cheat = block('js')
      .replace("name: 'shelves'", "name: 'cheat'")
      .replace('x + box.width + spacing,', 'x + box.width + spacing - 0.0001,');
    const failing = block('js')
      .replace("name: 'shelves'", "name: 'failing'")
      .replace('const [board] = boards;', "const [board] = boards; throw new Error('lost my way');");
    writeFileSync(join(home, 'cheat.mjs'), cheat);
    writeFileSync(join(home, 'failing.mjs'), failing);
    const run = await bench(
      'problems',
      '--strategy',
      './cheat.mjs,./failing.mjs',
      '--seeds',
      '1',
      '--budget',
      '99',
      '--out',
      'bad',
    );
    expect(run.status).toBe(1);
    const [a, b] = records('bad');
    expect(a).toMatchObject({ strategy: 'cheat', valid: false, refused: 1 });
    expect(a!.fault).toMatch(/overlap/);
    expect(b).toMatchObject({ strategy: 'failing', valid: false, fault: 'the strategy failed: lost my way' });
    expect(existsSync(join(home, 'bad/layouts'))).toBe(false);
  });

  it.each([
    ['a folder that is not there', ['nowhere'], /nowhere is not there/],
    ['a name that no problem has', ['problems', '--only', 'thirteen'], /no layout problem named thirteen/],
    [
      'a strategy that is not there',
      ['problems', '--strategy', 'no-such-thing'],
      /'no-such-thing' cannot be loaded/,
    ],
    [
      'a file that is no strategy',
      ['problems', '--strategy', './problems/twelve.json'],
      /no layout strategy|cannot be loaded/,
    ],
    ['seeds that are none', ['problems', '--seeds', '5-1'], /no list of seeds/],
    ['explorers that have no thread each', ['problems', '--explorers', '3'], /give --threads 3/],
    ['a budget that is none', ['problems', '--budget', 'soon'], /no budget/],
    ['a folder that holds something else', ['problems', '--out', 'problems'], /holds no bench of layouts/],
    ['results of an earlier bench', ['problems', '--out', 'one'], /--replace/],
  ])('refuses %s, in one sentence', async (_, args, says) => {
    const run = await bench(...args);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(says);
    expect(run.stderr).not.toMatch(/^\s+at /m);
  });

  it('names a file that cannot be read, runs the rest, and says so by its exit code', async () => {
    mkdirSync(join(home, 'mixed'));
    writeFileSync(join(home, 'mixed/good.json'), block('json'));
    writeFileSync(
      join(home, 'mixed/bad.json'),
      '{"name": "b", "stripHeight": 10, "items": [{"id": "q", "rotations": [0], "polygon": []}]}',
    );
    const run = await bench(
      'mixed',
      '--strategy',
      'bottom-left-fill',
      '--seeds',
      '1',
      '--budget',
      '200',
      '--out',
      'rest',
    );
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/bad\.json, items\[0\]\.polygon.*\[lay\/problem-file\]/);
    expect(records('rest')).toHaveLength(1);
  });
});
