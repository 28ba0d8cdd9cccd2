import { type BookBoard, boardsOfBook, type DayBookEntry } from '@haunch/gauge';
import {
  type Remade,
  type RemakeRequest,
  type Report,
  ReportSchema,
  remakePart,
  reportOf,
} from '@haunch/job';
import type { Outcome } from '@haunch/model';
import { beforeAll, describe, expect, it } from 'vitest';
import { madeSideboard, sideboardJob } from './sideboard.js';

let report: Report;
beforeAll(async () => {
  report = reportOf(await madeSideboard());
}, 120_000);

const remake = (request: Omit<RemakeRequest, 'report'> & { report?: Report }, edit?: (job: any) => void) =>
  remakePart(sideboardJob(edit), { report, ...request });
const value = (made: Outcome<Remade>): Remade => {
  if (!made.ok) throw new Error(JSON.stringify(made.diagnostics, null, 1));
  return made.value;
};
const board = (id: string, width: number, height: number, readings: unknown[], stock = 'off-cut-1') => ({
  id,
  stock,
  width: `${width} mm`,
  height: `${height} mm`,
  grain: 'x',
  readings,
});
/** The record with one of its fits otherwise. */
const recordWith = (fit: string, change: object): Report => ({
  ...report,
  joints: report.joints.map((j) => ({
    ...j,
    fits: j.fits.map((f) => (f.fit === fit ? { ...f, ...change } : f)),
  })),
});

describe('a lost part made again', () => {
  it('is judged at the spot where it will lie: a sheet that is too thin below and too thick above does in its middle', async () => {
    // 17.0 at its lower edge, 17.6 at its upper one; the back rail, 80 mm high, was 17.3.
    const at = (x: number, y: number) => ({
      at: [`${x} mm`, `${y} mm`],
      thickness: `${17 + (0.6 * y) / 1220} mm`,
    });
    const places = [50, 610, 1170].flatMap((y) => [50, 1220, 2390].map((x) => at(x, y)));
    const made = value(
      await remake({ part: 'BR' }, (j) => j.boards.push(board('wedge', 2440, 1220, places))),
    );
    expect(made.pass).toBe(true);
    expect(made.board).toBe('wedge');
    for (const f of made.fits) {
      expect(f.clearance[0], f.fit).toBeGreaterThanOrEqual(f.window[0] - 1e-4);
      expect(f.clearance[1], f.fit).toBeLessThanOrEqual(f.window[1] + 1e-4);
      if (f.thickness !== null) expect(Math.abs(f.thickness - 17.3), f.fit).toBeLessThan(0.05);
    }
  });

  it('is refused with the figure from a board that does nowhere, and told which thickness would do', async () => {
    const made = await remake({ part: 'BR', board: 'thick' }, (j) =>
      j.boards.push(board('thick', 1100, 150, ['17.5 mm'])),
    );
    expect(made.diagnostics.map((d) => d.code)).toContain('lay/remake-none');
    expect(made.diagnostics.find((d) => d.code === 'lay/remake-none')!.hint).toContain('17.250 to 17.350 mm');
    const misfit = made.diagnostics.find((d) => d.code === 'lay/remake-misfit')!;
    expect(misfit.message).toMatch(
      /17\.500 mm thick where M-\S+ grips\) would have -0\.0\d+ mm of clearance/,
    );
  });

  it('is told that only its grain keeps it off a board, where it would go in across', async () => {
    const said = async (width: number, height: number) =>
      (
        await remake({ part: 'BR', board: 'narrow' }, (j) =>
          j.boards.push(board('narrow', width, height, ['17.3 mm'])),
        )
      ).diagnostics.map((d) => d.message);
    const across =
      'there is no room left for it on narrow with its grain along theirs; across it would go in';
    expect(await said(200, 1220)).toContain(across);
    expect(await said(200, 300)).toContain('there is no room left for it on narrow');
  });

  it('comes from an off-cut of the day book, by its sheet’s map, and from none that was cut or is gone', async () => {
    const when = '2026-11-25T10:00:00Z';
    const readings = [17.1, 17.5].flatMap((thickness, i) =>
      [50, 1170].map((y) => ({ thickness, at: { x: 50 + 2340 * i, y } })),
    );
    const sheet: DayBookEntry = {
      v: 2,
      kind: 'board',
      when,
      board: 'S9',
      stock: 'off-cut-1',
      width: 2440,
      height: 1220,
      readings,
    };
    const rest = (id: string, x: number, y: number): DayBookEntry => ({
      v: 2,
      kind: 'off-cut',
      when,
      board: id,
      parent: 'S9',
      width: 1100,
      height: 150,
      motion: { turnedOver: false, turn: Math.PI / 2, x, y },
    });
    const cut: DayBookEntry = {
      v: 2,
      kind: 'cut',
      when,
      job: 'j',
      board: 'S9',
      program: null,
      times: 1,
      runs: [],
    };
    const gone: DayBookEntry = { v: 2, kind: 'gone', when, board: 'O3' };
    const boards = (...e: DayBookEntry[]): BookBoard[] => [...boardsOfBook(e).values()];
    // Turned by a quarter: they stand upright in the sheet; the grain goes across them, so the job's grain is left out of it.
    const kept = {
      file: 'book.jsonl',
      boards: boards(
        { ...sheet, grain: 'none' },
        cut,
        rest('O1', 2300, 60),
        rest('O2', 1300, 60),
        rest('O3', 1300, 60),
        gone,
      ),
    };
    const made = value(await remake({ part: 'BR', kept }));
    expect([made.board, made.pass]).toEqual(['O2', true]);
    // 17.1 at x 50, 17.5 at x 2390: the off-cut from x 1150 to 1300 is the one of 17.3.
    expect(Math.max(...made.fits.map((f) => f.thickness ?? 0))).toBeLessThan(17.35);
    expect(made.passedOver.map((d) => [d.code, d.locus.board])).toEqual(
      expect.arrayContaining([
        ['lay/remake-spent', 'S9'],
        ['lay/remake-spent', 'O3'],
        ['lay/remake-misfit', 'O1'],
      ]),
    );
  });

  it('names goods of another stock and material when they are asked for', async () => {
    const made = await remake({ part: 'BR', board: 'oak' }, (j) =>
      j.boards.push(board('oak', 1100, 150, ['17.3 mm'], 'oak 18')),
    );
    expect(made.diagnostics.map((d) => d.code)).toContain('lay/remake-other-stock');
  });

  it('is compared at its ends as well: a mortise on record that came out too short refuses it with the figure', async () => {
    const fit = report.joints
      .flatMap((j) => j.fits)
      .find((f) => f.kind === 'ends' && f.enteringPart === 'S1')!;
    const spoiled = recordWith(fit.fit, { least: 0.01, most: 0.01 });
    const made = await remake({ part: 'S1', report: spoiled }, (j) =>
      j.boards.push(board('new', 2440, 400, ['17.70 mm'], 'sheet-1')),
    );
    const misfit = made.diagnostics.find((d) => d.code === 'lay/remake-misfit')!;
    expect(misfit.message).toMatch(/0\.0\d+ to 0\.01\d* mm between the ends|0\.010 mm between the ends/);
    expect(misfit.message).toContain(fit.fit.split(':')[0]!);
  });

  it('has its own slots cut for the plates on record, and moves nothing else', async () => {
    const edit = (j: any) => j.boards.push(board('new', 1220, 610, ['17.70 mm'], 'sheet-1'));
    const plain = value(await remake({ part: 'EL' }, edit));
    const two = report.joints
      .flatMap((j) => j.fits)
      .filter((f) => f.kind === 'thickness' && f.slotPart === 'EL' && f.width !== null);
    const thicker = two[0]!;
    // The plate that enters was 0.07 thicker there than the record of the rest has it.
    const grip = thicker.grip! + 0.07;
    const other = value(await remake({ part: 'EL', report: recordWith(thicker.fit, { grip }) }, edit));
    const widths = (m: Remade) => {
      const record = ReportSchema.parse(JSON.parse(m.files.get('EL-again.report.json')!));
      return new Map(record.joints.flatMap((j) => j.fits.map((f) => [f.fit, f.width] as const)));
    };
    const [a, b] = [widths(plain), widths(other)];
    expect(two.length).toBeGreaterThan(3);
    for (const f of two)
      expect(Math.abs(b.get(f.fit)! - a.get(f.fit)! - (f === thicker ? 0.07 : 0)), f.fit).toBeLessThan(0.005);
    for (const f of two) expect(Math.abs(a.get(f.fit)! - f.width!), f.fit).toBeLessThan(0.005);
    expect([plain.pass, other.pass]).toEqual([true, true]);
  });

  it('says where the record has no figure, and how far another thickness will show', async () => {
    const fit = report.joints.flatMap((j) => j.fits).find((f) => f.slotPart === 'TOP' && f.kind === 'ends')!;
    const made = await remake(
      { part: 'TOP', report: recordWith(fit.fit, { least: null, most: null }) },
      (j) => j.boards.push(board('new', 1500, 500, ['18.4 mm'], 'sheet-1')),
    );
    expect(value(made).pass).toBe(true);
    const said = (code: string) => made.diagnostics.find((d) => d.code === code)?.message;
    expect(said('lay/remake-no-record')).toContain(fit.fit);
    expect(said('lay/remake-other-thickness')).toMatch(
      /17\.699 mm thick and is 18\.400 mm .* back by 0\.701 mm/,
    );
  });

  it('leaves a record against which the next lost part is made', async () => {
    const edit = (j: any) => j.boards.push(board('new', 1220, 610, ['17.72 mm'], 'sheet-1'));
    const first = value(await remake({ part: 'EL' }, edit));
    const record = ReportSchema.parse(JSON.parse(first.files.get('EL-again.report.json')!));
    expect(record.parts.find((p) => p.id === 'EL')).toMatchObject({ board: 'new', thickness: 17.72 });
    // Its own board and those of the first make are spoken for.
    const next = await remake({ part: 'RL', report: record }, edit);
    expect(next.diagnostics.filter((d) => d.code === 'lay/remake-used').map((d) => d.locus.board)).toEqual([
      'sheet-1',
      'off-cut-1',
      'new',
    ]);
  });
});
