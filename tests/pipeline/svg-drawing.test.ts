import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ReadResultSchema } from '@haunch/job';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runHaunch } from './haunch.js';
import { SIDEBOARD } from './sideboard.js';

let folder: string;
const haunch = (...args: string[]) => runHaunch(folder, args);

describe('an SVG on the command line', () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'haunch-svg-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const shelf = `<svg xmlns="http://www.w3.org/2000/svg" width="800mm" height="400mm" viewBox="0 0 800 400" fill="none" stroke="black">
<g id="shelf"><path d="M20 20H620V320H20Z"/><rect x="100" y="60" width="18" height="120"/><circle cx="400" cy="100" r="4"/></g>
</svg>
`;

  it('is read as a drawing: parts, cuts, holes, unit and the reason for it', async () => {
    writeFileSync(join(folder, 'shelf.svg'), shelf);
    const run = await haunch('read', 'shelf.svg', '--json', '--thickness', '18mm');
    expect(run.status, run.stderr).toBe(0);
    const read = ReadResultSchema.parse(JSON.parse(run.stdout));
    expect(read.kind).toBe('drawing');
    expect(read.units).toMatchObject({ name: 'mm', basis: 'header' });
    expect(read.units.reason).toMatch(/800 mm × 400 mm/);
    expect(read.parts).toHaveLength(1);
    const [part] = read.parts;
    expect([part!.outline.width, part!.outline.height, part!.thickness]).toEqual([600, 300, 18]);
    expect(part!.through.map((t) => [t.width, t.height])).toEqual([[18, 120]]);
    expect(part!.holes.map((h) => [h.x, h.y, h.diameter])).toEqual([[400, -100, 8]]);
  });

  it('refuses a broken file with its line, and says what a drawing may be', async () => {
    writeFileSync(join(folder, 'cut.svg'), shelf.slice(0, -30));
    const cut = await haunch('read', 'cut.svg');
    expect(cut.status).toBe(2);
    expect(cut.stderr).toMatch(/cut\.svg:\d+: .*\[read\/svg-truncated\]/);
    writeFileSync(join(folder, 'wrong.svg'), shelf.replace('H620', 'H'));
    const wrong = await haunch('read', 'wrong.svg');
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toMatch(/wrong\.svg:2: .*\[read\/path-data\]/);
    for (const run of [cut, wrong]) expect(run.stderr).not.toMatch(/\bat .*\.(?:js|ts):\d+/);
    writeFileSync(join(folder, 'shelf.png'), 'x');
    expect((await haunch('read', 'shelf.png')).stderr).toMatch(/\.dxf, \.svg/);
  });

  it('is a piece of a job like a DXF', async () => {
    const job = JSON.parse(readFileSync(join(SIDEBOARD, 'job.json'), 'utf8'));
    job.pieces = [{ source: 'shelf.svg', thickness: '18 mm' }];
    writeFileSync(join(folder, 'shelf.svg'), shelf);
    writeFileSync(join(folder, 'job.json'), JSON.stringify(job));
    const run = await haunch('make', '--no-paper', 'job.json', '--out', 'out');
    expect(run.status, run.stderr).toBe(0);
    const program = readFileSync(join(folder, 'out/programs/sheet-1.ngc'), 'utf8');
    expect(program).toMatch(/shelf/);
  });
});
