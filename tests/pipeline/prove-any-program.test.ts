import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { loadClip, movePoint, type Point, STAY } from '@haunch/geometry';
import {
  commanded,
  findMasterFile,
  type Made,
  type MadeBoard,
  makeJob,
  meaningOf,
  outputsOf,
  type ProveFacts,
  type ProvenText,
  type ProveResult,
  proveAgainstDrawing,
  proveAgainstMaster,
  proveOnBoard,
} from '@haunch/job';
import type { Diagnostic, Move, Outcome, PostProcessor, Toolpath } from '@haunch/model';
import { writeProgram } from '@haunch/nc/write';
import { seededRandom } from '@haunch/nesting';
import { iso6983 } from '@haunch/post-iso6983';
import { linearWith } from '@haunch/post-linear';
import { rs274ngc } from '@haunch/post-rs274ngc';
import { MUTATION_KINDS, mutateProgram } from '@haunch/testkit';
import { beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { madeSideboard, SIDEBOARD } from './sideboard.js';

const POSTS = {
  'RS274/NGC': rs274ngc,
  'ISO 6983': iso6983,
  'straight moves in inches': linearWith({ unit: 'inch' }),
} as const satisfies Record<string, PostProcessor>;
const NAMES = Object.keys(POSTS) as readonly (keyof typeof POSTS)[];

/** Rules whose facts neither a master nor a drawing holds. */
const UNKNOWN = ['P05', 'P07', 'P14', 'P18', 'P19', 'P20'];
const failing = (p: Pick<ProveResult, 'rules'>): string[] =>
  p.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);
const known = (p: Pick<ProveResult, 'rules'>): string[] => failing(p).filter((r) => !UNKNOWN.includes(r));

/** All of a toolpath turned by quarters about the origin, then moved: another corner taken for zero. */
function elsewhere(t: Toolpath, quarters: number, dx: number, dy: number): Toolpath {
  const motion = { ...STAY, turn: (quarters * Math.PI) / 2, dx, dy };
  const at = <P extends Point>(p: P): P => ({ ...p, ...movePoint(motion, p) });
  return {
    ...t,
    moves: t.moves.map((m): Move => {
      if (m.kind === 'circular') return { ...m, to: at(m.to), centre: at(m.centre) };
      return m.kind === 'rapid' || m.kind === 'linear' ? { ...m, to: at(m.to) } : m;
    }),
  };
}

describe('programs of the sideboard, proved against no job', () => {
  let made: Made;
  let sheet: MadeBoard;
  let offCut: MadeBoard;
  let files: ReadonlyMap<string, string>;
  const master = {
    content: readFileSync(join(SIDEBOARD, 'sideboard-18.master.json'), 'utf8'),
    file: 'sideboard-18.master.json',
  };
  beforeAll(async () => {
    made = await madeSideboard();
    sheet = made.boards.find((b) => b.items.length > 1)!;
    offCut = made.boards.find((b) => b.items.length === 1)!;
    files = outputsOf(made).files;
  }, 240_000);

  const facts = (more: Partial<ProveFacts> = {}): ProveFacts => ({
    cutters: new Map<number | 'any', number>(made.job.cutters.map((c) => [c.number, c.diameter])),
    thickness: 17.7,
    partThickness: { BR: 17.3 },
    zZero: 'bed',
    ...more,
  });
  const written = (b: MadeBoard, name: keyof typeof POSTS, path = commanded(made.job, b.plan)): string => {
    const program = writeProgram(path, POSTS[name], { title: 'elsewhere' });
    if (!program.ok) throw new Error(JSON.stringify(program.diagnostics));
    return program.value.text;
  };
  const dialect = (name: keyof typeof POSTS) => ({ dialect: { name, ...meaningOf(POSTS[name]) } });
  const layoutOf = (b: MadeBoard) => ({
    content: files.get(`layouts/${b.board.id}.dxf`)!,
    file: `${b.board.id}.dxf`,
  });
  const resultOf = (out: Outcome<ProvenText>): ProveResult => {
    if (!out.ok) throw new Error(out.diagnostics.map((d) => `${d.code} ${d.message}`).join('\n'));
    return out.value.result;
  };
  const errorOf = (out: Outcome<ProvenText>): Diagnostic => {
    expect(out.ok).toBe(false);
    return out.diagnostics.find((d) => d.level === 'error')!;
  };

  it('finds all parts of the sheet by the master alone, and judges its joints as the job does', async () => {
    const program = { text: written(sheet, 'RS274/NGC'), file: 'sheet.ngc' };
    const proof = resultOf(await proveAgainstMaster(program, master, facts(dialect('RS274/NGC'))));
    expect(failing(proof)).toEqual([]);
    expect(proof.pass).toBe(true);
    expect(proof.alignment!.lacking).toEqual(['BR']);
    expect(proof.alignment!.parts.map((p) => p.part).sort()).toEqual(sheet.items.map((i) => i.item).sort());
    expect(proof.alignment!.parts.filter((p) => p.mirrored || p.by !== 'piece')).toEqual([]);
    for (const { item, part } of sheet.items) {
      const f = proof.alignment!.parts.find((p) => p.part === item)!;
      expect(f, item).toBeDefined();
      expect(part.id).toBe(f.part);
    }
    const verdicts = (joints: readonly { readonly joint: string; readonly verdict: string }[]) =>
      joints.map((j) => [j.joint, j.verdict]);
    expect(verdicts(proof.joints)).toEqual(verdicts(sheet.proof.joints));
  }, 300_000);

  it('finds the layout of its drawing under another origin and turned by a quarter', async () => {
    const path = elsewhere(commanded(made.job, sheet.plan), 1, 1400.5, -30.25);
    const program = { text: written(sheet, 'ISO 6983', path), file: 'sheet.nc' };
    const proof = resultOf(await proveAgainstDrawing(program, layoutOf(sheet), facts(dialect('ISO 6983'))));
    expect(failing(proof)).toEqual([]);
    expect(proof.alignment!.layout!.turnDegrees).toBe(90);
    expect(Math.abs(proof.alignment!.layout!.x - 1400.5)).toBeLessThan(0.001);
    expect(Math.abs(proof.alignment!.layout!.y + 30.25)).toBeLessThan(0.001);
    expect(proof.alignment!.lacking).toEqual([]);
    // Which part enters which slot is not in a drawing.
    expect(proof.joints).toEqual([]);
    expect(proof.rules.find((r) => r.rule === 'P16')!.verdict).toBe('not judged');
  }, 300_000);

  it.each(NAMES)(
    'in %s the off-cut is proved by master and by drawing, anyhow laid',
    async (name) => {
      for (const [quarters, dx, dy] of [
        [0, 0, 0],
        [3, -200, 1500.125],
      ] as const) {
        const path = elsewhere(commanded(made.job, offCut.plan), quarters, dx, dy);
        const program = { text: written(offCut, name, path), file: 'off-cut.nc' };
        const f = facts(dialect(name));
        const byMaster = resultOf(await proveAgainstMaster(program, master, f));
        const byDrawing = resultOf(
          await proveAgainstDrawing(program, layoutOf(offCut), { ...f, thickness: 17.3 }),
        );
        expect([failing(byMaster), failing(byDrawing)]).toEqual([[], []]);
        expect(byMaster.alignment!.parts.map((p) => p.part)).toEqual(['BR']);
      }
    },
    300_000,
  );

  it('gives the verdict of the job’s own proof on a text with one word mutated', async () => {
    const clip = await loadClip();
    const text = written(offCut, 'RS274/NGC');
    const f = facts(dialect('RS274/NGC'));
    const random = seededRandom(20_261_126);
    let refused = 0;
    for (const kind of MUTATION_KINDS)
      for (let k = 0; k < 2; k++) {
        const m = mutateProgram(text, kind, random);
        if (m === null) continue;
        const own = proveOnBoard(made, offCut, { text: m.text }, clip);
        const program = { text: m.text, file: 'off-cut.ngc' };
        const found = await proveAgainstDrawing(program, layoutOf(offCut), { ...f, thickness: 17.3 });
        const wrong = !own.ok || known(own.value.proof as unknown as ProveResult).length > 0;
        if (wrong) refused++;
        const what = `${m.kind}, line ${m.line}: ${m.was} -> ${m.now}`;
        expect(!found.ok || !found.value.result.pass, what).toBe(wrong);
      }
    expect(refused).toBeGreaterThan(4);
  }, 300_000);

  it('refuses a part whose outline has moved, and does not call it another part', async () => {
    const text = written(offCut, 'RS274/NGC');
    const f = facts(dialect('RS274/NGC'));
    // The far end 0.3 mm too far, on every pass: the greatest X of the text.
    const xs = [...text.matchAll(/X(-?[\d.]+)/g)].map((m) => Number(m[1]));
    const most = Math.max(...xs);
    const moved = text.replaceAll(`X${most}`, `X${Math.round((most + 0.3) * 1e4) / 1e4}`);
    const proof = resultOf(await proveAgainstMaster({ text: moved, file: 'moved.ngc' }, master, f));
    expect(proof.alignment!.parts.map((p) => p.part)).toEqual(['BR']);
    expect(failing(proof)).toContain('P09');
    const { findings } = proof.rules.find((r) => r.rule === 'P09')!;
    expect(findings.some((x) => Math.abs((x.amount ?? 0) - 0.3) < 0.01)).toBe(true);
  }, 120_000);

  it('says what it needs, and where', async () => {
    const program = { text: written(offCut, 'ISO 6983'), file: 'off-cut.nc' };
    const { thickness: _, ...none } = facts();
    expect(errorOf(await proveAgainstMaster(program, master, none))).toMatchObject({
      code: 'job/no-sheet-thickness',
      locus: { file: master.file },
    });
    const unsaid = await proveAgainstMaster(program, master, facts());
    expect(unsaid.diagnostics.map((d) => d.code)).toContain('job/dialect-unsaid');
    expect(unsaid.diagnostics.find((d) => d.code === 'job/dialect-unsaid')!.locus).toMatchObject({
      file: 'off-cut.nc',
      line: 1,
    });
    expect(unsaid.diagnostics.find((d) => d.code === 'job/dialect-unsaid')!.hint).toContain('iso6983');
    const said = facts(dialect('ISO 6983'));
    expect(errorOf(await proveAgainstMaster(program, master, { ...said, cutters: new Map() }))).toMatchObject(
      {
        code: 'job/no-cutter-size',
        locus: { file: 'off-cut.nc' },
      },
    );
    expect(
      errorOf(await proveAgainstMaster(program, master, { ...said, partThickness: { XX: 17 } })).code,
    ).toBe('job/unknown-part');
    // Ten plates that go together in several ways: the drawing does not say in which.
    const open = await proveAgainstDrawing(program, layoutOf(sheet), said, 'found');
    expect(open.diagnostics.map((d) => d.code)).toContain('job/mates-open');
    // A drawing of other parts.
    expect(errorOf(await proveAgainstDrawing(program, layoutOf(sheet), said)).code).toBe(
      'prove/nothing-found',
    );
  }, 120_000);

  it('judges joints of a drawing when a master gives the mates, and asks when none can be found', async () => {
    const program = { text: written(offCut, 'RS274/NGC'), file: 'off-cut.ngc' };
    const f = facts(dialect('RS274/NGC'));
    const proof = resultOf(await proveAgainstDrawing(program, layoutOf(offCut), f, master));
    expect(failing(proof)).toEqual([]);
    expect(proof.joints.map((j) => j.joint)).toEqual(offCut.proof.joints.map((j) => j.joint));
    // One part alone meets nothing.
    expect((await proveAgainstDrawing(program, layoutOf(offCut), f, 'found')).ok).toBe(false);
  }, 120_000);
});

describe('a rack whose mates are found in its drawing', () => {
  it('has its joints judged, for a piece and its mirror image have the same', async () => {
    const folder = join(ROOT, 'docs/examples/rack');
    const drawing = { content: readFileSync(join(folder, 'rack.dxf'), 'utf8'), file: 'rack.dxf' };
    const found = findMasterFile({
      ...drawing,
      answers: { 'piece-0': 1 },
      follows: {},
      read: { thickness: 12 },
    });
    if (!found.ok || found.value.text === null) throw new Error(found.diagnostics[0]?.message);
    const master = found.value.text;
    const made = await makeJob({
      text: readFileSync(join(folder, 'job.json'), 'utf8'),
      file: 'job.json',
      source: (name) => (name === 'rack.master.json' ? master : undefined),
    });
    if (!made.ok) throw new Error(made.diagnostics[0]?.message);
    const [board] = made.value.boards;
    const layout = { content: outputsOf(made.value).files.get('layouts/sheet-1.dxf')!, file: 'sheet-1.dxf' };
    const facts = {
      cutters: new Map<number | 'any', number>(made.value.job.cutters.map((c) => [c.number, c.diameter])),
      zZero: 'bed' as const,
    };
    const program = { text: board!.program.text, file: 'sheet-1.ngc' };
    const out = await proveAgainstDrawing(program, layout, facts, 'found');
    if (!out.ok) throw new Error(out.diagnostics.map((d) => `${d.code} ${d.message}`).join('\n'));
    const { result } = out.value;
    expect(failing(result)).toEqual([]);
    expect(result.joints.length).toBe(made.value.joints.length);
    expect(result.joints.filter((j) => j.verdict !== 'as wanted')).toEqual([]);
  }, 200_000);
});
