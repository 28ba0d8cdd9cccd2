import { describe, expect, it } from 'vitest';
import { type Made, type MakeInput, makeJob } from '../make.js';
import { makeLadder } from '../make-ladder.js';
import { outputsOf } from '../outputs.js';
import { replaySeveralHtml } from '../replay/replay-several.js';
import { ReportSchema } from '../report-schema.js';
import { proveSeveralAgainstJob } from './prove-several.js';
import { findReEntry, listReEntries, resumeBoard } from './resume.js';

/** A plate of 240 × 160 with a slot and four holes, in millimetres. */
const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="160mm" viewBox="0 0 240 160">
<g fill="none" stroke="black"><rect x="0" y="0" width="240" height="160"/><rect x="40" y="60" width="90" height="18.1"/>
${[20, 220].flatMap((x) => [20, 140].map((y) => `<circle cx="${x}" cy="${y}" r="2.5"/>`)).join('')}
</g></svg>`;

/** A job as it is written, as far as these tests change it. */
interface Draft {
  machine: Record<string, unknown>;
  boards: [Record<string, unknown>];
  [more: string]: unknown;
}

const job = (edit: (j: Draft) => void = () => {}): MakeInput => {
  const j: Draft = {
    format: 'haunch-job',
    version: 1,
    title: 'plate',
    pieces: [{ source: 'plate.svg', thickness: 18 }],
    boards: [{ id: 'sheet-1', width: 400, height: 300, readings: [18], grain: 'none' }],
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
  };
  edit(j);
  return {
    text: JSON.stringify(j, null, 1),
    file: 'job.json',
    source: (n) => (n === 'plate.svg' ? PLATE : undefined),
  };
};
const made = async (edit?: Parameters<typeof job>[0]): Promise<Made> => {
  const out = await makeJob(job(edit));
  if (!out.ok) throw new Error(JSON.stringify(out.diagnostics, null, 1));
  return out.value;
};
const withChanger = (j: Draft) => {
  j.machine.changer = true;
};
const failing = (m: { readonly proof: Made['boards'][number]['proof'] }): string[] =>
  m.proof.rules.filter((r) => r.verdict === 'fail').map((r) => `${r.rule} ${r.findings[0]?.message}`);

describe('a machine without a changer', () => {
  it('gets one program for each cutter, in order, none with a change, proved one after the other', async () => {
    const m = await made();
    const [board] = m.boards;
    expect(failing(board!)).toEqual([]);
    expect(m.pass).toBe(true);
    expect(board!.programs.map((p) => [p.name, p.cutter?.id])).toEqual([
      ['sheet-1.1-drill-5', 'drill-5'],
      ['sheet-1.2-router-6', 'router-6'],
    ]);
    for (const p of board!.programs) expect(p.program.text.replace(/\(.*\)/g, '')).not.toMatch(/M6|\bT\d/);
    expect(board!.programs.flatMap((p) => p.steps)).toEqual(board!.plan.workplan.steps.map((s) => s.id));
  });

  it('is told in every head what to put in and to set zero again, and so is the report', async () => {
    const m = await made();
    const [first, second] = m.boards[0]!.programs;
    expect(first!.program.text).toMatch(/\(program 1 of 2 for sheet-1: run them in this order\)/);
    expect(second!.program.text).toMatch(
      /\(put router-6 in and set Z0 again with it, on the bed under the sheet;/,
    );
    expect(second!.program.text.indexOf('set Z0 again')).toBeLessThan(second!.program.text.search(/^G0/m));
    const { report, files } = outputsOf(m);
    expect(ReportSchema.parse(report).boards[0]!.programs.map((p) => p.file)).toEqual([
      'programs/sheet-1.1-drill-5.ngc',
      'programs/sheet-1.2-router-6.ngc',
    ]);
    expect(report.boards[0]!.programs[1]!.setup.join(' ')).toContain('set Z0 again');
    expect([...files.keys()].filter((f) => /^(programs|replays)/.test(f)).sort()).toEqual([
      'programs/sheet-1.1-drill-5.ngc',
      'programs/sheet-1.2-router-6.ngc',
      'replays/sheet-1.1-drill-5.html',
      'replays/sheet-1.2-router-6.html',
    ]);
    expect(files.get('report.html')).toContain('set Z0 again with it');
  });

  it('has its texts proved from outside too, once it is said what cut them', async () => {
    const m = await made();
    const programs = m.boards[0]!.programs.map((p) => ({ text: p.program.text, file: p.name }));
    const pages: string[] = [];
    const prove = async (inHand: string[], some = programs) => {
      const out = await proveSeveralAgainstJob({ programs: some, inHand }, job());
      if (out.ok) pages.push(replaySeveralHtml({ title: 'both', ...out.value.scene }));
      return out.ok ? out.value.result : out.diagnostics[0]!.code;
    };
    expect(await prove(['drill-5', 'router-6'])).toMatchObject({ pass: true, board: 'sheet-1' });
    // One page replays both, each with the cutter that is in the machine for it.
    expect(pages[0]).toContain('-- sheet-1.1-drill-5');
    expect(pages[0]).toContain('-- sheet-1.2-router-6');
    // The router in place of the drill bores holes that are a millimetre too wide.
    const wrong = await prove(['router-6', 'router-6']);
    expect(wrong).toMatchObject({ pass: false });
    expect(typeof wrong !== 'string' && wrong.rules.find((r) => r.rule === 'P08')!.findings[0]!.program).toBe(
      'sheet-1.1-drill-5',
    );
    expect(await prove([])).toBe('job/cutter-in-hand');
    expect(await prove(['router-7'])).toBe('job/unknown-name');
    const half = await prove(['router-6'], programs.slice(1));
    expect(half).toMatchObject({ pass: false });
  });

  it('cuts its ladder too without a change of cutter', async () => {
    const out = await makeLadder(
      job((j) => {
        Object.assign(j.boards[0], { width: 800, height: 600 });
      }),
    );
    if (!out.ok) throw new Error(JSON.stringify(out.diagnostics, null, 1));
    expect(out.value.pass).toBe(true);
    const programs = [...out.value.files].filter(([name]) => name.endsWith('.ngc'));
    expect(programs.length).toBeGreaterThan(0);
    for (const [, text] of programs) expect(text).not.toContain('M6');
  });

  it('with a changer keeps one program', async () => {
    const m = await made(withChanger);
    expect(m.boards[0]!.programs.map((p) => p.name)).toEqual(['sheet-1']);
    expect(m.boards[0]!.program.text).toContain('T1 M6');
  });
});

describe('what is set before a start', () => {
  it('names the work offset, and the program works in it', async () => {
    const m = await made((j) => {
      withChanger(j);
      j.machine.workOffset = 3;
    });
    expect(failing(m.boards[0]!)).toEqual([]);
    const { text } = m.boards[0]!.program;
    expect(text).toContain('set in G56');
    expect(text.search(/^G56$/m)).toBeGreaterThan(0);
    expect(text.search(/^G56$/m)).toBeLessThan(text.search(/^G0 /m));
  });

  it('waits after every change to touch off where the machine does not know its cutters', async () => {
    const m = await made((j) => {
      withChanger(j);
      j.machine.toolLength = 'touched off';
    });
    expect(failing(m.boards[0]!)).toEqual([]);
    expect(m.boards[0]!.program.text).toMatch(
      /T1 M6 \(cutter router-6\)\nM0 \(set Z0 again with T1 router-6\)/,
    );
    expect(m.boards[0]!.program.text.match(/^M0/gm)).toHaveLength(1);
  });

  it('says where Z zero is', async () => {
    const m = await made((j) => {
      withChanger(j);
      j.machine.zZero = 'top';
    });
    expect(m.boards[0]!.program.text).toContain(
      "Z0 is the sheet's top; the machine knows the length of these cutters",
    );
  });
});

describe('resuming', () => {
  it.each([true, false])(
    'writes the rest from every re-entry point and proves it (changer: %s)',
    async (changer) => {
      const input = job((j) => {
        j.machine.changer = changer;
      });
      const entries = await listReEntries(input, 'sheet-1');
      if (!entries.ok) throw new Error('refused');
      expect(entries.value.map((e) => e.name.split(' ')[0])).toEqual([
        '001',
        '002',
        '003',
        '004',
        '005',
        '006',
      ]);
      for (const e of [entries.value[2]!, entries.value[4]!, entries.value[5]!]) {
        const out = await resumeBoard(input, { board: 'sheet-1', from: e.name });
        if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
        expect(failing(out.value)).toEqual([]);
        const { program, after } = out.value;
        expect(program.steps[0]).toBe(e.step);
        expect(program.program.text).toContain(`goes on at ${e.name}`);
        expect(after).toHaveLength(changer || e.program === 2 ? 0 : 1);
        expect(program.name).toMatch(/^sheet-1.*-from-\d\d\d$/);
      }
    },
    120_000,
  );

  it('judges the rest with what the new cutter cuts', async () => {
    const rest = async (diameter: number) => {
      const out = await resumeBoard(job(), { board: 'sheet-1', from: '5', diameter });
      if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
      return failing(out.value).join();
    };
    // A new cutter is seldom as thick as the old: edges follow it by a little, but not by as much as one sees.
    expect(await rest(5.94)).toBe('');
    expect(await rest(6.06)).toBe('');
    expect(await rest(5.8)).toContain('P09');
    expect(await rest(6.2)).toContain('P08');
  });

  it('refuses a point or a board that is not there, and a name that two points share', async () => {
    const code = async (board: string, from: string) =>
      (await resumeBoard(job(), { board, from })).diagnostics.at(-1)!;
    expect(await code('sheet-1', '77')).toMatchObject({ code: 'job/no-re-entry' });
    expect((await code('sheet-1', '77')).hint).toContain('001 ');
    expect((await code('sheet-9', '1')).code).toBe('job/board-not-cut');
    const entry = { step: 'b/001 A.h', kind: 'drilling', cutter: 'd', program: 1, line: 9 };
    const twice = [
      { ...entry, name: '001 A.h' },
      { ...entry, step: 'b/002 A.h', name: '002 A.h' },
    ];
    expect(findReEntry('b', twice, 'A.h').diagnostics[0]!.code).toBe('job/re-entry-twice');
    expect(findReEntry('b', twice, '2')).toMatchObject({ ok: true, value: { name: '002 A.h' } });
    expect(findReEntry('b', twice, 'b/001 A.h')).toMatchObject({ ok: true });
  });
});

describe('keep-outs of a board', () => {
  it('are screws and zones too, and are refused off the board with their place in the job', async () => {
    const m = await made((j) => {
      withChanger(j);
      j.boards[0].screws = [{ at: [12, 12], head: 8 }];
      j.boards[0].zones = [[380, 280, 400, 300]];
    });
    expect(m.boards[0]!.board.keepOuts).toHaveLength(2);
    const out = await makeJob(
      job((j) => {
        j.boards[0].screws = [{ at: [12, 12] }, { at: [500, 20] }];
      }),
    );
    expect(out.diagnostics.find((d) => d.level === 'error')).toMatchObject({
      code: 'job/keep-out-off-board',
      locus: { path: 'boards[0].screws[1]', file: 'job.json' },
    });
  });

  it('keep the hood off too', async () => {
    const hooded = (hoodRadius: number, placements = {}) =>
      makeJob(
        job((j) => {
          withChanger(j);
          j.lay = { edgeMargin: 12, placements };
          j.boards[0].zones = [[0, 0, 4, 4]];
          j.machine.hoodRadius = hoodRadius;
        }),
      );
    expect((await hooded(3)).ok).toBe(true);
    // The layout keeps the hood off too; where a part is laid by hand that is refused, by how much it is too near.
    expect((await hooded(60)).ok).toBe(true);
    const byHand = await hooded(60, { 'P-1': { board: 'sheet-1', at: [20, 20] } });
    const said = byHand.diagnostics.filter((d) => d.code === 'plan/in-keep-out').map((d) => d.message);
    const figures = said.map((m) => Number(/within ([\d.]+) mm/.exec(m)![1]));
    // Its corner is 16√2 mm from the pod's, and the cutter's middle 3 mm nearer.
    expect(Math.min(...figures)).toBeCloseTo(16 * Math.SQRT2 - 3, 0);
    expect(said[0]).toContain('the hood’s radius of 60 mm');
  });
});

it('vacuum and power of a job reach the plan’s checks, and impossible values are refused where they stand', async () => {
  const spindle = await makeJob(
    job((j) => {
      withChanger(j);
      j.machine.power = 20;
    }),
  );
  expect(spindle.diagnostics.map((d) => d.code)).toContain('plan/too-much-power');
  const weak = (vacuum?: object) =>
    makeJob(
      job((j) => {
        withChanger(j);
        j.holding = { tabWidth: 1, tabHeight: 1, ...(vacuum === undefined ? {} : { vacuum }) };
      }),
    );
  const loose = ['plan/would-come-loose', 'plan/weak-holding'];
  const said = async (vacuum?: object) => (await weak(vacuum)).diagnostics.map((d) => d.code);
  expect((await said()).some((c) => loose.includes(c))).toBe(true);
  expect((await said({ pressure: 60 })).some((c) => loose.includes(c))).toBe(false);
  // Where the bed does not suck under the part, vacuum is no help.
  expect((await said({ pressure: 60, areas: [[390, 290, 400, 300]] })).some((c) => loose.includes(c))).toBe(
    true,
  );
  const strong = await makeJob(
    job((j) => {
      j.holding = { vacuum: { pressure: 180 } };
    }),
  );
  expect(strong.diagnostics[0]).toMatchObject({
    code: 'job/value',
    locus: { path: 'holding.vacuum.pressure' },
  });
});

it('a pause for the plug is noted as missing where nothing is joined', async () => {
  const m = await makeJob(
    job((j) => {
      j.pauses = { plug: true };
    }),
  );
  expect(m.diagnostics.map((d) => d.code)).toContain('job/no-mortise-for-plug');
});
