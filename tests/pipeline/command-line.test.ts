import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ProveResultSchema, ReadResultSchema, ReportSchema } from '@haunch/job';
import { MasterSchema } from '@haunch/model';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';
import { SIDEBOARD } from './sideboard.js';

const HAUNCH = join(ROOT, 'apps/cli/bin/haunch.mjs');
const MASTER = join(SIDEBOARD, 'sideboard-18.master.json');
const JOB = join(SIDEBOARD, 'job.json');
let out: string;
const haunch = (...args: string[]) =>
  spawnSync(process.execPath, [HAUNCH, ...args], {
    cwd: out,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    timeout: 120_000,
    env: { ...process.env, HAUNCH_THREADS: '2' },
  });

describe('the command line', () => {
  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'haunch-cli-'));
  });
  afterAll(() => rmSync(out, { recursive: true, force: true }));

  it('refits the demo to 17.4 mm as its truth file has it', () => {
    const run = haunch(
      'refit',
      MASTER,
      '--thickness',
      '17.4mm',
      '--clearance',
      '0mm',
      '--out',
      'refitted.json',
    );
    expect(run.status, run.stderr).toBe(0);
    const made = MasterSchema.parse(JSON.parse(readFileSync(join(out, 'refitted.json'), 'utf8')));
    const truth = MasterSchema.parse(
      JSON.parse(readFileSync(join(ROOT, 'tests/fixtures/sideboard/sideboard-17.4.truth.json'), 'utf8')),
    );
    const numbers = (v: unknown): number[] =>
      typeof v === 'number'
        ? [v]
        : v !== null && typeof v === 'object'
          ? Object.values(v).flatMap(numbers)
          : [];
    expect(made.parts).toHaveLength(11);
    for (const [i, p] of truth.parts.entries()) {
      const [a, b] = [numbers(made.parts[i]), numbers(p)];
      expect(a).toHaveLength(b.length);
      expect(Math.max(...a.map((n, k) => Math.abs(n - b[k]!))), p.id).toBeLessThanOrEqual(0.001);
    }
  });

  it('will not overwrite a file unless told to', () => {
    const again = haunch('refit', MASTER, '--thickness', '17mm', '--out', 'refitted.json');
    expect(again.status).toBe(2);
    expect(again.stderr).toMatch(/exists already; --replace/);
    expect(haunch('refit', MASTER, '--thickness', '17mm', '--out', 'refitted.json', '--replace').status).toBe(
      0,
    );
  });

  it('says what is in a master by its published schema', () => {
    const run = haunch('read', MASTER, '--json');
    const read = ReadResultSchema.parse(JSON.parse(run.stdout));
    expect(read.parts).toHaveLength(11);
    expect(read.mates).toHaveLength(23);
    expect(read.thickness.value).toBe(18);
  });

  it('makes, reports and proves by the published schemas, and leaves no temporary file', async () => {
    const made = haunch('make', JOB, '--out', 'made', '--json');
    expect(made.status, made.stderr).toBe(0);
    const report = ReportSchema.parse(JSON.parse(made.stdout));
    expect(report.pass).toBe(true);
    expect(readFileSync(join(out, 'made/report.json'), 'utf8')).toBe(made.stdout);
    expect(
      readdirSync(join(out, 'made'), { recursive: true }).filter((f) => String(f).endsWith('.part')),
    ).toEqual([]);

    expect(readdirSync(join(out, 'made/paper')).sort()).toEqual([
      'assembly.pdf',
      'cut-list.csv',
      'lists.json',
      'paper.json',
      'parts.csv',
      'parts.pdf',
      'quote.csv',
      'quote.pdf',
      'setup.pdf',
      'tickets.pdf',
      'unload.pdf',
    ]);

    const proved = haunch('prove', 'made/programs/sheet-1.ngc', '--against', JOB, '--json');
    expect(proved.status, proved.stderr).toBe(0);
    const proof = ProveResultSchema.parse(JSON.parse(proved.stdout));
    expect(proof.board).toBe('sheet-1');
    expect(proof.joints.length).toBeGreaterThanOrEqual(20);

    const drawn = await runHaunch(out, [
      'prove',
      'made/programs/sheet-1.ngc',
      '--against',
      'made/layouts/sheet-1.dxf',
      '--cutter',
      '1=5.97mm',
      '--cutter',
      '2=5mm',
      '--json',
    ]);
    expect(drawn.status, drawn.stderr).toBe(0);
    const alone = ProveResultSchema.parse(JSON.parse(drawn.stdout));
    expect(alone.pass).toBe(true);
    expect(alone.joints).toEqual([]);
    expect(alone.rules.filter((r) => r.verdict === 'not judged').map((r) => r.rule)).toEqual([
      'P05',
      'P07',
      'P13',
      'P14',
      'P16',
      'P18',
      'P19',
      'P20',
      'P21',
    ]);
  }, 240_000);

  it('removes what an earlier make wrote and this one does not, and touches nothing else', async () => {
    writeFileSync(join(out, 'made/programs/mine.ngc'), 'my own');
    const job = JSON.parse(readFileSync(JOB, 'utf8'));
    job.pieces[0].source = MASTER;
    job.boards[1].id = 'piece-of-oak';
    job.boards[1].stock = 'off-cut-1';
    const file = join(out, 'renamed.json');
    writeJob(file, job);
    const again = await runHaunch(out, ['make', file, '--out', 'made']);
    expect(again.status, again.stderr).toBe(0);
    expect(readdirSync(join(out, 'made/programs')).sort()).toEqual([
      'mine.ngc',
      'piece-of-oak.ngc',
      'sheet-1.ngc',
    ]);
  }, 120_000);

  it('writes an unproved program only when told to, and its first line says so', async () => {
    const job = JSON.parse(readFileSync(JOB, 'utf8'));
    job.pieces[0].source = MASTER;
    job.relief = { form: 'none' };
    const file = join(out, 'proud.json');
    writeJob(file, job);
    const refused = await runHaunch(out, ['make', file, '--out', 'proud']);
    expect(refused.status).toBe(1);
    expect(refused.stderr).toMatch(/write\/not-proved/);
    expect(readdirSync(out)).not.toContain('proud');
    const forced = await runHaunch(out, ['make', file, '--out', 'proud', '--unproved']);
    expect(forced.status).toBe(1);
    for (const name of ['sheet-1', 'off-cut-1'])
      expect(readFileSync(join(out, `proud/programs/${name}.ngc`), 'utf8').split('\n')[0]).toMatch(
        /^\(UNPROVED/,
      );
  }, 240_000);
});

function writeJob(file: string, job: unknown): void {
  writeFileSync(file, JSON.stringify(job));
}
