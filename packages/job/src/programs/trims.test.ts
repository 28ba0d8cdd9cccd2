import { describe, expect, it } from 'vitest';
import { type MakeInput, makeJob } from '../make.js';

const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="160mm" viewBox="0 0 240 160">
<g fill="none" stroke="black"><rect x="0" y="0" width="240" height="160"/></g></svg>`;

const job = (board: Record<string, unknown>, more: Record<string, unknown> = {}): MakeInput => ({
  text: JSON.stringify(
    {
      format: 'haunch-job',
      version: 1,
      title: 'trimmed',
      pieces: [{ source: 'plate.svg', thickness: 18 }],
      boards: [{ id: 'sheet-1', width: 600, height: 300, readings: [18], grain: 'none', ...board }],
      cutters: [{ id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.12, depthPerPass: 6.5 }],
      machine: {},
      ladder: { without: 'nothing is joined in it' },
      ...more,
    },
    null,
    1,
  ),
  file: 'job.json',
  source: (n) => (n === 'plate.svg' ? PLATE : undefined),
});

describe('a job that asks for a trimming cut', () => {
  it('has it planned last, named, and proved with everything else', async () => {
    const made = await makeJob(job({ trims: [{ along: 'y', at: '300 mm' }] }));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const [board] = made.value.boards;
    expect(board!.proof.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
    expect(made.value.pass).toBe(true);
    const last = board!.plan.workplan.steps.at(-1)!;
    expect(last).toMatchObject({ kind: 'trimming', item: 'trim-1' });
    expect(board!.programs[0]!.program.text).toContain('trim-1.cut trimming');
    expect(board!.programs[0]!.program.text).toContain('X303');
  });

  it('has its parts laid beside the cut', async () => {
    const made = await makeJob(job({ trims: [{ along: 'y', at: 100 }] }));
    if (!made.ok) throw new Error(JSON.stringify(made.diagnostics));
    const { vertices } = made.value.boards[0]!.items[0]!.part.outline.ring;
    // A cutter's kerf from 100 to 106, a web of 4, the kerf round the part.
    expect(Math.min(...vertices.map((v) => v.x))).toBeGreaterThanOrEqual(106 + 4 + 6);
    expect(made.value.pass).toBe(true);
  });

  it('is refused with the board, the cut and the ways out where a part was laid in its way', async () => {
    const placements = { 'P-1': { board: 'sheet-1', at: [20, 20] } };
    const out = await makeJob(job({ trims: [{ along: 'y', at: 100 }] }, { lay: { placements } }));
    expect(out.ok).toBe(false);
    const said = out.diagnostics.find((d) => d.level === 'error')!;
    expect(said).toMatchObject({ code: 'plan/trim-into-part', locus: { board: 'sheet-1', part: 'trim-1' } });
    expect(said.hint).toContain('waste');
  });
});
