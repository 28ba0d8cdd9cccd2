import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { formatDxf, sheetOfParts } from '@haunch/drawing';
import { rectangleRing } from '@haunch/geometry';
import { ProveResultSchema } from '@haunch/job';
import type { Contour, Part } from '@haunch/model';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const HAUNCH = join(ROOT, 'apps/cli/bin/haunch.mjs');

const contour = (id: string, ...box: readonly [number, number, number, number]): Contour => {
  const ring = rectangleRing(...box);
  return { id, ring, bare: ring, reliefs: [] };
};
/** A plate of 100 × 60 mm with an opening of 30 × 20 mm near one corner. */
const plate: Part = {
  kind: 'part',
  id: 'PLATE',
  name: 'plate',
  thickness: 18,
  grain: null,
  cutFace: 'n+',
  showFace: null,
  stock: null,
  outline: contour('PLATE', 0, 0, 100, 60),
  through: [contour('PLATE.c1', 10, 10, 40, 30)],
  pockets: [],
  holes: [],
  from: [],
};
/** Its program with a cutter of 6 mm, the plate's corner at (50, 50), Z zero on the bed; two tabs of 8 mm. */
const lines = [
  'G21 G90 G17 G94',
  'T1 M6',
  'S18000 M3',
  'G0 Z28',
  'G0 X63 Y63',
  'G1 Z-0.2 F500',
  'G1 X87 F3000',
  'G1 Y77',
  'G1 X63',
  'G1 Y72.4',
  'G1 X87',
  'G1 Y67.7',
  'G1 X63',
  'G1 Y77',
  'G1 Y63',
  'G0 Z28',
  'G0 X47 Y47',
  'G1 Z-0.2 F500',
  'G1 X93 F3000',
  'G1 Z3',
  'G1 X107',
  'G1 Z-0.2',
  'G1 X153',
  'G1 Y113',
  'G1 X107',
  'G1 Z3',
  'G1 X93',
  'G1 Z-0.2',
  'G1 X47',
  'G1 Y47',
  'G0 Z28',
  'M5',
  'M30',
];
const text = `${lines.join('\n')}\n`;

describe('haunch prove on a program that no job speaks of', () => {
  let out: string;
  const put = (name: string, content: string | Uint8Array): string => {
    writeFileSync(join(out, name), content);
    return name;
  };
  const haunch = (...args: string[]) => runHaunch(out, args);
  const proving = (program: string, ...more: string[]) => [
    'prove',
    program,
    '--against',
    'plate.dxf',
    '--cutter',
    '6mm',
    ...more,
  ];
  const prove = (...asked: Parameters<typeof proving>) => haunch(...proving(...asked));
  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'haunch-prove-'));
    put('plate.dxf', formatDxf(sheetOfParts([plate], { title: 'plate', placed: true })));
    put('plate.ngc', text);
  });
  afterAll(() => rmSync(out, { recursive: true, force: true }));

  it('finds the part, proves it, and writes its replay', async () => {
    const run = await prove('plate.ngc', '--replay', 'replay.html', '--json');
    expect(run.status, run.stderr + run.stdout).toBe(0);
    const proof = ProveResultSchema.parse(JSON.parse(run.stdout));
    expect(proof.pass).toBe(true);
    expect(proof.alignment!.layout).toEqual({ x: 50, y: 50, turnDegrees: 0 });
    const page = readFileSync(join(out, 'replay.html'), 'utf8');
    const data = JSON.parse(/<script type="application\/json" id="data">(.*?)<\/script>/s.exec(page)![1]!);
    expect(data.lines).toEqual(lines);
    expect(data.moves.length).toBeGreaterThan(20);
    // The part is drawn where it is cut.
    expect(data.outlines[0]).toMatchObject({ name: 'PLATE' });
    expect(data.outlines[0].path).toMatch(/^M50\.00 50\.00/);
    const again = await prove('plate.ngc', '--replay', 'replay.html');
    expect([again.status, again.stderr]).toEqual([2, expect.stringContaining('--replace')]);
    expect((await prove('plate.ngc', '--replay', 'replay.html', '--replace')).status).toBe(0);
  }, 120_000);

  it('prints where the part lies and which rules are not judged', async () => {
    const run = await prove('plate.ngc');
    expect(run.stdout).toContain('PROVED');
    expect(run.stdout).toContain('found at X 50.000 Y 50.000, turned 0°');
    expect(run.stdout).toMatch(/joints: unknown/);
  }, 60_000);

  it('refuses what is cut unmirrored, and names it', async () => {
    // The opening at the other end.
    const mirrored = lines.map((l) => l.replace(/X63\b/g, 'X113').replace(/X87\b/g, 'X137'));
    const run = await prove(put('mirrored.ngc', `${mirrored.join('\n')}\n`));
    expect(run.status).toBe(1);
    expect(run.stdout).toMatch(/P22 fail/);
    expect(run.stdout).toMatch(/part PLATE: PLATE is cut unmirrored/);
  }, 60_000);

  it('asks for the facts that it lacks', async () => {
    const bare = (...args: string[]) => haunch('prove', 'plate.ngc', ...args);
    expect(await bare('--against', 'plate.dxf')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/^error: plate\.ngc: .*T1.*no-cutter-size/m),
    });
    put('master.json', JSON.stringify({ format: 'haunch-master' }));
    expect((await bare('--against', 'master.json', '--cutter', '6mm')).stderr).toMatch(/master\.json/);
    const iso = text.replace('G21 ', 'G71 ');
    const run = await prove(put('plate.nc', iso));
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/plate\.nc:1: .*G71/);
    expect(run.stderr).toMatch(/job\/dialect-unsaid/);
    expect((await prove('plate.nc', '--dialect', 'iso6983')).status).toBe(0);
    expect((await prove('plate.nc', '--dialect', 'nonsense')).stderr).toMatch(
      /^error: --dialect: .*'nonsense' cannot be loaded/,
    );
    expect((await prove('plate.nc', '--dialect', 'iso6983,centres')).stderr).toMatch(/OPTION=VALUE/);
  }, 120_000);

  it.each<readonly [string, string | Uint8Array, RegExp, RegExp]>([
    [
      'is binary',
      Uint8Array.from([127, 69, 76, 70, 10, 1, 0, 3]),
      /:2: it is no text: byte 7.*not-text/,
      /^$/,
    ],
    [
      'is in another machine’s language',
      ['0 BEGIN PGM PLATE MM', '1 L Z+50 R0 FMAX M3', '2 L X+10 Y+10 F500', '3 END PGM PLATE MM'].join('\n'),
      /:1: 5 errors on 4 lines of the program .*does-not-read/,
      /^$/,
    ],
    ['is empty', '', /nc\/no-end/, /^$/],
    [
      'is cut off in mid-block',
      text.slice(0, text.lastIndexOf('G1 Y47') + 4),
      /^(?!error)/,
      /P01 fail.*\n.*line 30.*value is missing at the end/,
    ],
    ['says no unit', text.replace('G21 ', ''), /^(?!error)/, /P02 fail.*\n.*line 4: .*millimetres or inches/],
    [
      'holds an unknown code',
      text.replace('G1 X87', 'G187 G1 X87'),
      /^(?!error)/,
      /P01 fail.*\n.*line 7, part PLATE.*G187/,
    ],
    [
      'has an arc that misses its end',
      text.replace('G1 X153\n', 'G1 X143\nG3 X153 Y57.5 I0 J10\n'),
      /^(?!error)/,
      /P01 fail.*\n.*line 24, part PLATE.*radius/,
    ],
    [
      'has ten million blocks',
      `${text}${'\n'.repeat(10_000_000)}`,
      /it has 10000034 lines.*too-many-blocks/,
      /^$/,
    ],
  ])(
    'a program that %s is refused with its place, and soon',
    (_, content, error, said) => {
      // In a process of its own, which can be stopped: a hang would be an error here.
      const run = spawnSync(process.execPath, [HAUNCH, ...proving(put('bad.ngc', content))], {
        cwd: out,
        encoding: 'utf8',
        maxBuffer: 1 << 28,
        timeout: 120_000,
      });
      expect(run.error).toBeUndefined();
      expect(run.status, run.stderr + run.stdout).toBe(1);
      expect(run.stderr).toMatch(error);
      expect(run.stdout).toMatch(said);
      expect(run.stderr).not.toMatch(/ at .*\.js:|fault inside/);
      rmSync(join(out, 'bad.ngc'));
    },
    120_000,
  );

  it('writes no replay of a text that is no program', async () => {
    await prove(put('bad.ngc', 'nonsense\n'), '--replay', 'none.html');
    expect(existsSync(join(out, 'none.html'))).toBe(false);
  }, 60_000);
});
