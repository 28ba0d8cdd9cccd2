import { loadClip, ringSegments } from '@haunch/geometry';
import type { Fit } from '@haunch/model';
import { proveSequence } from '@haunch/proof';
import { describe, expect, it } from 'vitest';
import { type Made, type MakeInput, makeJob, postOf } from '../make.js';
import { outputsOf } from '../outputs.js';
import { POSTS } from '../posts.js';
import { proveAgainstJob } from '../prove-against.js';
import { inSequence } from './prove-programs.js';
import { listReEntries, resumeBoard } from './resume.js';
import { stayingProof } from './turn-over.js';
import { makeUnderSide } from './under-side.js';

/** A plate of 240 × 160 with a recess on its upper face, one on its under face, and an opening, off the middle. */
const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="160mm" viewBox="0 0 240 160">
<g fill="none" stroke="black"><rect x="0" y="0" width="240" height="160"/><rect x="150" y="100" width="60" height="40"/>
<g id="TOP8"><rect x="30" y="20" width="70" height="18.1"/></g><g id="UNDER6"><rect x="40" y="60" width="80" height="30"/></g></g>
</svg>`;

interface Draft {
  boards: [Record<string, unknown>];
  machine: Record<string, unknown>;
}
const PINS = {
  axis: 'y',
  pins: [
    [20, 270],
    [380, 270],
  ],
  diameter: 8,
};
const job = (edit: (j: Draft) => void = () => {}): MakeInput => {
  const j = {
    format: 'haunch-job',
    version: 1,
    title: 'both faces',
    pieces: [
      {
        source: 'plate.svg',
        thickness: 18,
        layers: { TOP8: { as: 'pocket', depth: 8 }, UNDER6: { as: 'pocket', depth: 6, under: true } },
      },
    ],
    boards: [{ id: 'sheet-1', width: 400, height: 300, readings: [18], grain: 'none', turnOver: PINS }],
    cutters: [{ id: 'router-6', number: 1, diameter: 6, rpm: 18000, chipLoad: 0.12, depthPerPass: 6.5 }],
    machine: {},
    ladder: { without: 'nothing is joined in it' },
  };
  edit(j as unknown as Draft);
  return {
    text: JSON.stringify(j, null, 1),
    file: 'job.json',
    source: (n) => (n === 'plate.svg' ? PLATE : undefined),
  };
};
const make = async (edit?: Parameters<typeof job>[0]): Promise<Made> => {
  const out = await makeJob(job(edit));
  if (!out.ok) throw new Error(JSON.stringify(out.diagnostics, null, 1));
  return out.value;
};
/** The job as it stands is made once for all tests. */
let plain: Promise<Made> | undefined;
const made = (edit?: Parameters<typeof job>[0]): Promise<Made> => {
  if (edit !== undefined) return make(edit);
  plain ??= make();
  return plain;
};

describe.each(['y', 'x'] as const)('a sheet that is turned over along %s', (axis) => {
  const turned = (j: Draft): void => {
    j.boards[0].turnOver =
      axis === 'y'
        ? PINS
        : {
            axis,
            pins: [
              [380, 20],
              [380, 280],
            ],
            diameter: 8,
          };
  };

  it('has both its sides proved, pin holes and recesses of the under face first, mirrored', async () => {
    const m = await made(turned);
    const [board] = m.boards;
    expect(board!.proof.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
    expect(m.pass).toBe(true);
    expect(board!.programs.map((p) => p.name)).toEqual(['sheet-1.under', 'sheet-1']);
    const under = board!.under!;
    expect(new Set(under.plan.workplan.steps.map((s) => s.kind))).toEqual(new Set(['hole', 'pocket']));
    expect(under.plan.workplan.steps.filter((s) => s.item.startsWith('pin-'))).toHaveLength(2);
    // Its recess lies where that of the layout does, seen through the sheet.
    const [laid] = m.laid.boards[0]!.items[0]!.part.pockets.filter((p) => p.depth === 6);
    const box = (vs: readonly { x: number; y: number }[]) => [
      Math.min(...vs.map((v) => v.x)),
      Math.max(...vs.map((v) => v.x)),
      Math.min(...vs.map((v) => v.y)),
      Math.max(...vs.map((v) => v.y)),
    ];
    const [x0, x1, y0, y1] = box(laid!.bare.vertices);
    const there = box(under.items.find((i) => !i.item.startsWith('pin'))!.part.pockets[0]!.bare.vertices);
    const wanted = axis === 'y' ? [400 - x1!, 400 - x0!, y0!, y1!] : [x0!, x1!, 300 - y1!, 300 - y0!];
    there.forEach((v, i) => {
      expect(v).toBeCloseTo(wanted[i]!, 6);
    });
  });

  it('says in both heads how the sheet lies and where the pins are', async () => {
    const m = await made(turned);
    const [first, second] = m.boards[0]!.programs;
    expect(first!.program.text).toContain('first side: the sheet lies with its cut faces down');
    expect(second!.program.text).toContain(
      `turn the sheet over about its middle line along ${axis.toUpperCase()}`,
    );
    const { report, files } = outputsOf(m);
    expect(report.boards[0]!.programs.map((p) => p.file)).toEqual([
      'programs/sheet-1.under.ngc',
      'programs/sheet-1.ngc',
    ]);
    expect(report.boards[0]!.steps.map((s) => s.program)).toContain(1);
    expect([...files.keys()]).toContain('layouts/sheet-1.under.order.svg');
  });
});

describe('the sides of a board that is turned over', () => {
  const programs = async () => (await made()).boards[0]!.programs.map((p) => p.program.text);

  it('are each found and proved from their text alone, and a spoiled first side is refused', async () => {
    const [first, second] = await programs();
    const judged = async (text: string) => {
      const out = await proveAgainstJob({ text, file: 'unknown.ngc' }, job());
      if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
      const { board, pass, rules } = out.value.result;
      return { board, pass, failed: rules.filter((r) => r.verdict === 'fail').map((r) => r.rule) };
    };
    expect(await judged(first!)).toEqual({ board: 'sheet-1.under', pass: true, failed: [] });
    expect(await judged(second!)).toEqual({ board: 'sheet-1', pass: true, failed: [] });
    const at = first!.indexOf('pocket)');
    const deep = first!.slice(0, at) + first!.slice(at).replaceAll('Z12', 'Z11.5');
    expect(await judged(deep)).toMatchObject({ board: 'sheet-1.under', pass: false });
  });

  it('can each be taken up again at any of their steps', async () => {
    for (const board of ['sheet-1.under', 'sheet-1']) {
      const listed = await listReEntries(job(), board);
      if (!listed.ok) throw new Error(JSON.stringify(listed.diagnostics));
      const last = listed.value.at(-1)!;
      const resumed = await resumeBoard(job(), { board, from: last.name });
      if (!resumed.ok) throw new Error(JSON.stringify(resumed.diagnostics));
      const { program, proof } = resumed.value;
      expect(program.steps).toEqual([last.step]);
      expect(proof.rules.filter((r) => r.verdict === 'fail')).toEqual([]);
      expect(program.program.text).toContain(
        board === 'sheet-1' ? 'still lies on its pins' : 'still lies with its cut faces down',
      );
    }
    const unknown = await listReEntries(job(), 'sheet-2');
    expect(unknown.diagnostics[0]!.code).toBe('job/board-not-cut');
    expect(`${unknown.diagnostics[0]!.message} ${unknown.diagnostics[0]!.hint}`).toContain('sheet-1.under');
  });
});

describe('a sheet that is turned over against stops', () => {
  const STOPS = {
    axis: 'y',
    stops: [
      [100, 0],
      [300, 0],
      [0, 150],
    ],
    diameter: 12,
  };
  const against =
    (edit: Partial<typeof STOPS> = {}) =>
    (j: Draft) => {
      j.boards[0].turnOver = { ...STOPS, ...edit };
    };

  it('has no pin holes, both sides proved, and heads that say what is measured', async () => {
    const m = await made(against());
    const [board] = m.boards;
    expect(m.pass).toBe(true);
    expect(board!.under!.plan.workplan.steps.map((s) => s.kind)).toEqual(['pocket']);
    const [first, second] = board!.programs.map((p) => p.program.text);
    expect(first).toContain('stops of 12 mm that touch it at');
    expect(first).not.toContain('pin');
    expect(second).toContain('measure the sheet along X first');
    expect(second).toContain('400 mm');
    for (const [text, name] of [
      [first, 'sheet-1.under'],
      [second, 'sheet-1'],
    ]) {
      const out = await proveAgainstJob({ text: text!, file: 'unknown.ngc' }, job(against()));
      if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
      expect(out.value.result).toMatchObject({ board: name, pass: true });
    }
  });

  it('is kept off its stops by every cutter', async () => {
    const [said] = (
      await makeJob(
        job((j) => {
          against()(j);
          j.boards[0].trims = [{ along: 'y', at: 300, waste: 'below' }];
        }),
      )
    ).diagnostics.filter((d) => d.level === 'error');
    expect(said).toMatchObject({ code: 'plan/in-keep-out', locus: { part: 'trim-1' } });
  });

  it.each([
    [
      'a stop that touches no edge',
      {
        stops: [
          [100, 5],
          [300, 0],
          [0, 150],
        ],
      },
      'job/stop-off-edge',
    ],
    [
      'stops on opposite edges',
      {
        stops: [
          [100, 0],
          [300, 0],
          [0, 150],
          [400, 150],
        ],
      },
      'job/stops-do-not-locate',
    ],
    [
      'two stops on the edge that changes sides alone',
      {
        stops: [
          [0, 100],
          [0, 200],
          [200, 0],
        ],
      },
      'job/stops-do-not-locate',
    ],
    ['pins and stops at once', { pins: PINS.pins }, 'job/value'],
  ])('is refused for %s', async (_, edit, code) => {
    const [said] = (await makeJob(job(against(edit as never)))).diagnostics.filter(
      (d) => d.level === 'error',
    );
    expect(said!.code).toBe(code);
    expect(said!.hint ?? said!.message).not.toBe('');
    expect(said!.locus.path).toMatch(/^boards\[0\]\.turnOver/);
  });
});

describe('the proof of a first side', () => {
  it.each([
    ['a recess that is too deep', 'Z12', 'Z11.5', 'P10'],
    ['a recess that lies aside', /Y(\d+)/g, (_: string, y: string) => `Y${+y + 1}`, 'P08'],
    ['a cut through the sheet', 'Z12', 'Z2', 'P10'],
  ] as const)('catches %s', async (_, from, to, rule) => {
    const m = await made();
    const { under } = m.boards[0]!;
    const [program] = under!.programs;
    const at = program!.program.text.indexOf('pocket)');
    const [head, tail] = [program!.program.text.slice(0, at), program!.program.text.slice(at)];
    const text =
      head +
      (typeof from === 'string' ? tail.replaceAll(from, to as string) : tail.replace(from, to as never));
    expect(text).not.toBe(program!.program.text);
    const proved = proveSequence({
      programs: [{ ...inSequence(program!), text }],
      board: under!.board,
      items: under!.items,
      joints: [],
      thicknesses: {},
      cutters: m.job.cutters,
      machine: m.job.machine,
      holding: m.job.holding,
      clip: await loadClip(),
    });
    if (!proved.ok) throw new Error('refused');
    const proof = stayingProof(proved.value.proof, under!);
    expect(proof.rules.filter((r) => r.verdict === 'fail').map((r) => r.rule)).toContain(rule);
    expect(proof.pass).toBe(false);
  });
});

it('takes no rule for kept that was not judged', async () => {
  const m = await made();
  const [board] = m.boards;
  const rules = board!.proof.rules.map((r) =>
    r.rule === 'P09' ? { ...r, verdict: 'not judged' as const, findings: [] } : r,
  );
  const kept = stayingProof({ ...board!.proof, rules }, board!);
  expect(kept.rules.find((r) => r.rule === 'P09')!.verdict).toBe('not judged');
});

it('judges a joint in a recess of the under face on the first side, under its part’s own name', async () => {
  const m = await made();
  const [whole] = m.laid.boards;
  const { part } = whole!.items[0]!;
  const pocket = part.pockets.find((p) => p.depth === 6)!;
  const sides = ringSegments(pocket.bare);
  const tags = sides.map((s) => s.tag!);
  const fit: Fit = {
    id: 'M:under:thickness',
    joint: 'M',
    kind: 'thickness',
    slotPart: part.id,
    contour: pocket.id,
    walls: [tags[0]!, tags[2]!],
    enteringPart: 'B',
    enteringEdges: [],
    wanted: 0.1,
    window: [0.05, 0.15],
  };
  const joints = [{ id: 'M', type: 'housing', slotPart: part.id, enteringPart: 'B', fits: [fit] }];
  // Its sides follow one another at right angles, so the second is as long as the first and third lie apart.
  const width = Math.hypot(sides[1]!.to.x - sides[1]!.from.x, sides[1]!.to.y - sides[1]!.from.y);
  const judged = async (thickness: number) => {
    const laid = {
      fitted: { ...m.laid.fitted, joinery: { joints, contacts: [] } },
      thicknesses: { ...m.laid.thicknesses, B: thickness },
    };
    const post = postOf(m.job, POSTS);
    if (!post.ok) throw new Error('no post');
    const side = makeUnderSide({ job: m.job, laid }, whole!, post.value, await loadClip());
    if (!side.ok) throw new Error(JSON.stringify(side.diagnostics));
    return side.value!.proof.joints[0]!;
  };
  const right = await judged(width - 0.1);
  expect(right).toMatchObject({ joint: 'M', slotPart: part.id, verdict: 'as wanted' });
  expect(right.clearance).toBeCloseTo(0.1, 3);
  expect((await judged(width)).verdict).toBe('tight');
});

describe('turning over is refused', () => {
  const codes = async (edit: (j: Draft) => void) =>
    (await makeJob(job(edit))).diagnostics.filter((d) => d.level === 'error');

  it('where no pins are declared, with the way out', async () => {
    const [said] = await codes((j) => {
      delete j.boards[0].turnOver;
    });
    expect(said).toMatchObject({ code: 'plan/needs-turn-over', locus: { board: 'sheet-1' } });
    expect(said!.hint).toContain('turnOver');
  });

  it('where a pin has no partner, or no place, on the line of the job', async () => {
    const [lonely] = await codes((j) => {
      j.boards[0].turnOver = {
        ...PINS,
        pins: [
          [20, 270],
          [370, 270],
        ],
      };
    });
    expect(lonely).toMatchObject({ code: 'job/pin-not-met', locus: { path: 'boards[0].turnOver.pins[0]' } });
    expect(lonely!.message).toContain('(380 mm, 270 mm)');
    const [off] = await codes((j) => {
      j.boards[0].turnOver = {
        ...PINS,
        pins: [
          [2, 270],
          [398, 270],
        ],
      };
    });
    expect(off).toMatchObject({ code: 'job/pin-off-board' });
  });

  it('not where nothing is cut on the under face: then no pin holes are bored', async () => {
    const input = job();
    const one = PLATE.replace('UNDER6', 'TOP8');
    const out = await makeJob({ ...input, source: (n) => (n === 'plate.svg' ? one : undefined) });
    if (!out.ok) throw new Error(JSON.stringify(out.diagnostics));
    expect(out.value.boards[0]!.programs.map((p) => p.name)).toEqual(['sheet-1']);
  });
});
