import { ringBounds } from '@haunch/geometry';
import type { Made } from '@haunch/job';
import { makeJob, makeLadder } from '@haunch/job';
import { describe, expect, it } from 'vitest';
import { madeSideboard, sideboardJob } from './sideboard.js';

const fitsOf = (made: Made) => new Map(made.joints.flatMap((j) => j.fits.map((f) => [f.fit, f] as const)));
const answers = (mallet: number) => [
  { rung: `x${mallet}`, felt: 'mallet' },
  { rung: `x${mallet + 1}`, felt: 'hand' },
  { rung: `x${mallet + 3}`, felt: 'rattles' },
];

describe('what was measured, in the program text read back', () => {
  it('follows rung answers that differ by 0.10 with every slot of the family, and moves no other wall and no part', async () => {
    const tight = await madeSideboard((j) => {
      j.ladder.answers = answers(1);
    });
    const loose = await madeSideboard((j) => {
      j.ladder.answers = answers(3);
    });
    expect(loose.laid.layout).toEqual(tight.laid.layout);
    const after = fitsOf(loose);
    let slots = 0;
    for (const [id, f] of fitsOf(tight)) {
      const g = after.get(id)!;
      if (f.kind === 'thickness' && f.width !== null) {
        slots++;
        expect(Math.abs(g.width! - f.width - 0.1), id).toBeLessThan(0.005);
      } else if (f.kind === 'thickness') expect(Math.abs(g.least! - f.least! - 0.05), id).toBeLessThan(0.005);
      else expect(g.least, id).toBe(f.least);
    }
    expect(slots).toBeGreaterThan(20);
  });

  it('moves no placement where slot and peg are typed as well', async () => {
    const plain = await madeSideboard();
    const measured = await madeSideboard((j) => {
      j.ladder.slots = [{ cut: '19.94 mm', measured: '19.90 mm' }];
      j.ladder.pegs = [{ cut: '19.94 mm', measured: '19.98 mm' }];
    });
    expect(measured.job.router.diameter).toBeCloseTo(5.93, 6);
    expect(measured.laid.layout).toEqual(plain.laid.layout);
    expect(measured.pass).toBe(true);
  });

  it('moves every path by half of what the cutter measures more, and no wall as cut', async () => {
    const before = await madeSideboard();
    const after = await madeSideboard((j) => {
      j.cutters[0].diameter = '6.07 mm';
    });
    const fits = fitsOf(after);
    // Reliefs follow the cutter and the layout its spacing; what mates must not.
    for (const [id, f] of fitsOf(before)) {
      const g = fits.get(id)!;
      if (f.width !== null) expect(Math.abs(g.width! - f.width), id).toBeLessThan(0.002);
    }
    expect(after.pass).toBe(true);
    // Half of 0.10: the path round the outline of a part lies so much further out.
    const reach = (made: Made, part: string) => {
      const board = made.boards.find((b) => b.items.some((i) => i.item === part))!;
      const item = board.items.find((i) => i.item === part)!;
      const box = ringBounds(item.part.outline.ring);
      const step = board.plan.workplan.steps.find((s) => s.item === part && s.feature.endsWith('outline'))!;
      const xs = board.plan.toolpath.moves.flatMap((m) => ('to' in m && m.from === step.id ? [m.to.x] : []));
      // The run along the left side; the way in lies further out.
      return box.minX - Math.max(...xs.filter((x) => x < box.minX));
    };
    expect(reach(after, 'S3') - reach(before, 'S3')).toBeCloseTo(0.05, 3);
  });

  it('cuts housings so much shallower as the ladder’s came out too deep, and nothing else otherwise', async () => {
    const before = await madeSideboard();
    const after = await madeSideboard((j) => {
      j.ladder.housing = { cut: '8 mm', measured: '8.12 mm' };
    });
    expect(after.pass).toBe(true);
    expect(after.laid.layout).toEqual(before.laid.layout);
    const deepest = (made: Made, feature: string) => {
      const board = made.boards.find((b) => b.items.some((i) => i.item === 'TOP'))!;
      const step = board.plan.workplan.steps.find((s) => s.feature === feature && s.kind !== 'hole')!;
      return Math.min(
        ...board.plan.toolpath.moves.flatMap((m) => ('to' in m && m.from === step.id ? [m.to.z] : [])),
      );
    };
    for (const h of ['TOP.h1', 'TOP.h2'])
      expect(deepest(after, h) - deepest(before, h), h).toBeCloseTo(0.12, 3);
    const fits = fitsOf(after);
    for (const [id, f] of fitsOf(before)) {
      const by = /TOP\.h\d:seat/.test(id) ? -0.12 : 0;
      expect(Math.abs(fits.get(id)!.least! - f.least! - by), id).toBeLessThan(0.002);
    }
  }, 120_000);

  it('cuts nothing with reliefs that let no corner in, until the job gives more', async () => {
    const corner = { felt: 'stands', form: 'diagonal', surplus: '0.1 mm' };
    const refused = await makeJob(sideboardJob((j) => Object.assign(j.ladder, { corner })));
    expect(refused.ok).toBe(false);
    expect(refused.diagnostics.filter((d) => d.level === 'error').map((d) => d.code)).toEqual([
      'ladder/corner-stands',
    ]);
  });

  it('gives two equal drawings different slots on a sheet of 17.6 on the left and 18.1 on the right', async () => {
    const made = await madeSideboard((j) => {
      const sheet = j.boards[0];
      const t = (x: number) => `${17.6 + (0.5 * x) / 2440} mm`;
      sheet.readings = [
        [50, 50],
        [1220, 50],
        [2390, 50],
        [2390, 610],
        [2390, 1170],
        [1220, 1170],
        [50, 1170],
        [50, 610],
      ].map(([x, y]) => ({ at: [`${x} mm`, `${y} mm`], thickness: t(x!) }));
      // Both dividers and both ends are one drawing each, but for their hand.
    });
    expect(made.pass).toBe(true);
    const truth = (x: number) => 17.6 + (0.5 * x) / 2440;
    const itemOf = new Map(
      made.boards.flatMap((b) => b.items.map((i) => [i.item, { board: b.board.id, part: i.part }] as const)),
    );
    const widths: number[] = [];
    for (const f of fitsOf(made).values()) {
      if (f.kind !== 'thickness' || f.width === null) continue;
      const entering = itemOf.get(f.enteringPart)!;
      if (entering.board !== 'sheet-1') continue;
      widths.push(f.width);
      // Whatever place of the plate it is that enters, its true thickness lies between that of the plate's two sides.
      const { minX, maxX } = ringBounds(entering.part.outline.ring);
      expect(f.width - truth(maxX), f.fit).toBeLessThan(0.13);
      expect(f.width - truth(minX), f.fit).toBeGreaterThan(0.07);
      expect(f.least!, f.fit).toBeGreaterThan(0.07);
      expect(f.most!, f.fit).toBeLessThan(0.13);
    }
    expect(Math.max(...widths) - Math.min(...widths)).toBeGreaterThan(0.1);
    // Both ends are one drawing, but for their hand: each gets the widths of the very tenon that enters it.
    let pairs = 0;
    for (const [id, left] of fitsOf(made)) {
      if (left.kind !== 'thickness' || left.width === null || left.slotPart !== 'EL') continue;
      const right = fitsOf(made).get(id.replaceAll('EL', 'ER'))!;
      const { minX, maxX } = ringBounds(itemOf.get(left.enteringPart)!.part.outline.ring);
      const ends = [truth(minX), truth(maxX)];
      const off = (a: number, b: number) =>
        Math.max(Math.abs(left.width! - a - 0.1), Math.abs(right.width! - b - 0.1));
      expect(Math.min(off(ends[0]!, ends[1]!), off(ends[1]!, ends[0]!)), id).toBeLessThan(0.03);
      if (maxX - minX > 600) {
        pairs++;
        expect(Math.abs(left.width - right.width!), id).toBeGreaterThan(0.1);
      }
    }
    expect(pairs).toBeGreaterThan(3);
  }, 120_000);
});

describe('the ladder of a job', () => {
  it('lies in the waste of the very layout that the joints are cut in, and is proved', async () => {
    const ladder = await makeLadder(sideboardJob());
    if (!ladder.ok) throw new Error(JSON.stringify(ladder.diagnostics));
    expect(ladder.value.pass).toBe(true);
    expect(ladder.value.board.id).toBe('sheet-1');
    expect([...ladder.value.files.keys()].sort()).toEqual([
      'ladder/sheet-1-ladder.dxf',
      'ladder/sheet-1-ladder.ngc',
      'ladder/sheet-1-ladder.svg',
      'ladder/sheet-1-rungs.svg',
    ]);
    const rungs = ladder.value.files.get('ladder/sheet-1-rungs.svg')!;
    for (const name of ['x1', 'x7', 'y1', 'y3', 'r1', 'h1', 'slot', 'peg'])
      expect(rungs).toContain(`>${name}<`);
    // The job's own corners and housings are tried in it: reliefs of its form, a floor as deep as most of its own.
    expect(ladder.value.ladder.relieved?.id).toBe('r1');
    expect(ladder.value.ladder.housing).toMatchObject({ id: 'h1', depth: 8 });
    const made = await madeSideboard();
    const depths = made.laid.fitted.parts.flatMap((p) => p.pockets.map((q) => q.depth));
    expect(new Set(depths)).toEqual(new Set([8]));
    const boxes = made.boards
      .find((b) => b.board.id === 'sheet-1')!
      .items.map((i) => ringBounds(i.part.outline.ring));
    for (const item of ladder.value.items) {
      const box = ringBounds(item.part.outline.ring);
      for (const other of boxes)
        expect(
          box.minX > other.maxX || box.maxX < other.minX || box.minY > other.maxY || box.maxY < other.minY,
        ).toBe(true);
    }
  });

  it('is asked for where the job says nothing of it, and refused for another board or cutter', async () => {
    const code = async (edit: (job: any) => void): Promise<string | undefined> => {
      try {
        await madeSideboard(edit);
      } catch (e) {
        return JSON.parse((e as Error).message).find((d: any) => d.level === 'error').code;
      }
      return undefined;
    };
    expect(await code((j) => void delete j.ladder)).toBe('job/no-ladder');
    expect(await code((j) => Object.assign(j.ladder, { board: 'sheet-9' }))).toBe('ladder/other-ladder');
    expect(await code((j) => Object.assign(j.ladder, { cutter: 'drill-5' }))).toBe('ladder/other-ladder');
  });

  it('speaks for its own material alone: slots in another want a ladder of their own, or a reason', async () => {
    const other = (j: any) => {
      j.boards[1].material = 'another plywood';
    };
    const refused = await makeJob(sideboardJob(other));
    const errors = refused.diagnostics.filter((d) => d.level === 'error');
    expect(errors.map((d) => d.code)).toEqual(['job/no-ladder-for-material']);
    expect(errors[0]!.message).toMatch(/'another plywood'.*M-BR-D1, M-BR-D2/);
    const reasoned = await madeSideboard((j) => {
      other(j);
      j.ladder = [j.ladder, { without: 'the off-cut is too small for a ladder', stock: 'off-cut-1' }];
    });
    expect(reasoned.pass).toBe(true);
    const own = await madeSideboard((j) => {
      other(j);
      j.ladder = [j.ladder, { ...j.ladder, board: 'off-cut-1', answers: answers(5).slice(0, 2) }];
    });
    expect(own.laid.layout).toEqual(reasoned.laid.layout);
    const after = fitsOf(own);
    // Rung x6 by hand is 0.20 where the reason leaves 0.10: the back rail's slots alone follow.
    for (const [id, f] of fitsOf(reasoned)) {
      if (f.kind !== 'thickness' || f.width === null) continue;
      expect(Math.abs(after.get(id)!.width! - f.width - (f.slotPart === 'BR' ? 0.1 : 0)), id).toBeLessThan(
        0.005,
      );
    }
  });

  it('names a board whose waste has no room for it', async () => {
    const ladder = await makeLadder(sideboardJob(), 'off-cut-1');
    // The back rail leaves a strip of 170 mm beside it.
    expect(ladder.ok ? 'room' : ladder.diagnostics.at(-1)?.code).toMatch(/room/);
    const small = await makeLadder(
      sideboardJob((j) => {
        j.boards.push({
          id: 'scrap',
          stock: 'scrap',
          width: '200 mm',
          height: '100 mm',
          readings: ['17.7 mm'],
        });
      }),
      'scrap',
    );
    expect(small.ok ? '' : small.diagnostics[0]?.code).toBe('ladder/no-room');
  });
});
