import { spawnSync } from 'node:child_process';
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
import { runHaunch } from '../pipeline/haunch.js';
import { SIDEBOARD } from '../pipeline/sideboard.js';

const HAUNCH = join(ROOT, 'apps/cli/bin/haunch.mjs');
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'haunch-hostile-'));
  for (const name of ['job.json', 'sideboard-18.master.json'])
    cpSync(join(SIDEBOARD, name), join(folder, name));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const haunch = (...args: string[]) =>
  spawnSync(process.execPath, [HAUNCH, ...args], { cwd: folder, encoding: 'utf8', timeout: 60_000 });
const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return name;
};
const job = (edit: (j: Record<string, any>) => void): string => {
  const j = JSON.parse(readFileSync(join(SIDEBOARD, 'job.json'), 'utf8'));
  edit(j);
  return JSON.stringify(j, null, 2);
};
const master = (edit: (m: Record<string, any>) => void): string => {
  const m = JSON.parse(readFileSync(join(SIDEBOARD, 'sideboard-18.master.json'), 'utf8'));
  edit(m);
  return JSON.stringify(m, null, 1);
};

/** What each bad input must say, and with which exit code. Every one must leave nothing behind. */
const CASES: [string, () => string[], number, RegExp[]][] = [
  [
    'a job that is not there',
    () => ['make', 'nowhere.json', '--out', 'o'],
    2,
    [/nowhere\.json/, /no such file/],
  ],
  [
    'malformed JSON',
    () => ['make', put('cut.json', job(() => {}).slice(0, 700)), '--out', 'o'],
    2,
    [/job\/malformed-json/, /cut\.json:\d+/],
  ],
  [
    'an unknown field',
    () => [
      'make',
      put(
        'f.json',
        job((j) => {
          j.fit.tightnes = 1;
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/f\.json:\d+/, /tightnes/],
  ],
  [
    'a length that is none',
    () => [
      'make',
      put(
        'l.json',
        job((j) => {
          j.boards[0].readings = ['17,7 mm'];
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/l\.json:\d+, boards\[0\]\.readings/, /17,7 mm/],
  ],
  [
    'no reading',
    () => [
      'make',
      put(
        'r.json',
        job((j) => {
          j.boards[0].readings = [];
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/r\.json:\d+, board sheet-1: there is no thickness reading/, /gauge\/no-readings/],
  ],
  [
    'a source that is not there',
    () => [
      'make',
      put(
        's.json',
        job((j) => {
          j.pieces[0].source = 'gone.json';
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/job\/source-missing/, /gone\.json/],
  ],
  [
    'two boards of one name',
    () => [
      'make',
      put(
        'b.json',
        job((j) => {
          j.boards[1].id = 'sheet-1';
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/job\/same-id/, /sheet-1/],
  ],
  [
    'a stock without a board',
    () => [
      'make',
      put(
        'n.json',
        job((j) => {
          j.boards.pop();
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/job\/no-board-for-stock/, /part BR/],
  ],
  [
    'an unknown post',
    () => [
      'make',
      put(
        'p.json',
        job((j) => {
          j.machine.post = 'nowhere';
        }),
      ),
      '--out',
      'o',
    ],
    2,
    [/post-processor 'nowhere' cannot be loaded/, /@haunch\/post-rs274ngc/],
  ],
  [
    'a part larger than every board',
    () => [
      'make',
      put(
        'big.json',
        job((j) => {
          j.boards[0].width = '1000 mm';
          j.boards[0].readings = ['17.7 mm'];
        }),
      ),
      '--out',
      'o',
    ],
    1,
    [/lay\//, /TOP/, /hint/],
  ],
  [
    'a cutter too large for a slot',
    () => [
      'make',
      put(
        'c.json',
        job((j) => {
          j.cutters[0].diameter = '20 mm';
        }),
      ),
      '--out',
      'o',
    ],
    1,
    [/cutter|router/i, /part \w+/, /hint/],
  ],
  [
    'no drill for small holes',
    () => [
      'make',
      put(
        'd.json',
        job((j) => {
          j.cutters.pop();
        }),
      ),
      '--out',
      'o',
    ],
    1,
    [/EL\.pa1/, /hint/],
  ],
  [
    'a thickness at which a part vanishes',
    () => ['refit', 'sideboard-18.master.json', '--thickness', '300mm', '--out', 'x.json'],
    1,
    [/refit\//, /part \w+/],
  ],
  [
    'a master with an open loop',
    () => [
      'read',
      put(
        'open.json',
        master((m) => {
          m.parts[0].outline.segments.pop();
        }),
      ),
    ],
    2,
    [/open\.json/, /EL/, /hint/],
  ],
  [
    'a master that names a mark it lacks',
    () => [
      'read',
      put(
        'mark.json',
        master((m) => {
          m.marks = m.marks.slice(1);
        }),
      ),
    ],
    2,
    [/X1060-ER/],
  ],
  [
    'a master that crosses itself',
    () => [
      'read',
      put(
        'cross.json',
        master((m) => {
          m.parts[4].outline.segments[0].to = [1002, 200];
        }),
      ),
    ],
    2,
    [/S2/],
  ],
  [
    'a truncated drawing',
    () => {
      haunch('refit', 'sideboard-18.master.json', '--thickness', '18mm', '--out', 'whole.dxf', '--replace');
      return ['read', put('half.dxf', readFileSync(join(folder, 'whole.dxf'), 'utf8').slice(0, 6000))];
    },
    2,
    [/read\//, /half\.dxf/],
  ],
  ['a drawing that is none', () => ['read', put('none.dxf', 'hello\nworld\n')], 2, [/none\.dxf/]],
  [
    'a bare drawing to refit',
    () => ['refit', put('bare.dxf', '0\nEOF\n'), '--thickness', '17mm', '--out', 'x.json'],
    2,
    [/job\/bare-drawing/],
  ],
  [
    'an ending that says nothing',
    () => ['refit', 'sideboard-18.master.json', '--thickness', '17mm', '--out', 'x.txt'],
    2,
    [/job\/output-kind/],
  ],
  ['no thickness at all', () => ['refit', 'sideboard-18.master.json', '--out', 'x.json'], 2, [/--thickness/]],
  [
    'a thickness in feet',
    () => ['refit', 'sideboard-18.master.json', '--thickness', '1ft', '--out', 'x.json'],
    2,
    [/1ft/],
  ],
  [
    'a part nobody knows',
    () => [
      'refit',
      'sideboard-18.master.json',
      '--thickness',
      '18mm',
      '--part',
      'XX=17mm',
      '--out',
      'x.json',
    ],
    2,
    [/job\/unknown-part/, /XX/],
  ],
  ['an unknown command', () => ['carve'], 2, [/carve/]],
  ['a folder for a file', () => ['read', '.'], 2, [/folder/]],
  [
    'a program that cuts something else',
    () => ['prove', put('other.ngc', 'G21 G90 G17\nG0 Z10\nM2\n'), '--against', 'job.json'],
    1,
    [/prove\/no-board-matches/],
  ],
  [
    'a program proved against nothing known',
    () => ['prove', put('p.ngc', 'G21\nM2\n'), '--against', 'p.ngc'],
    2,
    [/neither a job/],
  ],
];

describe('bad input', () => {
  it.each(CASES)(
    '%s',
    (_, args, code, says) => {
      const before = () => readdirSync(folder).filter((f) => !/\.(json|dxf|ngc)$/.test(f));
      const known = new Set(before());
      const run = haunch(...args());
      const said = run.stdout + run.stderr;
      expect(run.status, said).toBe(code);
      for (const s of says) expect(said).toMatch(s);
      expect(said).not.toMatch(/\n\s+at .*:\d+:\d+|fault inside/);
      expect(before().filter((f) => !known.has(f))).toEqual([]);
      expect(existsSync(join(folder, 'o'))).toBe(false);
      expect(existsSync(join(folder, 'x.json'))).toBe(false);
    },
    60_000,
  );

  it('never writes over what haunch did not write', async () => {
    mkdirSync(join(folder, 'mine', 'programs'), { recursive: true });
    writeFileSync(join(folder, 'mine', 'programs', 'sheet-1.ngc'), 'my own');
    const run = await runHaunch(folder, ['make', 'job.json', '--out', 'mine']);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/exists already/);
    expect(readFileSync(join(folder, 'mine', 'programs', 'sheet-1.ngc'), 'utf8')).toBe('my own');
    expect(readdirSync(join(folder, 'mine'))).toEqual(['programs']);
  }, 60_000);
});
