import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';
import { SIDEBOARD } from './sideboard.js';

const PAGE = readFileSync(join(ROOT, 'docs/formats/haunch-day-book.md'), 'utf8');

/** Every command of the page that is more than a name, in its order, as words. */
function commandsOf(page: string): string[][] {
  return [...page.matchAll(/`haunch ([^`]+)`/g)].flatMap(([, text]) => {
    const words = [...text!.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare!);
    const asks = words[0] === 'book' && ['show', 'propose'].includes(words[1]!);
    const named =
      words[0] === 'book' ? words.length > 2 : words[1] === 'job.json' || words[1] === 'felt.json';
    return asks || named ? [words] : [];
  });
}

let folder: string;
const haunch = (words: readonly string[]) => runHaunch(folder, words);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'haunch-page-'));
  for (const name of ['job.json', 'sideboard-18.master.json'])
    copyFileSync(join(SIDEBOARD, name), join(folder, name));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('the day book page’s commands do what they are there for, in their order', {
  timeout: 600_000,
}, async () => {
  const commands = commandsOf(PAGE);
  expect(new Set(commands.map((c) => c.slice(0, c[0] === 'book' ? 2 : 1).join(' ')))).toEqual(
    new Set([
      'gauge',
      'ladder',
      'make',
      ...['board', 'cut', 'off-cut', 'gone', 'felt', 'ground', 'ran'].map((c) => `book ${c}`),
      ...['show', 'for-job', 'propose', 'export', 'import'].map((c) => `book ${c}`),
    ]),
  );
  let made = false;
  let ground = false;
  for (const words of commands) {
    const said = words.join(' ');
    if (words.includes('made') && words[0] === 'book' && !made) {
      const first = await haunch(['make', 'felt.json', '--out', 'made']);
      expect(first.status, first.stderr).toBe(0);
      made = true;
    }
    const whole = words.includes('--book') ? words : [...words, '--book', 'day-book.jsonl'];
    const run = await haunch(whole);
    ground ||= said.includes('book ground');
    if (words[0] === 'make') {
      // What the page says of it: a cutter that was ground needs a ladder first.
      expect(ground).toBe(true);
      expect(run.status, said).toBe(1);
      expect(run.stderr).toContain('gauge/ladder-missing');
    } else expect(run.status, `${said}\n${run.stderr}`).toBe(0);
  }
});
