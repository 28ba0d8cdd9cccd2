import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readDayBook } from '@haunch/gauge';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runHaunch } from './haunch.js';
import { SIDEBOARD } from './sideboard.js';

let out: string;
const haunch = (...args: string[]) => runHaunch(out, args);
const job = (edit: (j: any) => void, name: string): void => {
  const j = JSON.parse(readFileSync(join(SIDEBOARD, 'job.json'), 'utf8'));
  edit(j);
  writeFileSync(join(out, name), JSON.stringify(j, null, 1));
};
const book = () => {
  const read = readDayBook(readFileSync(join(out, 'book.jsonl'), 'utf8'));
  if (!read.ok) throw new Error(read.diagnostics[0]?.message);
  return read.value.entries;
};

describe('a day in the shop', () => {
  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'haunch-day-'));
    copyFileSync(join(SIDEBOARD, 'sideboard-18.master.json'), join(out, 'sideboard-18.master.json'));
    job((j) => void delete j.ladder, 'job.json');
  });
  afterAll(() => rmSync(out, { recursive: true, force: true }));

  it('begins with the sheets: map, what to measure next, picture, day book', async () => {
    const run = await haunch('gauge', 'job.json', '--out', 'maps', '--book', 'book.jsonl');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toContain('three further readings that would help most');
    expect(readdirSync(join(out, 'maps')).sort()).toEqual([
      'off-cut-1-thickness.svg',
      'sheet-1-thickness.svg',
    ]);
    expect(book().map((e) => e.kind)).toEqual(['board', 'board']);
  });

  it('names readings of two boards that each go with what the book has of the other, and enters none', async () => {
    job((j) => {
      delete j.ladder;
      for (const r of j.boards[0].readings) r.thickness = '17.30 mm';
      j.boards[1].readings = ['17.7 mm'];
    }, 'swapped.json');
    const run = await haunch('gauge', 'swapped.json', '--book', 'book.jsonl');
    expect(run.status).toBe(2);
    expect(run.stderr).toContain('gauge/swapped-readings');
    expect(book()).toHaveLength(2);
  });

  it('stops a sheet at loading that is not the one in the book', async () => {
    expect((await haunch('gauge', 'job.json', '--board', 'sheet-1', '--load', '17.71mm')).status).toBe(0);
    const stop = await haunch('gauge', 'job.json', '--board', 'sheet-1', '--load', '18.2mm@1220,610');
    expect(stop.status).toBe(1);
    expect(stop.stderr).toContain('gauge/not-this-board');
  });

  it('cuts no joint before a ladder was tried', async () => {
    const run = await haunch('make', '--no-paper', 'job.json', '--out', 'made');
    expect(run.status).toBe(2);
    expect(run.stderr).toContain('job/no-ladder');
    expect(readdirSync(out)).not.toContain('made');
  });

  it('sees before any work that a folder cannot be written', async () => {
    const run = await haunch('make', '--no-paper', 'job.json', '--out', 'job.json/made');
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/cannot be written: .*job\.json is a file, not a folder/);
    expect(run.stderr).not.toContain('no-ladder');
  });

  it('ranks five ways of working by one command, the worst first', async () => {
    const run = await haunch('bench', 'ways', '--runs', '150');
    expect(run.status, run.stderr).toBe(0);
    const ways = run.stdout
      .split('\n')
      .map((l) => /^ +([a-e])\).* ([\d.]+) +([\d.]+) +(\d+) %$/.exec(l))
      .filter((m) => m !== null)
      .map((m) => ({ way: m[1], off: Number(m[2]) + Number(m[3]), right: Number(m[4]) }));
    expect(ways.map((w) => w.way).join('')).toBe('abcde');
    for (let i = 1; i < ways.length; i++) expect(ways[i]!.off).toBeLessThan(ways[i - 1]!.off);
    expect(ways[4]!.right).toBeGreaterThan(ways[3]!.right);
  });

  it('makes the ladder in the waste of the layout', async () => {
    const run = await haunch('ladder', 'job.json', '--out', 'ladder');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toMatch(/x4 +X +17\.80\d mm/);
    expect(readdirSync(join(out, 'ladder/ladder'))).toContain('sheet-1-ladder.ngc');
  });

  it('will not believe answers that contradict each other', async () => {
    const run = await haunch('ladder', 'job.json', '--felt', 'x5=mallet,x3=hand', '--out', 'felt.json');
    expect(run.status).toBe(1);
    expect(run.stderr).toContain('rung x3 is tighter than rung x5');
    expect(readdirSync(out)).not.toContain('felt.json');
  });

  it('types what was felt and measured, and enters both in the day book', async () => {
    const felt = ['--felt', 'x3=mallet,x4=hand,x7=rattles', '--slot', '19.94=19.95', '--peg', '19.94=19.93'];
    const run = await haunch(
      'ladder',
      'job.json',
      '--board',
      'sheet-1',
      ...felt,
      '--book',
      'book.jsonl',
      '--out',
      'felt.json',
    );
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toContain('by hand begins between 0.060 and 0.110 mm');
    expect(book().map((e) => e.kind)).toEqual(['board', 'board', 'ladder', 'cutter']);
  });

  it('makes the job by what the day book knows of the cutter, and enters nothing before it is cut', async () => {
    const run = await haunch('make', '--no-paper', 'felt.json', '--out', 'made', '--book', 'book.jsonl');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stderr).toContain('until its next ladder');
    expect(run.stderr).toContain('once it is: haunch book cut made --book book.jsonl');
    expect(book().map((e) => e.kind)).toEqual(['board', 'board', 'ladder', 'cutter']);
    const report = JSON.parse(readFileSync(join(out, 'made/report.json'), 'utf8'));
    expect(report.ladder).toContain('A ladder on sheet-1');
    expect(report.forecast.fits.length).toBe(report.joints.flatMap((j: any) => j.fits).length);
    expect(report.forecast.tight + report.forecast.wanted + report.forecast.slack).toBeCloseTo(
      report.forecast.fits.length,
      1,
    );
  });

  it('makes one lost part again from an off-cut that would do, and refuses one that would not, with the figure', async () => {
    job((j) => {
      j.ladder = JSON.parse(readFileSync(join(out, 'felt.json'), 'utf8')).ladder;
      for (const [i, t] of [17.3, 17.5].entries())
        j.boards.push({
          id: `piece-${i + 1}`,
          stock: 'off-cut-1',
          width: '1100 mm',
          height: '150 mm',
          readings: [`${t} mm`],
        });
    }, 'lost.json');
    const again = ['--part', 'BR', '--as-cut', 'made/report.json'];
    const run = await haunch('remake', 'lost.json', ...again, '--out', 'again');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toContain('BR again, from piece-1');
    expect(readdirSync(join(out, 'again')).sort()).toEqual([
      'BR-again.dxf',
      'BR-again.ngc',
      'BR-again.report.json',
      'BR-again.svg',
    ]);
    const refused = await haunch('remake', 'lost.json', ...again, '--board', 'piece-2', '--out', 'not');
    expect(refused.status).toBe(1);
    expect(refused.stderr).toContain('lay/remake-none');
    expect(refused.stderr).toMatch(/17\.500 mm thick where \S+ grips\) would have -0\.\d+ mm of clearance/);
    expect(readdirSync(out)).not.toContain('not');
  });

  it('asks for a new ladder once the cutter was ground', async () => {
    const line = JSON.stringify({
      v: 1,
      kind: 'cutter',
      when: '2026-11-25T12:00:00Z',
      cutter: 'router-6',
      grinding: 1,
      metres: 600,
      diameter: 5.9,
      u: 0.01,
    });
    writeFileSync(join(out, 'book-2.jsonl'), `${line}\n`);
    // 600 m since its one sighting at the start of this grinding is no time at all; 2,000 m is too much.
    writeFileSync(
      join(out, 'book-3.jsonl'),
      `${line}\n${JSON.stringify({ v: 1, kind: 'cut', when: '2026-11-25T13:00:00Z', job: 'x', board: 'y', cutter: 'router-6', metres: 2000 })}\n`,
    );
    const overdue = await haunch(
      'make',
      '--no-paper',
      'felt.json',
      '--out',
      'made-3',
      '--book',
      'book-3.jsonl',
    );
    expect(overdue.status).toBe(1);
    expect(overdue.stderr).toContain('gauge/ladder-due');
    expect(readdirSync(out)).not.toContain('made-3');
    // Ground since, by a book that knows no ladder of it: the ladder in the job is of its edge before.
    expect((await haunch('book', 'ground', 'router-6', '--book', 'book-4.jsonl')).status).toBe(0);
    const ground = await haunch(
      'make',
      '--no-paper',
      'felt.json',
      '--out',
      'made-4',
      '--book',
      'book-4.jsonl',
    );
    expect(ground.status).not.toBe(0);
    expect(ground.stderr).toContain('gauge/ladder-missing');
    expect(ground.stderr).toContain('ground or swapped');
    expect(readdirSync(out)).not.toContain('made-4');
  });

  it('proposes, and applies nothing', async () => {
    const before = readFileSync(join(out, 'felt.json'), 'utf8');
    const run = await haunch('gauge', 'felt.json', '--propose', '--book', 'book.jsonl');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toContain('proposals only');
    expect(readFileSync(join(out, 'felt.json'), 'utf8')).toBe(before);
  });
});
