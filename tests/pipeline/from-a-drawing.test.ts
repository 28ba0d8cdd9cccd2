import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { formatDxf, sheetOfParts } from '@haunch/drawing';
import { partsOfMaster, readMaster, refitMaster } from '@haunch/joinery';
import { type Master, MasterSchema } from '@haunch/model';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const RACK = join(ROOT, 'docs/examples/rack');
const SIDEBOARD = join(ROOT, 'docs/examples/sideboard/sideboard-18.master.json');
let out: string;
const haunch = (...args: string[]) => runHaunch(out, args);
const written = (name: string): string => readFileSync(join(out, name), 'utf8');

const sideboard = (): Master => {
  const read = readMaster(readFileSync(SIDEBOARD, 'utf8'), SIDEBOARD);
  if (!read.ok) throw new Error('the sideboard cannot be read');
  return read.value;
};

beforeAll(() => {
  out = mkdtempSync(join(tmpdir(), 'haunch-drawing-'));
  for (const name of ['rack.dxf', 'job.json']) copyFileSync(join(RACK, name), join(out, name));
});
afterAll(() => rmSync(out, { recursive: true, force: true }));

describe('the page docs/from-a-drawing.md', () => {
  const page = readFileSync(join(ROOT, 'docs/from-a-drawing.md'), 'utf8');
  const commands = [...page.matchAll(/```sh\n([\s\S]*?)```/g)]
    .flatMap(([, block]) => block!.trim().split('\n'))
    .map((line) => {
      const [, command, code] = /^haunch (.*?)(?: # exit code (\d))?$/.exec(line) ?? [];
      if (command === undefined) throw new Error(`not a command of ours: ${line}`);
      return { command, code: Number(code ?? 0) };
    });

  it('carries the rack from its drawing to a proved program, command by command', async () => {
    expect(commands.length).toBeGreaterThanOrEqual(9);
    for (const { command, code } of commands) {
      const run = await haunch(...command.split(' '));
      expect(run.status, `${command}\n${run.stderr}`).toBe(code);
    }
    for (const name of ['rack.piece-0.1.svg', 'rack.piece-0.2.svg', 'rack.svg'])
      expect(written(name), name).toMatch(/^<svg/);
    const master = MasterSchema.parse(JSON.parse(written('rack.master.json')));
    expect(master.found?.answers).toEqual({ 'piece-0': 1, 'up-0': 2 });
    expect(master.found?.follows).toEqual({ 'LOW.c1/e0': { L: -1 } });
    expect(JSON.parse(written('made/report.json')).pass).toBe(true);
  }, 240_000);

  it('names every kind of question that the command can ask', () => {
    for (const kind of ['piece-', 'stands-', 'holes-', 'loose-', 'up-', 'hold-', 'edge-'])
      expect(page).toContain(`| \`${kind}`);
  });
});

describe('haunch mates', () => {
  const ask = (...args: string[]) => haunch('mates', 'rack.dxf', '--thickness', '12mm', ...args);

  it('prints its questions with their choices and how to answer, and writes nothing while they are open', async () => {
    const run = await ask('--out', 'open.json');
    expect(run.status).toBe(1);
    expect(run.stdout).toMatch(/question piece-0: .*mirror image/);
    expect(run.stdout).toMatch(
      /\n {2}1\. L at X .*\n {2}2\. the mirror image of the first\n {2}answer with --answer piece-0=<number>/,
    );
    expect(run.stderr).toMatch(/mates\/needs-answer/);
    expect(existsSync(join(out, 'open.json'))).toBe(false);
  });

  it('prints the same as JSON', async () => {
    const asked = JSON.parse((await ask('--json')).stdout);
    expect([asked.format, asked.pass, asked.master, asked.questions.length]).toEqual([
      'haunch-mates',
      false,
      null,
      1,
    ]);
    const found = JSON.parse((await ask('--json', '--answer', 'piece-0=2')).stdout);
    expect(found.pass).toBe(true);
    expect(MasterSchema.parse(found.master).mates).toHaveLength(4);
    expect(found.questions.map((q: { id: string }) => q.id)).toContain('hold-LOW');
  });

  it('takes answers from a file, and those on the command line before them', async () => {
    writeFileSync(join(out, 'answers.json'), '{"piece-0": 1, "up-0": 2}');
    expect(
      (await ask('--answers', 'answers.json', '--answer', 'up-0=3', '--out', 'answered.json')).status,
    ).toBe(0);
    expect(JSON.parse(written('answered.json')).found.answers).toEqual({ 'piece-0': 1, 'up-0': 3 });
    expect((await ask('--answers', 'answered.json', '--out', 'again.json')).status).toBe(0);
    expect(written('again.json')).toBe(written('answered.json'));
  });

  it.each([
    [['--answer', 'piece-0'], 2, /not QUESTION=NUMBER/],
    [['--answer', 'piece-0=0'], 2, /not QUESTION=NUMBER/],
    [['--answer', 'piece-0=7'], 2, /answers\.piece-0.*choices 1 to 2/],
    [['--answer', 'piece-0=1', '--answer', 'what=1'], 2, /'what', which is not asked/],
    [['--answer', 'piece-0=1', '--follow', 'LOW.c1/e9=L'], 2, /no straight edge 'LOW.c1\/e9'/],
    [['--answer', 'piece-0=1', '--follow', 'LOW.c1/e0=X'], 2, /no part 'X'/],
    [['--follow', 'LOW.c1/e0'], 2, /is not EDGE=PART/],
    [['--follow', 'LOW.c1/e0=L:'], 2, /is not EDGE=PART/],
    [['--out', 'x.dxf'], 2, /ends in \.json/],
    [['--picture', 'x.png'], 2, /written as \.svg/],
    [['--answers', 'none.json'], 2, /no such file/],
    [['--answers', 'rack.dxf'], 2, /no answers can be read/],
  ] as const)('refuses %j with one sentence', async (args, code, sentence) => {
    const run = await ask(...args);
    expect(run.stderr).toMatch(sentence);
    expect(run.status).toBe(code);
    expect(run.stderr).not.toMatch(/ {4}at /);
  });

  it('overwrites nothing unless told to', async () => {
    const run = await ask('--answer', 'piece-0=1', '--out', 'answers.json');
    expect([run.status, run.stderr]).toEqual([2, expect.stringMatching(/--replace overwrites/)]);
  });
});

describe('haunch refit --with', () => {
  const drawn = (t: number): string => {
    const master = sideboard();
    const at = refitMaster(master, { thicknesses: Object.fromEntries(master.parts.map((p) => [p.id, t])) });
    if (!at.ok) throw new Error('the sideboard cannot be refitted');
    return formatDxf(sheetOfParts(partsOfMaster(at.value), { arrange: 'rows' }));
  };

  it('makes the third sideboard of two drawings, and one at a time of wrong asks is refused', async () => {
    writeFileSync(join(out, 'first.dxf'), drawn(18));
    writeFileSync(join(out, 'second.dxf'), drawn(17));
    const run = await haunch(
      'refit',
      'first.dxf',
      '--with',
      'second.dxf',
      '--to',
      '17.4mm',
      '--out',
      'third.dxf',
      '--json',
    );
    expect(run.status, run.stderr).toBe(0);
    expect(JSON.parse(run.stdout).learnt.parts).toHaveLength(11);
    // The drawing for 17.4 mm states it, and teaches nothing against itself.
    const again = await haunch(
      'refit',
      'third.dxf',
      '--with',
      'third.dxf',
      '--to',
      '16mm',
      '--out',
      'no.dxf',
    );
    expect([again.status, again.stderr]).toEqual([2, expect.stringMatching(/17\.4/)]);
    const wrong = (...args: string[]) =>
      haunch('refit', 'first.dxf', '--with', 'second.dxf', '--out', 'no.dxf', ...args);
    expect((await wrong()).stderr).toMatch(/give --to once/);
    expect((await wrong('--to', '17mm', '--from', '18mm')).stderr).toMatch(/--from twice/);
    expect((await wrong('--to', '17mm', '--features', 't.json')).stderr).toMatch(/needs no table/);
    expect(
      (await haunch('refit', SIDEBOARD, '--with', 'second.dxf', '--to', '17mm', '--out', 'no.json')).stderr,
    ).toMatch(/two drawings/);
    expect(existsSync(join(out, 'no.dxf'))).toBe(false);
  }, 60_000);
});

describe('a table of features', () => {
  it('is exported, corrected by hand by its ids, and given back', async () => {
    const args = ['refit', 'rack.dxf', '--from', '12mm'];
    expect((await haunch(...args, '--export-features', 'table.json')).status).toBe(0);
    const table = JSON.parse(written('table.json'));
    const slot = table.features.find((f: { kind: string }) => f.kind === 'slot');
    const at = async (id: string) =>
      JSON.parse(
        (await haunch(...args, '--to', '11.6mm', '--features', id, '--out', `${id}.dxf`, '--json')).stdout,
      ).moved;
    const before = await at('table.json');
    slot.follows = false;
    writeFileSync(join(out, 'corrected.json'), JSON.stringify(table));
    const after = await at('corrected.json');
    expect(after[slot.part]).toBeLessThan(before[slot.part]);
    slot.sides = [['L.c99/e0'], slot.sides[1]];
    writeFileSync(join(out, 'strange.json'), JSON.stringify(table));
    const refused = await haunch(...args, '--to', '11.6mm', '--features', 'strange.json', '--out', 'no.dxf');
    expect(refused.status).toBe(2);
    expect(refused.stderr).toMatch(/features\//);
  });
});

describe('haunch refit of a drawing alone', () => {
  it('writes nothing where nothing follows the thickness, and says of several parts that none was checked', async () => {
    const refit = (...args: string[]) => haunch('refit', 'rack.dxf', ...args);
    // The rack is for 12 mm: nothing in it is 3 mm wide, and of 6 mm only what may be two sheets.
    for (const [from, to] of [
      ['3mm', '3.2mm'],
      ['6mm', '5mm'],
    ] as const) {
      const run = await refit(
        '--from',
        from,
        '--to',
        to,
        '--out',
        'none.dxf',
        '--export-features',
        'none.json',
      );
      expect([run.status, run.stdout]).toEqual([2, '']);
      expect(run.stderr).toMatch(/^error: rack\.dxf: .*\[features\/nothing-follows\]/);
      expect(run.stderr).toMatch(/nothing was written\n$/);
      expect([existsSync(join(out, 'none.dxf')), existsSync(join(out, 'none.json'))]).toEqual([false, false]);
    }
    const done = await refit('--from', '12mm', '--to', '11.6mm', '--out', 'alone.dxf');
    expect(done.status, done.stderr).toBe(0);
    expect(done.stderr.match(/features\/parts-not-checked/g)).toHaveLength(1);
    expect(done.stderr).toMatch(/haunch mates/);
  });
});

describe('haunch dryfit', () => {
  it('says clearances, interference, and an order, together at another thickness and as cut', async () => {
    const run = await haunch('dryfit', SIDEBOARD, '--at', '17.4mm', '--clearance', '0.1mm');
    expect(run.status, run.stderr).toBe(0);
    expect(run.stdout).toMatch(/interference: 0\.0000 mm³/);
    expect(run.stdout).toMatch(/an order that works:\n {2}1\. Move/);
    const json = JSON.parse((await haunch('dryfit', SIDEBOARD, '--json')).stdout);
    expect([json.format, json.pass, json.joints.length]).toEqual(['haunch-dryfit', true, 23]);
  }, 60_000);

  it('refuses a piece that collides, naming the part, in words and as JSON', async () => {
    // The plinth's own edges follow marks; without any it may stand half a millimetre off.
    const bare = (key: string, value: unknown) => (key === 'on' ? undefined : value);
    const spoiled = JSON.parse(JSON.stringify(sideboard(), bare));
    spoiled.marks = [];
    spoiled.parts.find((p: { id: string }) => p.id === 'PL').frame.origin[2] += 0.5;
    writeFileSync(join(out, 'spoiled.json'), JSON.stringify(spoiled));
    const run = await haunch('dryfit', 'spoiled.json');
    expect([run.status, run.stderr]).toEqual([1, expect.stringMatching(/PL[\s\S]*it does not go together/)]);
    const json = JSON.parse((await haunch('dryfit', 'spoiled.json', '--json')).stdout);
    expect([json.pass, json.diagnostics.length > 0]).toEqual([false, true]);
    expect((await haunch('dryfit', 'nothing.json')).stderr).toMatch(/no such file/);
    expect((await haunch('dryfit', SIDEBOARD, '--at', '-3mm')).status).toBe(2);
  }, 60_000);
});
