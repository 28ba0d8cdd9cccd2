import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Made, makeJob } from '@haunch/job';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const CLI = join(ROOT, 'apps/cli/dist/cli.js');
const TIME = 120_000;
const folder = mkdtempSync(join(tmpdir(), 'haunch-several-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const haunch = (...args: string[]) => runHaunch(folder, args);

describe('a machine without a changer, from the command line', () => {
  beforeAll(() => {
    expect(existsSync(CLI), 'build the command line first: npm run build').toBe(true);
    writeFileSync(
      join(folder, 'plate.svg'),
      `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="160mm" viewBox="0 0 240 160"><g fill="none" stroke="black">
<rect x="0" y="0" width="240" height="160"/><rect x="40" y="60" width="90" height="18.1"/><circle cx="20" cy="20" r="2.5"/></g></svg>`,
    );
    writeFileSync(
      join(folder, 'job.json'),
      JSON.stringify({
        format: 'haunch-job',
        version: 1,
        title: 'plate',
        pieces: [{ source: 'plate.svg', thickness: 18 }],
        boards: [{ id: 'sheet-1', width: 400, height: 300, readings: [18, 18, 18], grain: 'none' }],
        cutters: [
          { id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.12, depthPerPass: 6.5 },
          {
            id: 'drill-5',
            number: 2,
            kind: 'drill',
            diameter: 5,
            rpm: 4000,
            chipLoad: 0.1,
            depthPerPass: 6,
            fluteLength: 40,
          },
        ],
        machine: { changer: false },
        ladder: { without: 'nothing is joined in it' },
      }),
    );
  });
  const programs = ['made/programs/sheet-1.1-drill-5.ngc', 'made/programs/sheet-1.2-router-6.ngc'];

  it(
    'makes a program for each cutter, says what is set before each, and proves them again in sequence',
    async () => {
      const made = await haunch('make', '--no-paper', 'job.json', '--out', 'made');
      expect(made.status, made.stderr).toBe(0);
      expect(readdirSync(join(folder, 'made/programs')).sort()).toEqual(programs.map((p) => p.slice(14)));
      expect(made.stdout).toContain('put router-6 in and set Z0 again with it');
      const inHand = ['--in-hand', 'drill-5', '--in-hand', 'router-6'];
      const proved = await haunch('prove', ...programs, '--against', 'job.json', ...inHand, '--json');
      expect(proved.status, proved.stderr).toBe(0);
      expect(JSON.parse(proved.stdout)).toMatchObject({ format: 'haunch-proof', pass: true });
      const half = await haunch('prove', programs[1]!, '--against', 'job.json', '--in-hand', 'router-6');
      expect(half.status).toBe(1);
      expect(half.stdout).toMatch(/P09 fail/);
    },
    TIME,
  );

  it(
    'makes the same files to the byte where another thread proves',
    async () => {
      process.env.HAUNCH_THREADS = '2';
      try {
        const made = await haunch('make', '--no-paper', 'job.json', '--out', 'made-beside');
        expect(made.status, made.stderr).toBe(0);
      } finally {
        process.env.HAUNCH_THREADS = '1';
      }
      const files = readdirSync(join(folder, 'made'), { recursive: true, encoding: 'utf8' }).sort();
      expect(readdirSync(join(folder, 'made-beside'), { recursive: true, encoding: 'utf8' }).sort()).toEqual(
        files,
      );
      for (const f of files.filter((f) => /\.\w+$/.test(f)))
        expect(
          readFileSync(join(folder, 'made-beside', f)).equals(readFileSync(join(folder, 'made', f))),
          f,
        ).toBe(true);
    },
    TIME,
  );

  it(
    'asks what was in the machine, and refuses what cannot be run in sequence, in a sentence',
    async () => {
      const unknown = await haunch('prove', ...programs, '--against', 'job.json');
      expect(unknown.status).toBe(2);
      expect(unknown.stderr).toContain('job/cutter-in-hand');
      const twice = await haunch('prove', programs[0]!, programs[0]!, '--against', 'job.json');
      expect([twice.status, twice.stderr]).toEqual([
        2,
        'error: a program is named twice; each is run once\n',
      ]);
      const drawing = await haunch('prove', ...programs, '--against', 'made/layouts/sheet-1.dxf');
      expect(drawing.status).toBe(2);
      expect(drawing.stderr).toContain('against a job');
    },
    TIME,
  );

  it(
    'resumes from any step with a program of its own, and leaves what is there',
    async () => {
      const listed = await haunch('resume', 'job.json', '--board', 'sheet-1', '--list');
      expect(listed.status, listed.stderr).toBe(0);
      expect(listed.stdout).toMatch(/^program 2, line +\d+ {2}003 .*outside profile, router-6$/m);
      const rest = await haunch('resume', 'job.json', '--board', 'sheet-1', '--from', '3', '--out', 'made');
      expect(rest.status, rest.stderr).toBe(0);
      const text = readFileSync(join(folder, 'made/sheet-1.2-router-6-from-003.ngc'), 'utf8');
      expect(text).toMatch(/goes on at 003/);
      expect(readdirSync(join(folder, 'made/programs'))).toHaveLength(2);
      const again = await haunch('resume', 'job.json', '--board', 'sheet-1', '--from', '3', '--out', 'made');
      expect(again.status).toBe(2);
      expect(again.stderr).toContain('exists already');
      const nowhere = await haunch(
        'resume',
        'job.json',
        '--board',
        'sheet-1',
        '--from',
        '9',
        '--out',
        'made',
      );
      expect(nowhere.stderr).toMatch(/job\/no-re-entry/);
      expect(nowhere.status).toBe(2);
    },
    TIME,
  );
});

describe('waits for the plug', () => {
  const dir = join(ROOT, 'docs/examples/reading-stand');
  const made = async (pauses: boolean): Promise<Made> => {
    const job = JSON.parse(readFileSync(join(dir, 'job.json'), 'utf8'));
    job.pauses = { plug: pauses };
    const out = await makeJob({
      text: JSON.stringify(job),
      file: 'job.json',
      source: (name) => (existsSync(join(dir, name)) ? readFileSync(join(dir, name)) : undefined),
    });
    if (!out.ok) throw new Error(JSON.stringify(out.diagnostics, null, 1));
    return out.value;
  };

  it(
    'come after the first mortise of each clearance that is wanted, and are proved with the rest',
    async () => {
      const m = await made(true);
      expect(m.pass).toBe(true);
      const waits = m.boards.map((b) => b.program.text.match(/^M0 \(try the plug in .*$/gm) ?? []);
      expect(waits.flat().length).toBeGreaterThan(0);
      for (const [i, board] of m.boards.entries()) {
        const inner = new Set(
          board.items.flatMap(({ part }) => [...part.through, ...part.pockets].map((c) => c.id)),
        );
        const wanted = m.laid.fitted.joinery.joints.flatMap((j) =>
          j.fits.filter((f) => f.kind === 'thickness' && f.walls.length === 2 && inner.has(f.contour)),
        );
        expect(waits[i]).toHaveLength(new Set(wanted.map((f) => Math.round(f.wanted / 0.01))).size);
        const first = board.plan.workplan.steps.find((s) => wanted.some((f) => f.contour === s.feature));
        if (first) expect(waits[i]![0]).toContain(`try the plug in ${first.feature} `);
      }
      expect((await made(false)).boards.map((b) => b.program.text).join('')).not.toMatch(/^M0/m);
    },
    TIME,
  );
});
