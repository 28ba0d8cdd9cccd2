import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { layJob, loadPieces, readJob } from '@haunch/job';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

let home: string;
const lay = (...args: string[]) => runHaunch(home, ['lay', ...args]);
const there = (name: string): string => join(home, name);

describe('haunch lay', () => {
  beforeAll(() => {
    home = mkdtempSync(join(tmpdir(), 'haunch-lay-'));
    cpSync(join(ROOT, 'docs/examples/reading-stand'), home, { recursive: true });
  });
  afterAll(() => rmSync(home, { recursive: true, force: true }));

  it('writes a job whose layout is the one that it found, and nothing else of it changed', async () => {
    const run = await lay('job.json', '--out', 'laid.json', '--effort', '0.1');
    expect(run.status, run.stderr).toBe(0);
    const text = readFileSync(there('laid.json'), 'utf8');
    const [said, before] = [text, readFileSync(there('job.json'), 'utf8')].map((t) => JSON.parse(t));
    expect({ ...said, lay: before.lay }).toEqual(before.lay ? before : { ...before, lay: undefined });
    const source = (name: string) => (existsSync(there(name)) ? readFileSync(there(name)) : undefined);
    const job = readJob(text, 'laid.json', { source });
    if (!job.ok) throw new Error(job.diagnostics[0]?.message);
    const pieces = loadPieces(job.value, source);
    if (!pieces.ok) throw new Error(pieces.diagnostics[0]?.message);
    const laid = layJob(job.value, pieces.value);
    if (!laid.ok) throw new Error(laid.diagnostics[0]?.message);
    expect(laid.value.referee.valid).toBe(true);
    expect(laid.value.written).toEqual(said.lay.placements);
    // The last better one that it told of is what it wrote.
    expect(run.stderr).toMatch(/^ +1 {2}0\.\d{3} m² of the boards taken$/m);
  });

  it('refuses another folder, a file that is there and an effort that is none, and writes nothing', async () => {
    const before = readFileSync(there('laid.json'), 'utf8');
    for (const [args, why] of [
      [['--out', '../laid.json'], /must be in the folder of job\.json/],
      [['--out', 'laid.json'], /laid\.json is there; --replace/],
      [['--out', 'other.json', '--effort', 'much'], /'much' is no number above 0/],
    ] as const) {
      const run = await lay('job.json', ...args);
      expect(run.status, args.join(' ')).toBe(2);
      expect(run.stderr).toMatch(why);
    }
    expect(existsSync(there('other.json'))).toBe(false);
    expect(readFileSync(there('laid.json'), 'utf8')).toBe(before);
  });
});
