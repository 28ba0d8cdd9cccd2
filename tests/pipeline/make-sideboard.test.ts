import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findParts, readDxf } from '@haunch/drawing';
import { ringArea } from '@haunch/geometry';
import { type Made, type Outputs, outputsOf, ReportSchema } from '@haunch/job';
import DxfParser from 'dxf-parser';
import { beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../architecture/source-file.js';
import { madeSideboard } from './sideboard.js';

describe('the sideboard, from a sheet at 17.7 mm and an off-cut at 17.3 mm', () => {
  let made: Made;
  let outputs: Outputs;
  beforeAll(async () => {
    made = await madeSideboard();
    outputs = outputsOf(made);
  }, 120_000);

  it('is proved: every rule passes and all 23 joints are as wanted', () => {
    expect(made.boards.flatMap((b) => b.proof.rules.filter((r) => r.verdict === 'fail'))).toEqual([]);
    expect(made.joints).toHaveLength(23);
    expect(made.joints.filter((j) => j.verdict !== 'as wanted')).toEqual([]);
    expect(made.pass).toBe(true);
  });

  it('cuts every slot to the real thickness of the plate that enters it plus the clearance, within 2 µm', () => {
    const slots = made.joints
      .flatMap((j) => j.fits)
      .filter((f) => f.kind === 'thickness' && f.width !== null);
    expect(slots.length).toBeGreaterThanOrEqual(25);
    for (const f of slots) {
      const thickness = f.enteringPart === 'BR' ? 17.3 : 17.7;
      expect(Math.abs(f.width! - (thickness + 0.1)), f.fit).toBeLessThanOrEqual(0.002);
    }
  });

  it('puts the back rail on the off-cut and everything else on the sheet', () => {
    expect(made.boards.map((b) => [b.board.id, b.items.length])).toEqual([
      ['sheet-1', 10],
      ['off-cut-1', 1],
    ]);
    expect(made.boards[1]!.items[0]!.item).toBe('BR');
  });

  it('holds each part by the tabs that the job asks for, counted in the text', () => {
    for (const p of made.boards.flatMap((b) => b.proof.parts))
      expect(p.tabs, p.item).toBeGreaterThanOrEqual(p.tabsWanted);
  });

  it('writes the files it promises, and a report that its schema accepts', () => {
    expect([...outputs.files.keys()].sort()).toEqual(
      [
        'layouts/off-cut-1.dxf',
        'layouts/off-cut-1.order.svg',
        'layouts/off-cut-1.svg',
        'layouts/sheet-1.dxf',
        'layouts/sheet-1.order.svg',
        'layouts/sheet-1.svg',
        'off-cuts.json',
        'programs/off-cut-1.ngc',
        'programs/sheet-1.ngc',
        'replays/off-cut-1.html',
        'replays/sheet-1.html',
        'report.html',
        'report.json',
        ...['BR', 'D1', 'D2', 'EL', 'ER', 'PL', 'RL', 'S1', 'S2', 'S3', 'TOP'].map((p) => `parts/${p}.dxf`),
      ].sort(),
    );
    const report = JSON.parse(outputs.files.get('report.json')!);
    expect(ReportSchema.safeParse(report).error?.issues ?? []).toEqual([]);
  });

  it('draws layouts that an independent reader takes as closed polylines on layers named by part', () => {
    const drawing = new DxfParser().parseSync(outputs.files.get('layouts/sheet-1.dxf')!)!;
    const ids = made.boards[0]!.items.map((i) => i.item);
    const polylines = drawing.entities.filter((e) => e.type === 'LWPOLYLINE') as unknown as {
      layer: string;
      shape: boolean;
    }[];
    expect(polylines.every((p) => p.shape)).toBe(true);
    expect([...new Set(polylines.map((p) => p.layer.split('.')[0]))].sort()).toEqual([...ids].sort());
  });

  it('draws layouts that read back to the parts as laid', () => {
    const drawing = readDxf(outputs.files.get('layouts/sheet-1.dxf')!);
    if (!drawing.ok) throw new Error('unreadable');
    const parts = findParts(drawing.value);
    if (!parts.ok) throw new Error(JSON.stringify(parts.diagnostics));
    for (const { item, part } of made.boards[0]!.items) {
      const again = parts.value.find((p) => p.id === item)!;
      expect(ringArea(again.outline.ring)).toBeCloseTo(ringArea(part.outline.ring), 2);
      expect(again.through).toHaveLength(part.through.length);
      // The mean of the part where it lies on the sheet, which goes from 17.68 to 17.72.
      expect(Math.abs(again.thickness! - 17.7)).toBeLessThan(0.02);
    }
  });

  it('names the workingstep of every line that cuts, and every cut comes from a step of the plan', () => {
    const { program, programs, plan } = made.boards[0]!;
    const steps = new Set(plan.workplan.steps.map((s) => s.id));
    const used = new Set<string>();
    for (const index of program.lineMoves) {
      if (index === null) continue;
      const move = programs[0]!.toolpath.moves[index]!;
      if (move.kind === 'linear' || move.kind === 'circular') {
        expect(steps.has(move.from), move.from).toBe(true);
        used.add(move.from);
      }
    }
    expect([...steps].filter((s) => !used.has(s))).toEqual([]);
  });

  it('says no word of time, machine or place, so that the same job gives the same bytes', async () => {
    // An edit that changes nothing: made anew, not the shared one.
    const again = outputsOf(await madeSideboard(() => {}));
    for (const [name, text] of outputs.files) expect(again.files.get(name) === text, name).toBe(true);
    for (const text of outputs.files.values())
      expect(text).not.toMatch(new RegExp(`20\\d\\d-\\d\\d-\\d\\d|${ROOT.replaceAll('/', '\\/')}`));
  }, 120_000);

  it('a report page opens without anything from outside', () => {
    const page = outputs.files.get('report.html')!;
    // Its replay and its turntable are scripts of its own; none loads anything.
    expect(page).toContain('<script>');
    expect(page).not.toMatch(
      /<script[^>]*\ssrc|<link|\ssrc=["'](?!data:)|@import|url\((?!#)|\bfetch\(|XMLHttpRequest|\bimport\(/,
    );
    expect(page).toContain('local safety codes');
  });

  it('ships the demo it documents', () => {
    const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
    expect(readme).toContain('docs/examples/sideboard/job.json');
  });
});
