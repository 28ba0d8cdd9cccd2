import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type MakeInput, makeJob, proveAgainstJob } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';

/** Two of the parts are enough. */
const texts = { FRONT: '', REAR: '', BACK: '', CARD: '', LEDGE: '', LIP: 'L-7' };

const FOLDER = join(ROOT, 'docs/examples/reading-stand');

/** The reading stand's job with a fine cutter that engraves `depth` mm deep; without tickets where the depth is left out. */
function engraved(depth?: number): MakeInput {
  const job = JSON.parse(readFileSync(join(FOLDER, 'job.json'), 'utf8'));
  const [router] = job.cutters;
  job.cutters.push({
    ...router,
    id: 'fine-1',
    number: 7,
    diameter: '1 mm',
    fluteLength: '8 mm',
    upCutLength: null,
    chipLoad: '0.03 mm',
    depthPerPass: '1 mm',
  });
  if (depth !== undefined) job.engraving = { cutter: 'fine-1', depth: `${depth} mm`, height: '6 mm', texts };
  return {
    text: JSON.stringify(job),
    file: 'job.json',
    // The stand's parts lie with their seen face up; here they are turned over, for the tickets.
    source: (name) =>
      name.endsWith('.master.json')
        ? readFileSync(join(FOLDER, name), 'utf8').replaceAll('"showFace": "n+"', '"showFace": "n-"')
        : undefined,
  };
}

describe('a skin instead of tabs, through the whole chain', () => {
  it('is proved; the same program is refused where the job asks for tabs', async () => {
    const withSkin = (skin: boolean): MakeInput => {
      const input = engraved();
      const job = JSON.parse(input.text);
      if (skin) job.holding = { ...job.holding, skin: { thickness: '0.5 mm' } };
      return { ...input, text: JSON.stringify(job) };
    };
    const made = await makeJob(withSkin(true));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const [board] = made.value.boards;
    expect(board!.proof.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
    expect(board!.plan.workplan.steps.filter((s) => s.frees && s.kind === 'outside profile')).toHaveLength(
      board!.items.length,
    );
    const program = { text: board!.program.text, file: 'sheet.ngc' };
    const proved = await proveAgainstJob(program, withSkin(false));
    if (!proved.ok) throw new Error(JSON.stringify(proved.diagnostics));
    const failed = proved.value.result.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);
    expect(failed).toContain('P11');
  }, 120_000);
});

describe('two zeros, through the whole chain', () => {
  it('cut tickets from the top and parts from the bed, and a machine with one zero must not run them', async () => {
    const withTwo = (two: boolean): MakeInput => {
      const input = engraved(0.4);
      const job = JSON.parse(input.text);
      if (two) job.machine = { ...job.machine, secondOffset: 2 };
      return { ...input, text: JSON.stringify(job) };
    };
    const made = await makeJob(withTwo(true));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const [board] = made.value.boards;
    expect(board!.proof.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
    const text = board!.program.text;
    expect(text).toMatch(/G55.*G54/s);
    const proved = await proveAgainstJob({ text, file: 'sheet.ngc' }, withTwo(false));
    expect(proved.ok && proved.value.result.pass).toBe(false);
  }, 120_000);
});

describe('tickets, through the whole chain', () => {
  it('are engraved and proved; deeper than declared, or not declared, they are refused as gouges', async () => {
    const made = await makeJob(engraved(0.4));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    expect(made.value.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
    const [board] = made.value.boards;
    const tickets = board!.plan.workplan.steps.filter((s) => s.kind === 'engraving');
    expect(tickets.length, JSON.stringify(made.diagnostics.map((d) => d.message))).toBeGreaterThan(0);
    const program = { text: board!.program.text, file: 'sheet.ngc' };
    const rulesAgainst = async (input: MakeInput) => {
      const proved = await proveAgainstJob(program, input);
      if (!proved.ok) throw new Error(JSON.stringify(proved.diagnostics));
      return proved.value.result.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule);
    };
    expect(await rulesAgainst(engraved(0.4))).toEqual([]);
    expect(await rulesAgainst(engraved(0.3))).toContain('P10');
    expect(await rulesAgainst(engraved())).toContain('P08');
  }, 120_000);
});
