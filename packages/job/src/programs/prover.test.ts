import { loadClip } from '@haunch/geometry';
import { type ProofTask, proveTask } from '@haunch/proof';
import { describe, expect, it } from 'vitest';
import { drawingsOf } from '../drawings.js';
import { type Draft, type Made, type MakeInput, makeJob } from '../make.js';
import { outputsOf } from '../outputs.js';
import type { Prover } from './prover.js';

const clip = await loadClip();

const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="160mm" height="90mm" viewBox="0 0 160 90">
<g fill="none" stroke="black"><rect x="0" y="0" width="160" height="90"/><rect x="40" y="40" width="70" height="18.1"/></g></svg>`;

/** Three plates, of which a board holds one. */
const job = (settings: Record<string, unknown> = {}): MakeInput => ({
  text: JSON.stringify({
    format: 'haunch-job',
    version: 1,
    title: 'three plates',
    pieces: [{ source: 'plate.svg', thickness: 18, count: 3 }],
    boards: ['sheet-1', 'sheet-2', 'sheet-3'].map((id) => ({
      id,
      width: 220,
      height: 150,
      readings: [18],
      grain: 'none',
    })),
    cutters: [{ id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.12, depthPerPass: 6.5 }],
    machine: {},
    ladder: { without: 'nothing is joined in it' },
    ...settings,
  }),
  file: 'job.json',
  source: (n) => (n === 'plate.svg' ? PLATE : undefined),
});

/** Proves as another thread does: what goes there and what comes back are copies. */
const elsewhere: Prover = async (task) => structuredClone(proveTask(structuredClone(task), clip));

const made = async (input: MakeInput): Promise<Made> => {
  const out = await makeJob(input);
  if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
  return out.value;
};
const filesOf = (m: Made): [string, string][] => [...outputsOf(m, clip).files];

describe('proofs made in another thread', () => {
  it('make the very same files, findings and parts as cut', async () => {
    const here = await made(job());
    const tasks: ProofTask[] = [];
    const there = await made({
      ...job(),
      prover: (task) => {
        tasks.push(task);
        return elsewhere(task);
      },
    });
    expect(here.pass).toBe(true);
    // Of three like boards one is proved here meanwhile, or none.
    expect(tasks.length).toBeGreaterThan(1);
    expect(filesOf(there)).toEqual(filesOf(here));
    expect(there.diagnostics).toEqual(here.diagnostics);
    expect(there.boards.map((b) => b.asCut)).toEqual(here.boards.map((b) => b.asCut));
    expect(there.joints).toEqual(here.joints);
  });

  it('refuse the same program with the same words', async () => {
    // A machine that cuts 2 mm a metre too long, and programs that do not make up for it.
    const low = {
      machine: {
        calibration: {
          lengths: ['x', 'y'].map((axis) => ({ kind: 'pitch', axis, cut: 600, measured: 601.2 })),
          programs: 'as it is',
        },
      },
    };
    const here = await made(job(low));
    expect(here.pass).toBe(false);
    expect(filesOf(await made({ ...job(low), prover: elsewhere }))).toEqual(filesOf(here));
  });

  it('are made in this thread where the other one dies', async () => {
    const dying: Prover = () => Promise.reject(new Error('the thread ended'));
    expect(filesOf(await made({ ...job(), prover: dying }))).toEqual(filesOf(await made(job())));
  });

  it('leave time to draw, and what was drawn then is not drawn again', async () => {
    let proved = 0;
    let draft: Draft | undefined;
    const m = await made({
      ...job(),
      prover: async (task) => {
        await new Promise((r) => setTimeout(r, 0));
        proved++;
        return elsewhere(task);
      },
      drafted: (d) => {
        expect(draft).toBeUndefined();
        expect(proved).toBeLessThan(3);
        draft = d;
      },
    });
    const drawn = drawingsOf(draft!, clip);
    expect([...outputsOf(m, clip, drawn).files]).toEqual(filesOf(m));
    const marked = { ...drawn, picture: `<!-- drawn before -->${drawn.picture}` };
    expect(outputsOf(m, clip, marked).files.get('report.html')).toContain('drawn before');
  });

  it('fail by the first board that fails, whichever is ready first', async () => {
    const waits: Record<string, number> = { 'sheet-1': 30, 'sheet-2': 0 };
    const failing: Prover = async ({ input }) => {
      await new Promise((r) => setTimeout(r, waits[input.board.id] ?? 0));
      return {
        ok: false,
        diagnostics: [
          { code: 'x', level: 'error', stage: 'prove', message: input.board.id, locus: {}, hint: '' },
        ],
      } as never;
    };
    expect(await makeJob({ ...job(), prover: failing })).toMatchObject({
      ok: false,
      diagnostics: [{ message: 'sheet-1' }],
    });
  });

  it('are waited for no longer when the work is stopped', async () => {
    let stopped = false;
    const never: Prover = () => new Promise(() => undefined);
    const out = await makeJob({
      ...job(),
      prover: never,
      progress: (stage) => {
        if (stage === 'prove') setTimeout(() => (stopped = true), 20);
      },
      stop: () => stopped,
    });
    expect(out).toMatchObject({ ok: false, diagnostics: [{ code: 'job/stopped' }] });
  });
});
