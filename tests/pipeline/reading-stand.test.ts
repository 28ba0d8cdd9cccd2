import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Report } from '@haunch/job';
import {
  defaultAllowances,
  dryAssemble,
  findJoints,
  formatMaster,
  readMaster,
  refitMaster,
} from '@haunch/joinery';
import { type Diagnostic, type Master, MasterSchema } from '@haunch/model';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { runHaunch } from './haunch.js';

const FOLDER = join(ROOT, 'docs/examples/reading-stand');
const text = readFileSync(join(FOLDER, 'reading-stand.master.json'), 'utf8');
const read = readMaster(text, 'reading-stand.master.json');
if (!read.ok) throw new Error(read.diagnostics[0]?.message);
const master = read.value;
/** Cosine and sine of the plates' angles with the base: whole numbers of a 7-24-25 and of a 3-4-5 triangle. */
const LEANS = { BACK: [0.28, 0.96], CARD: [0.6, 0.8] } as const;

type Loose<T> = T extends object ? { -readonly [K in keyof T]: Loose<T[K]> } : T;
const copied = (m: Master): Loose<Master> => JSON.parse(JSON.stringify(m)) as Loose<Master>;
const refitted = (thicknesses: Readonly<Record<string, number>>): Master => {
  const done = refitMaster(master, { thicknesses });
  if (!done.ok) throw new Error(done.diagnostics[0]?.message);
  return done.value;
};
const all = (t: number, more: Readonly<Record<string, number>> = {}) => ({
  ...Object.fromEntries(master.parts.map((p) => [p.id, t])),
  ...more,
});
const partOf = (m: Loose<Master>, id: string) => m.parts.find((p) => p.id === id)!;
const widthOf = (m: Master, id: string): number => {
  const ys = m.parts
    .flatMap((p) => p.through)
    .find((c) => c.id === id)!
    .loop.segments.map((s) => s.to[1]);
  return Math.max(...ys) - Math.min(...ys);
};

describe('the reading stand', () => {
  it('is what its generator writes', () => {
    const args = [join(FOLDER, 'make-master.mjs'), '--print'];
    expect(execFileSync(process.execPath, args, { encoding: 'utf8' })).toBe(text);
  });

  it.each([
    [all(18)],
    [all(17.4)],
    [all(18.7)],
    [all(17.4, { BASE: 15.1 })],
    [all(18.7, { BACK: 12.3, CARD: 9.2 })],
  ])('has slots of t2/sin θ + t1/tan θ after refitting, and goes together: case %#', (thicknesses) => {
    const there = refitted(thicknesses);
    const t: Readonly<Record<string, number>> = thicknesses;
    for (const [id, slots] of [
      ['BACK', ['BASE.b1', 'BASE.b2']],
      ['CARD', ['BASE.c1', 'BASE.c2']],
    ] as const) {
      const [cosine, sine] = LEANS[id];
      for (const slot of slots)
        expect(Math.abs(widthOf(there, slot) - (t[id]! + t.BASE! * cosine) / sine), slot).toBeLessThan(2e-4);
    }
    const found = findJoints(there, defaultAllowances('snug'));
    expect(found.diagnostics).toEqual([]);
    if (!found.ok) throw new Error('refused');
    const leaning = found.value.joints.flatMap((j) => j.fits).filter((f) => f.lean !== undefined);
    expect(leaning.map((f) => [f.contour, f.kind, f.walls.length])).toEqual([
      ['BASE.b1', 'thickness', 2],
      ['BASE.b2', 'thickness', 2],
      ['BASE.c1', 'thickness', 2],
      ['BASE.c2', 'thickness', 2],
    ]);
    const dry = dryAssemble(there);
    expect(dry.diagnostics).toEqual([]);
    expect(dry.ok && dry.value.interference.total).toBe(0);
  });

  it('comes back from other thicknesses as it was', () => {
    const back = refitMaster(refitted(all(18.7, { BASE: 15 })), { thicknesses: all(18) });
    if (!back.ok) throw new Error('refused');
    expect(refitted(all(18))).toEqual(master);
    const numbers = (v: unknown): number[] =>
      typeof v === 'number'
        ? [v]
        : v !== null && typeof v === 'object'
          ? Object.values(v).flatMap(numbers)
          : [];
    const [was, is] = [numbers(master), numbers(JSON.parse(formatMaster(back.value)))];
    expect(is).toHaveLength(was.length);
    for (const [i, v] of was.entries()) expect(Math.abs(is[i]! - v)).toBeLessThan(2.5e-4);
  });
});

describe('the reading stand from the command line', () => {
  let out: string;
  beforeAll(() => {
    out = mkdtempSync(join(tmpdir(), 'haunch-stand-'));
  });
  afterAll(() => rmSync(out, { recursive: true, force: true }));
  const haunch = (...args: string[]) => runHaunch(out, args);
  const jobFor = (name: string, source: Master, thickness: number): string => {
    const job = JSON.parse(readFileSync(join(FOLDER, 'job.json'), 'utf8')) as Record<string, unknown>;
    const [board] = job.boards as Record<string, unknown>[];
    writeFileSync(join(out, `${name}.master.json`), formatMaster(source));
    const changed = {
      ...job,
      pieces: [{ source: `${name}.master.json` }],
      boards: [{ ...board, readings: [`${thickness} mm`] }],
    };
    writeFileSync(join(out, `${name}.job.json`), JSON.stringify(changed));
    return `${name}.job.json`;
  };

  it.each([17.4, 18, 18.7])('is made and proved at %d mm, and goes together', async (t) => {
    const made = await haunch('make', '--no-paper', jobFor(`at-${t}`, master, t), '--out', `made-${t}`);
    expect(made.status, made.stderr).toBe(0);
    const report = JSON.parse(readFileSync(join(out, `made-${t}/report.json`), 'utf8')) as Report;
    expect(report.joints).toHaveLength(6);
    expect(report.joints.map((j) => j.verdict)).toEqual(Array(6).fill('as wanted'));
    // What the slot is cut to gives the clearance square to the leaning plate: (t2 + c + t1 cos θ) / sin θ.
    const fits = report.joints.flatMap((j) => j.fits).filter((f) => /BASE\.[bc]\d:thickness/.test(f.fit));
    expect(fits).toHaveLength(4);
    for (const f of fits) {
      const [cosine, sine] = LEANS[f.enteringPart as keyof typeof LEANS];
      expect(Math.abs(f.width! - (t + f.wanted + t * cosine) / sine), f.fit).toBeLessThan(0.002);
      expect(Math.abs(f.least! - f.wanted), f.fit).toBeLessThan(0.002);
    }
    const dry = await haunch('dryfit', join(FOLDER, 'reading-stand.master.json'), '--at', `${t}mm`);
    expect(dry.status, dry.stderr).toBe(0);
    expect(dry.stdout).toContain('interference: 0.0000 mm³');
  });

  it('is not made with a slot as if the back stood square: refused by name, nothing written', async () => {
    const square = copied(master);
    slotWidth(square, 'BASE.b1', 18);
    const made = await haunch(
      'make',
      '--no-paper',
      jobFor('square', square as Master, 18),
      '--out',
      'made-square',
    );
    expect(made.status).not.toBe(0);
    expect(made.stderr).toContain('[master/leaning-slot]');
    expect(made.stderr).toContain('BASE.b1');
    expect(existsSync(join(out, 'made-square/programs'))).toBe(false);
  });
});

/** Draws one slot of another width: its rear wall, on which no mark is any more. */
function slotWidth(m: Loose<Master>, id: string, width: number): void {
  const { loop } = partOf(m, 'BASE').through.find((c) => c.id === id)!;
  const rear = loop.start[1] + width;
  loop.segments[1]!.to[1] = rear;
  loop.segments[2]!.to[1] = rear;
  delete loop.segments[2]!.on;
}

/** Turns a plate about the line where its face n+ meets the plane of the base's lower face, marks and all. */
function turned(m: Loose<Master>, id: string, cosine: number): void {
  const sine = Math.sqrt(1 - cosine * cosine);
  const foot = partOf(m, 'BASE').through.find((c) => c.id === 'BASE.b1')!.loop.start[1];
  const constant = -sine * foot + cosine * 52;
  const { frame, thickness } = partOf(m, id);
  frame.v = [0, cosine, sine];
  frame.n = [0, -sine, cosine];
  frame.origin = [0, -sine * (constant - thickness), cosine * (constant - thickness)];
  for (const mark of m.marks.filter((k) => k.id === `${id}-rear`)) {
    mark.normal = [0, -sine, cosine];
    mark.constant = constant;
  }
}

describe('a spoiled reading stand is refused by name', () => {
  const spoiled = (spoil: (m: Loose<Master>) => void): Master => {
    const m = copied(master);
    spoil(m);
    return m as Master;
  };
  const errors = (list: readonly Diagnostic[]) => list.filter((d) => d.level === 'error');
  const dryErrors = (m: Master) => errors(dryAssemble(m, { order: false }).diagnostics);

  it.each([
    ['as if it stood square', 18],
    ['with the first term alone', 18 / 0.96],
    ['for 80° instead', 18 / Math.sin(1.3962634) + 18 / Math.tan(1.3962634)],
    ['0.1 mm too narrow', 23.9],
  ])(
    'one slot drawn %s: too narrow where joints are looked for, and where plates are put together',
    (_, width) => {
      const m = spoiled((x) => slotWidth(x, 'BASE.b2', width));
      const said = errors(findJoints(m, defaultAllowances('snug')).diagnostics);
      expect(said.map((d) => [d.code, d.locus.joint, d.locus.feature])).toEqual([
        ['master/leaning-slot', 'M-BASE-BACK', 'BASE.b2'],
      ]);
      expect(said[0]!.message).toContain("'BACK' passes at 73.74° and needs a slot 24 mm wide");
      expect(dryErrors(m).map((d) => [d.code, d.locus.feature])).toEqual([['dryfit/narrow', 'BASE.b2']]);
    },
  );

  it('one slot 0.1 mm too wide does not hide behind its twin', () => {
    const m = spoiled((x) => slotWidth(x, 'BASE.c2', 36.1));
    expect(dryErrors(m).map((d) => [d.code, d.locus.feature])).toEqual([['dryfit/loose', 'BASE.c2']]);
  });

  it('the back turned to another angle than its slots are drawn for', () => {
    const m = spoiled((x) => turned(x, 'BACK', Math.cos((70 * Math.PI) / 180)));
    const said = dryErrors(m).filter((d) => d.locus.joint === 'M-BASE-BACK');
    expect(said.map((d) => d.code)).toContain('dryfit/narrow');
  });

  it('the back turned without its marks: the file names the frame', () => {
    const m = spoiled((x) => {
      partOf(x, 'BACK').frame.n = [0, -0.9397, 0.342];
      partOf(x, 'BACK').frame.v = [0, 0.342, 0.9397];
    });
    expect(MasterSchema.safeParse(m).success).toBe(true);
    const said = errors(readMaster(JSON.stringify(m), 'turned.json').diagnostics);
    expect(said.length).toBeGreaterThan(0);
    expect(said.every((d) => d.code.startsWith('master/'))).toBe(true);
    expect(said.some((d) => d.message.includes('BACK') || d.locus.part === 'BACK')).toBe(true);
  });

  it('a left-handed frame that leans', () => {
    const m = spoiled((x) => {
      partOf(x, 'CARD').frame.n = [0, 0.8, -0.6];
    });
    const said = errors(readMaster(JSON.stringify(m), 'left.json').diagnostics);
    expect(said.map((d) => d.code)).toEqual(['master/frame']);
    expect(said[0]!.message).toContain('points against n');
  });

  it('the back cut unmirrored', () => {
    const m = spoiled((x) => {
      const back = partOf(x, 'BACK');
      for (const l of [back.outline, ...back.through.map((c) => c.loop)]) {
        l.start[0] = 420 - l.start[0];
        for (const s of l.segments) s.to[0] = 420 - s.to[0];
      }
    });
    const said = dryErrors(m);
    expect(said.map((d) => d.code)).toEqual(['dryfit/unmirrored']);
    expect(said[0]!.locus.part).toBe('BACK');
  });

  it('a rail whose fingers are too long: nothing bears at any of its three fingers', () => {
    const m = spoiled((x) => {
      for (const s of partOf(x, 'FRONT').outline.segments) if (s.to[1] === 52) s.to[1] = 51.6;
    });
    const loose = ['dryfit/loose', 'M-BASE-FRONT'];
    expect(dryErrors(m).map((d) => [d.code, d.locus.joint])).toEqual([loose, loose, loose]);
  });

  it('a lip whose fingers are too wide for the ledge', () => {
    const m = spoiled((x) => {
      for (const s of partOf(x, 'LIP').outline.segments) if (s.to[0] === 120) s.to[0] = 119.9;
    });
    expect(dryErrors(m).map((d) => [d.code, d.locus.joint])).toEqual([['dryfit/narrow', 'M-LEDGE-LIP']]);
  });
});
